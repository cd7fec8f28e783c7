/** The cloth: books upright, themes flat, and what lies where they cross. */
import type { BookHeading, Heading, HeadingId, ThemeHeading } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { compareFiling } from '../language/filing';
import { KINDS, type ClothTable, type Crossings } from '../weave/cloth-table';
import { byLikeness } from '../weave/seriation';
import {
  bookKey,
  filesBy,
  firstRead,
  fold,
  shortName,
  yearOfBook,
  type BookFold,
  type BookOrder,
  type Laid,
  type ThemeFold,
  type ThemeOrder,
} from '../weave/threads';
import type { Core } from './core';
import { strandsNow } from './strands-held';
import type { ClothAsk, ClothThread, ClothView, StrandsView } from './weave-answers';

/** More threads than this are folded when nobody has said how. */
const MOST_UNFOLDED = 60;
/** More wide threads than this are folded once more. */
const MOST_YEARS = 40;

/** What holds until the next edit: who is on the cloth, and the orders that were asked for. */
interface Base {
  /** Of entries and headings. */
  edits: number;
  /** Of the journal: when books were read changes with readings too. */
  revision: number;
  books: BookHeading[];
  themes: ThemeHeading[];
  bare: ClothView['bare'];
  orders: Map<string, HeadingId[]>;
  /** When each book was first read, as far as it has been asked. */
  read: Map<HeadingId, string | undefined>;
  whole?: Crossings;
}
const bases = new WeakMap<Core, Base>();

export function clothView(core: Core, ask: ClothAsk): ClothView {
  const base = baseOf(core);
  const strands = strandsNow(core, ask.strands);
  const { books: byBook = 'read', themes: byTheme = 'strand', span } = ask;
  const strandOf = strandsByHeading(strands);
  const open = new Set(ask.open);
  const folded = foldsFor(core, base, byBook, ask);
  const bookKeyOf = bookFolds(core, base, byBook, folded.books, strandOf);
  const themeKeyOf = (id: HeadingId): string | undefined =>
    folded.themes === 'strand' ? strandKey(strandOf.get(id)) : undefined;
  const shut = folded.themes === 'strand' && !(ask.open ?? []).some((key) => STRAND_KEY.test(key));
  const inside = shut ? 'name' : 'likeness';
  const books = fold(bookOrder(core, base, byBook), bookKeyOf, open);
  const themes = fold(themeOrder(core, base, byTheme, strands, inside), themeKeyOf, open);
  const crossings = counted(core.weaveIndex.cloth, themes, books, span);
  const names = new Map(strands.strands.map(({ id, name }) => [id, name]));
  const thread = (laid: Laid, at: number, counts: Uint32Array): ClothThread =>
    threadShown(core, laid, at, counts, { base, byBook, names, strandOf });
  return {
    books: books.map((laid, at) => thread(laid, at, crossings.columnCounts)),
    themes: themes.map((laid, at) => thread(laid, at, crossings.rowCounts)),
    starts: crossings.starts,
    at: crossings.at,
    counts: crossings.counts,
    strands,
    folded,
    history: historyOf(core.weaveIndex.cloth),
    bare: base.bare,
    totals: {
      books: base.books.length,
      themes: base.themes.length,
      entries: core.journal.tables.entries.size,
    },
  };
}

function baseOf(core: Core): Base {
  const held = bases.get(core);
  if (held?.edits === core.weaveIndex.edits) return readAnew(core, held);
  const books: BookHeading[] = [];
  const themes: ThemeHeading[] = [];
  const bare = { books: 0, themes: 0 };
  const { journal } = core;
  for (const heading of journal.tables.headings.values()) {
    if (heading.kind === 'person') continue;
    const holds = entriesTiedTo(journal, heading.id).size > 0;
    if (!holds) bare[heading.kind === 'book' ? 'books' : 'themes'] += 1;
    else if (heading.kind === 'book') books.push(heading);
    else themes.push(heading);
  }
  const byId = (a: Heading, b: Heading): number => (a.id < b.id ? -1 : 1);
  books.sort(byId);
  themes.sort(byId);
  const base: Base = {
    edits: core.weaveIndex.edits,
    revision: core.revision,
    books,
    themes,
    bare,
    orders: new Map(),
    read: new Map(),
  };
  bases.set(core, base);
  return base;
}

