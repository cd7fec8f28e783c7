/** A journal of any number of books whose themes hang together in strands, with names as long as real ones, for cloths and maps of any size. */
import { emptyJournal } from '../../src/journal/journal';
import {
  ENTRY_KINDS,
  type Entry,
  type EntryId,
  type HeadingId,
  type Journal,
  type Tie,
} from '../../src/journal/records';
import { seeded } from './many-entries';

const hex = (value: number, width: number): string => value.toString(16).padStart(width, '0');
const idAt = (ms: number, n: number): string => {
  const time = hex(ms, 12);
  return `${time.slice(0, 8)}-${time.slice(8)}-7000-8${hex(n % 4096, 3)}-${hex(n, 12)}`;
};
const WHOSE = 'The Keeper’s,Our,The Long,A Quiet,The Last,My Father’s,The Other,Winter’s'.split(
  ',',
);
const WHAT =
  'Garden,Harbour,Letters,Voyage,Orchard,House,Bread,Storm,Schoolroom,Island,Lantern,River,Promise,Clock,Map,Winter'.split(
    ',',
  );
const THEME =
  'courage,learning to read,being a stranger,work of the hands,weather and the sea,what is owed,brothers and sisters,keeping a promise,growing up,hunger and bread,time,names'.split(
    ',',
  );

export interface WovenSize {
  books: number;
  themes: number;
  strands: number;
  /** Entries of each book. */
  each: number;
}

/** Entries written over fifteen years up to 2025; each book lies in one strand, and every sixth of its entries reaches into another. */
export function wovenJournal({ books, themes, strands, each }: WovenSize, seed = 7): Journal {
  const random = seeded(seed);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
  const begun = Date.UTC(2011, 0, 1);
  const until = Date.UTC(2025, 11, 1);
  const journal = emptyJournal(idAt(begun, 0), `${books} books`, new Date(begun).toISOString());
  let n = 1;
  const fresh = (ms = begun): string => idAt(Math.floor(ms), n++);
  const put = (name: string, more: object): HeadingId => {
    const id = fresh() as HeadingId;
    journal.tables.headings.set(id, { id, name, alternates: [], ...more } as never);
    return id;
  };
  const numbered = (name: string, at: number, of: number): string =>
    at < of ? name : `${name} ${Math.floor(at / of) + 1}`;
  const themeIds = Array.from({ length: themes }, (_, at) =>
    put(numbered(THEME[at % THEME.length]!, at, THEME.length), {
      kind: 'theme',
      broader: [],
      related: [],
    }),
  );
  for (let at = 0; at < books; at++) {
    const name = `${WHOSE[at % WHOSE.length]} ${WHAT[(at * 5 + Math.floor(at / 8)) % WHAT.length]}`;
    const strand = at % strands;
    const book = put(numbered(name, at, 128), {
      kind: 'book',
      authors: [],
      published: String(1850 + Math.floor(random() * 170)),
    });
    const read = begun + ((until - begun) * at) / books;
    for (let one = 0; one < each; one++) {
      const written = new Date(read + random() * 5e9).toISOString();
      const away = random() < 1 / 6;
      const among = themeIds.filter((_, t) => t % strands === strand);
      const ties: Tie[] = [book, pick(away ? themeIds : among)].map((heading, which) => ({
        heading,
        role: which === 0 ? 'from' : 'about',
        by: 'reader',
      }));
      const id = fresh(read) as EntryId;
      const kind = ENTRY_KINDS[Math.floor(random() ** 2 * ENTRY_KINDS.length)]!;
      const text = `${pick(WHAT)} and ${pick(THEME)}, page ${one + 1} of ${name}.`;
      const times = { written: written.slice(0, 10), added: written, changed: written };
      journal.tables.entries.set(id, { id, kind, text, ties, ...times } satisfies Entry);
    }
  }
  return journal;
}
