/** A journal of any size made from seeded words, for measuring. Word frequencies fall as in running text (Zipf). */
import { emptyJournal } from '../../src/journal/journal';
import type {
  BookHeading,
  Entry,
  EntryId,
  EntryKind,
  HeadingId,
  Journal,
  PersonHeading,
  ThemeHeading,
  Tie,
} from '../../src/journal/records';
import { ENTRY_KINDS } from '../../src/journal/records';

/** Mulberry32: a small seeded generator of numbers in [0, 1). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

const SYLLABLES =
  'ba be bi bo bu da de di do du fa fe fi ga ge go ha he hi ho ka ke ki ko la le li lo lu ma me mi mo mu na ne ni no nu pa pe pi po ra re ri ro ru sa se si so su ta te ti to tu va ve vi wa we wi'.split(
    ' ',
  );

const hex = (value: number, width: number): string => value.toString(16).padStart(width, '0');
const idAt = (ms: number, n: number): string => {
  const time = hex(ms, 12);
  return `${time.slice(0, 8)}-${time.slice(8)}-7000-8${hex(n % 4096, 3)}-${hex(n, 12)}`;
};

/** `entries` entries over 15 years, a book to about 30 of them, 300 themes, 400 people, about five ties each. */
export function manyEntries(entries: number, seed = 7): Journal {
  const random = seeded(seed);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
  const word = (n: number): string => {
    const local = seeded(n + 1);
    const count = 2 + Math.floor(local() * 3);
    return Array.from(
      { length: count },
      () => SYLLABLES[Math.floor(local() * SYLLABLES.length)]!,
    ).join('');
  };
  const vocabulary = Array.from({ length: 24_000 }, (_, n) => word(n));
  const zipf = (): string =>
    vocabulary[
      Math.min(vocabulary.length - 1, Math.floor(Math.exp(random() * Math.log(vocabulary.length))))
    ]!;
  const begun = Date.UTC(2010, 0, 1);
  const journal = emptyJournal(idAt(begun, 0), 'Many', new Date(begun).toISOString());
  let n = 1;
  const headings = <T>(count: number, make: (id: HeadingId, at: number) => T): T[] =>
    Array.from({ length: count }, (_, at) => make(idAt(begun, n++) as HeadingId, at));
  const title = (): string => `${zipf()} ${zipf()}`.replace(/^./, (letter) => letter.toUpperCase());
  const people = headings(400, (id): PersonHeading => ({
    id,
    kind: 'person',
    name: title(),
    alternates: [],
    roles: ['character'],
  }));
  const books = headings(Math.max(20, Math.floor(entries / 30)), (id): BookHeading => ({
    id,
    kind: 'book',
    name: title(),
    alternates: [],
    authors: [pick(people).id],
  }));
  const themes = headings(300, (id): ThemeHeading => ({
    id,
    kind: 'theme',
    name: zipf(),
    alternates: [],
    broader: [],
    related: [],
  }));
  for (const heading of [...people, ...books, ...themes])
    journal.tables.headings.set(heading.id, heading);
  const span = 15 * 365 * 86_400_000;
  for (let at = 0; at < entries; at++) {
    const ms = begun + Math.floor((at / entries) * span);
    const text = `${Array.from({ length: 20 + Math.floor(random() * 50) }, zipf).join(' ')}.`;
    const ties: Tie[] = [
      {
        heading: pick(books).id,
        role: 'from',
        by: 'reader',
        place: { chapter: String(1 + Math.floor(random() * 30)) },
      },
    ];
    for (let t = 0; t < 2; t++)
      ties.push({
        heading: themes[Math.floor(random() ** 2 * themes.length)]!.id,
        role: 'about',
        by: 'reader',
      });
    for (let p = 0; p < 2; p++)
      ties.push({ heading: pick(people).id, role: 'about', by: 'reader' });
    const when = new Date(ms).toISOString();
    const entry: Entry = {
      id: idAt(ms, n++) as EntryId,
      kind: pick(ENTRY_KINDS) as EntryKind,
      text,
      ties: [...new Map(ties.map((tie) => [tie.heading, tie])).values()],
      written: when.slice(0, 10),
      added: when,
      changed: when,
    };
    journal.tables.entries.set(entry.id, entry);
  }
  return journal;
}
