import { JOURNAL_KINDS, publishJournal, type JournalKind } from '../../engine/publishing-journal';
import { asked, open } from '../asked';
import { saveWhole } from '../journal-on-disk';
import type { Told } from '../told';
import { facesFromPackages, outAsked, printingAsked } from '../printing';
import { Refusal } from '../refusal';

function kindNamed(text: string | undefined): JournalKind {
  const kind = JOURNAL_KINDS.find((known) => known === text?.toLowerCase());
  if (kind) return kind;
  const kinds = JOURNAL_KINDS.join(', ');
  throw new Refusal(
    'wrong-use',
    text === undefined
      ? `Say what to publish, publish KIND --out FILE; the kinds are: ${kinds}.`
      : `“${text}” is no kind of publication; the kinds are: ${kinds}.`,
  );
}

/** Writes the journal in an open format, or as a read-only copy for a family. The journal file is not changed. */
export async function run(args: string[]): Promise<Told> {
  const ask = asked(args, { paper: 'text', preset: 'text', out: 'text' });
  const [name, ...more] = ask.words;
  const kind = kindNamed(name);
  if (more.length > 0)
    throw new Refusal('wrong-use', `“${more.join(' ')}” is not understood; name one kind.`);
  const out = outAsked(ask);
  if (!out) throw new Refusal('wrong-use', `Say where to: publish ${kind} --out FILE.`);
  const { paper, preset } = printingAsked(ask);
  const engine = await open(ask.path);
  const around = { now: engine.around.now, faces: facesFromPackages };
  const file = await publishJournal(engine.journal, kind, around, { paper, preset });
  await saveWhole(out, file.bytes);
  const text = [`${file.holds} written to ${out}.`, ...file.said].join('\n');
  return { answer: { written: out }, text };
}
