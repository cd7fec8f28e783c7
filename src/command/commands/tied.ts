import { asked, headingNamed, kindsAsked, open } from '../asked';
import type { Told } from '../told';
import { Refusal } from '../refusal';
import { entryLines, KIND_NAMES, wrapped } from '../say';

export async function run(args: string[]): Promise<Told> {
  const ask = asked(args, { kind: 'many', narrower: 'flag' });
  const name = ask.words.join(' ');
  if (!name) throw new Refusal('wrong-use', 'Say to what: tied HEADING.');
  const engine = await open(ask.path);
  const heading = headingNamed(engine, name);
  const found = engine.tied(heading.id, {
    narrower: ask.flag('narrower'),
    kinds: kindsAsked(ask.many('kind')),
  });
  const lines = [
    `${found.entries.length} tied to ${heading.name}`,
    ...found.entries.flatMap((row) => entryLines(row, [])),
    '',
    `${found.proposed.length} that probably should be`,
    ...found.proposed.flatMap((proposal) => [
      '',
      `${KIND_NAMES[proposal.kind]}, ${proposal.certainty === 'guess' ? 'a guess' : proposal.certainty}`,
      ...wrapped(proposal.text, '  '),
      ...wrapped(`${proposal.reasons.join('; ')}  (${proposal.id})`, '    '),
    ]),
  ];
  return { answer: found, text: lines.join('\n'), exit: found.entries.length > 0 ? 0 : 1 };
}
