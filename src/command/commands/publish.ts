import { publishBook, type BookHow } from '../../engine/publishing-book';
import { JOURNAL_KINDS, publishJournal, type JournalKind } from '../../engine/publishing-journal';
import type { Engine } from '../../engine/engine';
import type { Faces } from '../../engine/publishing';
import type { HeadingId } from '../../journal/records';
import { asked, headingNamed, open, type Asked } from '../asked';
import { saveWhole } from '../journal-on-disk';
import type { Told } from '../told';
import { endingOf, facesFromPackages, outAsked, printingAsked } from '../printing';
import { Refusal } from '../refusal';

const KINDS = [...JOURNAL_KINDS, 'book'] as const;

function kindNamed(text: string | undefined): JournalKind | 'book' {
  const kind = KINDS.find((known) => known === text?.toLowerCase());
  if (kind) return kind;
  const kinds = KINDS.join(', ');
  throw new Refusal(
    'wrong-use',
    text === undefined
      ? `Say what to publish, publish KIND --out FILE; the kinds are: ${kinds}.`
      : `“${text}” is no kind of publication; the kinds are: ${kinds}.`,
  );
}

/** Writes the journal in an open format, as a read-only copy for a family, or as a book. The journal file is not changed. */
export async function run(args: string[]): Promise<Told> {
  const ask = asked(args, {
    paper: 'text',
    preset: 'text',
    out: 'text',
    year: 'number',
    book: 'text',
    theme: 'text',
    person: 'text',
  });
  const [name, ...more] = ask.words;
  const kind = kindNamed(name);
  if (more.length > 0)
    throw new Refusal('wrong-use', `“${more.join(' ')}” is not understood; name one kind.`);
  const out = await outAsked(ask);
  if (!out) throw new Refusal('wrong-use', `Say where to: publish ${kind} --out FILE.`);
  const { paper, preset } = printingAsked(ask);
  const around = { now: () => new Date(), faces: facesFromPackages };
  if (kind === 'book') return bookWritten(ask, out, around, { paper, preset });
  const part = ['year', ...HEADINGS].find((one) => ask.one(one) !== undefined);
  if (part) throw new Refusal('wrong-use', `--${part} goes with publish book.`);
  const engine = await open(ask.path);
  const file = await publishJournal(engine.journal, kind, around, { paper, preset });
  await saveWhole(out, file.bytes);
  const text = [`${file.holds} written to ${out}.`, ...file.said].join('\n');
  return { answer: { written: out }, text };
}

const HEADINGS = ['book', 'theme', 'person'] as const;

function headingAsked(engine: Engine, ask: Asked): { heading?: HeadingId } {
  const named = HEADINGS.filter((one) => ask.one(one) !== undefined);
  if (named.length > 1)
    throw new Refusal('wrong-use', `Name one of ${named.map((one) => `--${one}`).join(' and ')}.`);
  const kind = named[0];
  return kind ? { heading: headingNamed(engine, ask.one(kind)!, kind).id } : {};
}

async function bookWritten(
  ask: Asked,
  out: string,
  around: { now: () => Date; faces: Faces },
  how: Pick<BookHow, 'paper' | 'preset'>,
): Promise<Told> {
  const format = endingOf(out);
  if (format !== 'pdf' && format !== 'html')
    throw new Refusal('wrong-use', 'publish book --out takes a name that ends in pdf or html.');
  const year = ask.number('year', 1, 9999);
  const engine = await open(ask.path);
  const of = { ...headingAsked(engine, ask), ...(year === undefined ? {} : { year }) };
  const made = await publishBook(engine.journal, of, around, { ...how, format });
  if (!made.ok) {
    if (made.code !== 'nothing') throw new Refusal(made.code, made.message);
    return { answer: {}, text: made.message, exit: 1 };
  }
  await saveWhole(out, made.file.bytes);
  const text = [`${made.file.holds} written to ${out}.`, ...made.file.said].join('\n');
  return { answer: { written: out }, text };
}