/** Lets go of what readings tell, where anything has changed. */
function readAnew(core: Core, base: Base): Base {
  if (base.revision === core.revision) return base;
  base.revision = core.revision;
  base.read.clear();
  base.orders.delete('books read');
  return base;
}

function readOn(core: Core, base: Base, id: HeadingId): string | undefined {
  if (!base.read.has(id)) base.read.set(id, firstRead(core.journal, id));
  return base.read.get(id);
}

const yearOf = (core: Core, base: Base, book: BookHeading, by: BookOrder): number | undefined =>
  yearOfBook(book, by, by === 'published' ? undefined : readOn(core, base, book.id));

/** Crossings of single themes and books over the whole of time, in order of ids: what orders are made from. */
function wholeOf(core: Core, base: Base): Crossings {
  const laid = (headings: readonly Heading[]): Laid[] =>
    headings.map(({ id }) => ({ id, headings: [id] }));
  return (base.whole ??= counted(core.weaveIndex.cloth, laid(base.themes), laid(base.books)));
}

function counted(
  table: ClothTable,
  themes: readonly Laid[],
  books: readonly Laid[],
  span?: ClothAsk['span'],
): Crossings {
  const places = (threads: readonly Laid[]): Map<HeadingId, number> =>
    new Map(threads.flatMap(({ headings }, at) => headings.map((id) => [id, at] as const)));
  const [rows, columns] = [places(themes), places(books)];
  return table.count(
    { rows: themes.length, columns: books.length },
    (id) => rows.get(id),
    (id) => columns.get(id),
    span,
  );
}

const remembered = (base: Base, key: string, make: () => HeadingId[]): HeadingId[] => {
  const held = base.orders.get(key);
  if (held) return held;
  const made = make();
  base.orders.set(key, made);
  return made;
};

function sortedBy<H extends Heading>(
  headings: readonly H[],
  key: (heading: H) => string,
): HeadingId[] {
  return headings
    .map((heading) => ({ id: heading.id, key: key(heading) }))
    .sort((a, b) => compareFiling(a.key, b.key) || (a.id < b.id ? -1 : 1))
    .map(({ id }) => id);
}

function bookOrder(core: Core, base: Base, by: BookOrder): HeadingId[] {
  return remembered(base, `books ${by}`, () =>
    by === 'likeness'
      ? byLikeness(wholeOf(core, base), 'columns').map((at) => base.books[at]!.id)
      : sortedBy(base.books, (book) => bookKey(book, by, readOn(core, base, book.id))),
  );
}

function themeOrder(
  core: Core,
  base: Base,
  by: ThemeOrder,
  strands: StrandsView,
  inside: 'likeness' | 'name',
): HeadingId[] {
  const plain = (order: Exclude<ThemeOrder, 'strand'>): HeadingId[] =>
    remembered(base, `themes ${order}`, () => {
      if (order === 'name') return sortedBy(base.themes, filesBy);
      if (order === 'likeness') {
        return byLikeness(wholeOf(core, base), 'rows').map((at) => base.themes[at]!.id);
      }
      const size = (id: HeadingId): number => entriesTiedTo(core.journal, id).size;
      return sortedBy(base.themes, filesBy).sort((a, b) => size(b) - size(a));
    });
  if (by !== 'strand') return plain(by);
  // Inside a strand like themes lie side by side, where they are seen; what is in no strand comes last.
  const place = new Map(strands.strands.map(({ id }, at) => [id, at]));
  const strandOf = strandsByHeading(strands);
  const of = (id: HeadingId): number => place.get(strandOf.get(id) ?? '') ?? Infinity;
  const order = plain(inside);
  return order
    .map((id, at) => ({ id, at, of: of(id) }))
    .sort((a, b) => (a.of === b.of ? a.at - b.at : a.of - b.of))
    .map(({ id }) => id);
}

function strandsByHeading({ strands }: StrandsView): Map<HeadingId, string> {
  return new Map(
    strands.flatMap(({ id, themes, books, people }) =>
      [...themes, ...books, ...people].map((heading) => [heading.id, id] as const),
    ),
  );
}

