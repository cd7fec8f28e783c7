import { asked, circleNamed, dateAsked, headingNamed, kindsAsked, open } from '../asked';
import { Refusal } from '../refusal';
import { entryLines } from '../say';
import type { Told } from '../told';

export async function run(args: string[]): Promise<Told> {
  const ask = asked(args, {
    kind: 'many',
    theme: 'many',
    book: 'many',
    person: 'many',
    from: 'text',
    to: 'text',
    'unused-with': 'text',
    'only-my-words': 'flag',
    limit: 'number',
  });
  const text = ask.words.join(' ');
  const named = ['kind', 'theme', 'book', 'person', 'from', 'to', 'unused-with'];
  const narrowed = named.some((name) => ask.one(name) !== undefined);
  if (!text.trim() && !narrowed) throw new Refusal('wrong-use', 'Say what to find: find WORDS...');
  const engine = await open(ask.path);
  const ids = (name: 'theme' | 'book' | 'person') =>
    ask.many(name).map((heading) => headingNamed(engine, heading, name).id);
  const circle = ask.one('unused-with');
  const from = dateAsked(ask.one('from'));
  const to = dateAsked(ask.one('to'));
  const found = engine.find({
    text,
    kinds: kindsAsked(ask.many('kind')),
    themes: ids('theme'),
    books: ids('book'),
    people: ids('person'),
    ...(from ? { from } : {}),
    ...(to ? { to } : {}),
    ...(circle ? { use: { unusedWith: circleNamed(engine, circle).id } } : {}),
    onlyMyWords: ask.flag('only-my-words'),
    limit: ask.number('limit', 1, 10_000) ?? 20,
  });
  const { total, hits, facets, alsoLookedFor } = found;
  const { kind, theme, book, person, year } = facets;
  const answer = {
    total,
    hits: hits.map(({ id, kind, text, score, why, ties }) => ({
      id,
      kind,
      text,
      score,
      why,
      ties,
    })),
    facets: { kind, theme, book, person, year },
    alsoLookedFor,
  };
  const lines = [
    `${total} ${total === 1 ? 'entry' : 'entries'}${alsoLookedFor.length > 0 ? `; also looked for ${alsoLookedFor.join(', ')}` : ''}`,
    ...hits.flatMap((hit) => entryLines(hit, hit.why)),
  ];
  if (total === 0) {
    lines.push(
      ...found.loosen
        .filter(({ without }) => without > 0)
        .map(
          ({ word, alone, without }) =>
            `${without} ${alone ? 'with' : 'without'} “${word}”${alone ? ' alone' : ''}`,
        ),
    );
  }
  return { answer, text: lines.join('\n'), exit: total === 0 ? 1 : 0 };
}
