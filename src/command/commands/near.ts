import type { EntryId, HeadingId } from '../../journal/records';
import { asked, headingNamed, open } from '../asked';
import type { Told } from '../told';
import { Refusal } from '../refusal';
import { KIND_NAMES, wrapped } from '../say';
import type { NearHit } from '../../engine/answers';
import { keepLearning } from '../../engine/learning';

/** In so many entries what words mean is learnt in about a second; in more, words and ties alone tell what is near. */
const LEARN_UP_TO = 2000;

function hitLines(hit: NearHit): string[] {
  const kind = hit.type === 'entry' ? KIND_NAMES[hit.kind as keyof typeof KIND_NAMES] : hit.kind;
  return [
    '',
    kind,
    ...wrapped(hit.text, '  '),
    ...wrapped(`${hit.reasons.join('; ')}  (${hit.id})`, '    '),
  ];
}

export async function run(args: string[]): Promise<Told> {
  const ask = asked(args, { text: 'text', limit: 'number' });
  const free = ask.one('text');
  const [name] = ask.words;
  if (!free && !name)
    throw new Refusal('wrong-use', 'Say near what: near ID, or near --text WORDS.');
  const limit = ask.number('limit', 1, 1000) ?? 12;
  const engine = await open(ask.path);
  const seeds = (): { entries: EntryId[] } | { headings: HeadingId[] } | { text: string } => {
    if (free) return { text: [free, ...ask.words].join(' ') };
    const id = ask.words.join(' ');
    if (engine.journal.tables.entries.has(id)) return { entries: [id as EntryId] };
    return { headings: [headingNamed(engine, id).id] };
  };
  const asking = seeds();
  if (engine.journal.tables.entries.size <= LEARN_UP_TO)
    await keepLearning(engine, () => Promise.resolve());
  const hits = engine.near({ ...asking, limit });
  return {
    answer: { hits },
    text:
      hits.length > 0 ? hits.flatMap(hitLines).join('\n').trimStart() : 'Nothing is near it yet.',
    exit: hits.length > 0 ? 0 : 1,
  };
}