function foldsFor(
  core: Core,
  base: Base,
  by: BookOrder,
  ask: ClothAsk,
): { books: BookFold; themes: ThemeFold } {
  const usual = (): BookFold => {
    if (base.books.length <= MOST_UNFOLDED) return 'each';
    if (by === 'likeness') return 'strand';
    const years = new Set(base.books.map((book) => yearOf(core, base, book, by)));
    return years.size <= MOST_YEARS ? 'year' : 'decade';
  };
  return {
    books: ask.foldBooks ?? usual(),
    themes: ask.foldThemes ?? (base.themes.length <= MOST_UNFOLDED ? 'each' : 'strand'),
  };
}

/** Keys of folds that {@link strandKey} gives. */
const STRAND_KEY = /^(?:strand:|no-strand$)/;
const strandKey = (strand: string | undefined): string =>
  strand === undefined ? 'no-strand' : `strand:${strand}`;

function bookFolds(
  core: Core,
  base: Base,
  by: BookOrder,
  folds: BookFold,
  strandOf: ReadonlyMap<HeadingId, string>,
): (id: HeadingId) => string | undefined {
  if (folds === 'each') return () => undefined;
  if (folds === 'strand') return (id) => strandKey(strandOf.get(id));
  return (id) => {
    const book = core.journal.tables.headings.get(id) as BookHeading;
    const year = yearOf(core, base, book, by);
    if (year === undefined) return 'no-year';
    return folds === 'year' ? `year:${year}` : `decade:${Math.floor(year / 10) * 10}`;
  };
}

function foldName(key: string, strands: ReadonlyMap<string, string>): string {
  const [kind, value = ''] = key.split(/:(.*)/s);
  if (kind === 'year') return value;
  if (kind === 'decade') return `${value}s`;
  if (kind === 'strand') return strands.get(value) ?? 'A strand';
  return kind === 'no-year' ? 'No date' : 'In no strand';
}

function threadShown(
  core: Core,
  laid: Laid,
  at: number,
  counts: Uint32Array,
  known: {
    base: Base;
    byBook: BookOrder;
    names: ReadonlyMap<string, string>;
    strandOf: ReadonlyMap<HeadingId, string>;
  },
): ClothThread {
  const [first] = laid.headings;
  const heading = core.journal.tables.headings.get(first!)!;
  const folded = laid.fold !== undefined && laid.id === laid.fold;
  const strand = known.strandOf.get(first!);
  const year =
    heading.kind === 'book' && !folded && yearOf(core, known.base, heading, known.byBook);
  return {
    id: laid.id,
    name: folded ? foldName(laid.fold!, known.names) : heading.name,
    short: folded ? foldName(laid.fold!, known.names) : shortName(heading),
    headings: laid.headings,
    folded,
    ...(laid.fold === undefined
      ? {}
      : { fold: { key: laid.fold, name: foldName(laid.fold, known.names) } }),
    counts: [...counts.subarray(at * KINDS, (at + 1) * KINDS)],
    ...(typeof year === 'number' ? { year } : {}),
    ...(strand === undefined ? {} : { strand }),
  };
}

/** At most this many stretches are told, so that a bar stays wide enough to be seen and caught. */
const MOST_STRETCHES = 48;

/** Entries by half-years while these are few, else by years, else by several years to a stretch. */
function historyOf(table: ClothTable): ClothView['history'] {
  const days = table.days();
  if (!days) return [];
  const [first, last] = [Math.floor(days.first / 10_000), Math.floor(days.last / 10_000)];
  const years = last - first + 1;
  const parts = years * 2 <= MOST_STRETCHES ? 2 : 1;
  const step = parts === 2 ? 1 : Math.ceil(years / MOST_STRETCHES);
  const stretches = parts === 2 ? years * 2 : Math.ceil(years / step);
  const counts = table.history((day) => {
    const year = Math.floor(day / 10_000) - first;
    const month = Math.floor(day / 100) % 100;
    return parts === 2 ? year * 2 + (month > 6 ? 1 : 0) : Math.floor(year / step);
  }, stretches);
  const pad = (year: number): string => String(year).padStart(4, '0');
  return Array.from(counts, (entries, at) => {
    if (parts === 1) {
      const from = first + at * step;
      return { from: `${pad(from)}-01-01`, to: `${pad(from + step - 1)}-12-31`, entries };
    }
    const year = pad(first + Math.floor(at / 2));
    return at % 2 === 0
      ? { from: `${year}-01-01`, to: `${year}-06-30`, entries }
      : { from: `${year}-07-01`, to: `${year}-12-31`, entries };
  });
}
