import { rowsNaming } from '../journal/indexes';
import type { BookHeading, EntryId, Heading, HeadingId, Journal } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { readDate, yearOf } from '../language/dates';
import { filingKey } from '../language/filing';

/** How the books of the cloth stand, and how its themes lie. */
export type BookOrder = 'read' | 'likeness' | 'filing' | 'published';
export type ThemeOrder = 'strand' | 'likeness' | 'name' | 'size';
export type BookFold = 'each' | 'year' | 'decade' | 'strand';
export type ThemeFold = 'each' | 'strand';

/** Dates that cannot be told come last. */
const NO_DATE = '~';

const earliest = (edtf: string | undefined): string | undefined => {
  if (edtf === undefined) return undefined;
  if (/^\d{4}-\d\d-\d\d$/.test(edtf)) return edtf;
  const read = readDate(edtf);
  return read.ok ? (read.date.earliest ?? read.date.latest) : undefined;
};

const least = (days: readonly (string | undefined)[]): string | undefined => {
  const known = days.filter((day) => day !== undefined).sort();
  return known[0];
};

/** When a book was first read, as an ISO day: its first reading, or else the first entry tied to it that has a date. */
export function firstRead(journal: Journal, id: HeadingId): string | undefined {
  const readings = [...rowsNaming(journal, 'headings', id, 'readings')].map((row) => {
    const reading = journal.tables.readings.get(row);
    return earliest(reading?.finished ?? reading?.started);
  });
  return (
    least(readings) ??
    least(
      [...entriesTiedTo(journal, id)].map((entry: EntryId) =>
        earliest(journal.tables.entries.get(entry)?.written),
      ),
    )
  );
}

/** Names longer than this are told short at the edge of the cloth. */
const LONGEST_NAME = 23;

/** A heading's name where there is little room: itself if it fits, else its longest other name that does, else cut at a word. */
export function shortName({ name, alternates }: Heading): string {
  if (name.length <= LONGEST_NAME) return name;
  const fits = alternates.filter((other) => other.length <= LONGEST_NAME && other.length > 3);
  const [best] = fits.sort((a, b) => b.length - a.length || (a < b ? -1 : 1));
  if (best !== undefined) return best;
  const cut = name.lastIndexOf(' ', LONGEST_NAME);
  return `${name.slice(0, cut > 8 ? cut : LONGEST_NAME)}…`;
}

/** What a heading files by. */
export function filesBy(heading: Heading): string {
  const kind = heading.kind === 'person' ? 'name' : 'title';
  const options = {
    kind,
    ...(heading.filing ? { filing: heading.filing } : {}),
    ...(heading.kind === 'book' && heading.language ? { language: heading.language } : {}),
  } as const;
  return filingKey(heading.name, options);
}

/** The key by which a book takes its place, other than by likeness, `read` being when it was first read. Keys compare as text. */
export function bookKey(
  book: BookHeading,
  by: Exclude<BookOrder, 'likeness'>,
  read: string | undefined,
): string {
  const filed = filesBy(book);
  switch (by) {
    case 'filing':
      return filed;
    case 'published':
      return `${byYear(earliest(book.published))} ${filed}`;
    case 'read':
      return `${byYear(read)} ${filed}`;
  }
}

/** Added to a year of up to six digits, so that those before our era come first as text too, the oldest before the others. */
const YEARS_BEFORE = 1_000_000;

function byYear(day: string | undefined): string {
  const [, year, rest] = /^([+-]?\d+)(.*)$/.exec(day ?? '') ?? [];
  return year === undefined
    ? NO_DATE
    : `${String(YEARS_BEFORE + Number(year)).padStart(7, '0')}${rest}`;
}

/** The year told under a book: when it was first published where books stand by that, else when it was first read. */
export function yearOfBook(
  book: BookHeading,
  by: BookOrder,
  read: string | undefined,
): number | undefined {
  const day = by === 'published' ? earliest(book.published) : read;
  if (by === 'published' && book.published) return yearOf(book.published) ?? yearIn(day);
  return yearIn(day);
}

const yearIn = (day: string | undefined): number | undefined => {
  const year = day === undefined ? NaN : Number(/^-?\d+/.exec(day)?.[0]);
  return Number.isFinite(year) ? year : undefined;
};

/** A thread as it is laid: one heading, or several folded into a wide one. */
export interface Laid {
  /** The heading's id, or the fold's key. */
  id: string;
  headings: HeadingId[];
  /** The key of the fold it belongs to, closed or open. */
  fold?: string;
}

/**
 * Headings in order, folded by their keys: the headings of a closed fold lie in one wide thread where the first of them stood, those of an open one
 * side by side there. A heading without a key, and one that is alone in its fold, stands by itself.
 */
export function fold(
  order: readonly HeadingId[],
  keyOf: (id: HeadingId) => string | undefined,
  open: ReadonlySet<string>,
): Laid[] {
  const folds = new Map<string, HeadingId[]>();
  const places: (string | HeadingId[])[] = [];
  for (const id of order) {
    const key = keyOf(id);
    const held = key === undefined ? undefined : folds.get(key);
    if (held) held.push(id);
    else if (key === undefined) places.push([id]);
    else {
      folds.set(key, [id]);
      places.push(key);
    }
  }
  return places.flatMap((place): Laid[] => {
    if (typeof place !== 'string') return place.map((id) => ({ id, headings: [id] }));
    const headings = folds.get(place)!;
    if (headings.length === 1) return [{ id: headings[0]!, headings }];
    if (!open.has(place)) return [{ id: place, headings, fold: place }];
    return headings.map((id) => ({ id, headings: [id], fold: place }));
  });
}
