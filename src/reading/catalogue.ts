/** The catalogue: a row for each book with what its readings say, sorted and narrowed. */
import type { HeadingId, Reading } from '../journal/records';
import { fold, tokens } from '../language/tokens';
import type { BookFacts } from './book-facts';
import { isFinished, isInHand, sortDay, yearFinished } from './readings';
import { schoolYearOfReading } from './school-years';

export type CatalogueOrder =
  'title' | 'author' | 'read' | 'school' | 'published' | 'pages' | 'rating' | 'entries' | 'used';

/** `read`: finished at least once; `in-hand`: begun and not over; `put-down`: abandoned and never finished; `unread`: no reading at all. */
export type BookState = 'read' | 'in-hand' | 'put-down' | 'unread';

export interface CatalogueRow {
  id: HeadingId;
  title: string;
  /** Keys to file by; compare as strings. */
  filing: string;
  author: string;
  authorFiling: string;
  state: BookState;
  /** Some reading of it is in hand, whether it was finished before or not. */
  inHand: boolean;
  /** Times finished. */
  times: number;
  /** Calendar and school years it was finished in, the newest first. */
  years: number[];
  schools: string[];
  /** ISO day of the last reading, '' where none is known; and how it is said. */
  lastDay: string;
  forms: Reading['form'][];
  pages?: number;
  published?: string;
  /** First day of what `published` means, to sort by. */
  publishedDay: string;
  /** Of the last rated reading. */
  rating?: number;
  entries: number;
  /** Times entries of it were used in meetings. */
  used: number;
  themes: ReadonlySet<HeadingId>;
  lists: string[];
}

export interface CatalogueAsk {
  /** Words that all stand in the title, the author or a list's name; beginnings will do. */
  words?: string;
  order?: CatalogueOrder;
  /** From the other end. */
  back?: boolean;
  /** `in-hand` also of a book that is read again. */
  state?: BookState;
  year?: number;
  school?: string;
  form?: Reading['form'];
  theme?: HeadingId;
  list?: string;
  /** Pages and rating, both ends included. */
  pagesFrom?: number;
  pagesTo?: number;
  ratingFrom?: number;
  use?: 'never' | 'used';
  /** Finished, with no entry tied to it. */
  unnoted?: boolean;
}

/** What the readings of one book say of it. */
function readingFacts(
  readings: readonly Reading[],
  schoolStart: string,
): Pick<
  CatalogueRow,
  'state' | 'inHand' | 'times' | 'years' | 'schools' | 'lastDay' | 'forms' | 'rating' | 'pages'
> {
  const inOrder = [...readings].sort((a, b) => (sortDay(a) < sortDay(b) ? 1 : -1));
  const finished = inOrder.filter(isFinished);
  const facts: ReturnType<typeof readingFacts> = {
    state:
      finished.length > 0
        ? 'read'
        : inOrder.some(isInHand)
          ? 'in-hand'
          : inOrder.some(({ abandoned }) => abandoned)
            ? 'put-down'
            : 'unread',
    inHand: inOrder.some(isInHand),
    times: finished.length,
    years: [...new Set(finished.flatMap((reading) => yearFinished(reading) ?? []))],
    schools: [...new Set(inOrder.flatMap((each) => schoolYearOfReading(each, schoolStart) ?? []))],
    lastDay: inOrder[0] ? sortDay(inOrder[0]) : '',
    forms: [...new Set(inOrder.map(({ form }) => form))],
  };
  const rated = inOrder.find(({ rating }) => rating !== undefined)?.rating;
  if (rated !== undefined) facts.rating = rated;
  const pages = inOrder.find((reading) => reading.pages !== undefined)?.pages;
  if (pages !== undefined) facts.pages = pages;
  return facts;
}

/** Rows that fit, in the order asked for; equal ones by title. Rows without the value asked for come last whichever way it goes. */
export function catalogue(rows: readonly CatalogueRow[], ask: CatalogueAsk): CatalogueRow[] {
  const words = tokens(ask.words ?? '').map(({ folded }) => folded);
  const found = rows.filter((row) => fits(row, ask) && named(row, words));
  const value = VALUES[ask.order ?? 'title'];
  const usual = FALLING.has(ask.order ?? 'title') ? -1 : 1;
  const way = ask.back ? -usual : usual;
  return found.sort((a, b) => {
    const [left, right] = [value(a), value(b)];
    const [none, other] = [left === '' || left === -1, right === '' || right === -1];
    if (none !== other) return none ? 1 : -1;
    if (left !== right) return (left < right ? -1 : 1) * way;
    return a.filing === b.filing ? (a.id < b.id ? -1 : 1) : a.filing < b.filing ? -1 : 1;
  });
}

/** Orders that begin with the most or the newest. */
const FALLING: ReadonlySet<CatalogueOrder> = new Set([
  'read',
  'school',
  'pages',
  'rating',
  'entries',
  'used',
]);

const VALUES: Record<CatalogueOrder, (row: CatalogueRow) => string | number> = {
  title: ({ filing }) => filing,
  author: ({ authorFiling }) => authorFiling,
  read: ({ lastDay }) => lastDay,
  school: ({ schools }) => schools[0] ?? '',
  published: ({ publishedDay }) => publishedDay,
  pages: ({ pages }) => pages ?? -1,
  rating: ({ rating }) => rating ?? -1,
  entries: ({ entries }) => entries,
  used: ({ used }) => used,
};

function fits(row: CatalogueRow, ask: CatalogueAsk): boolean {
  const { pagesFrom, pagesTo, ratingFrom } = ask;
  const state = ask.state === 'in-hand' ? row.inHand : row.state === ask.state;
  if (ask.state !== undefined && !state) return false;
  if (ask.year !== undefined && !row.years.includes(ask.year)) return false;
  if (ask.school !== undefined && !row.schools.includes(ask.school)) return false;
  if (ask.form !== undefined && !row.forms.includes(ask.form)) return false;
  if (ask.theme !== undefined && !row.themes.has(ask.theme)) return false;
  if (ask.list !== undefined && !row.lists.includes(ask.list)) return false;
  if (pagesFrom !== undefined && !(row.pages !== undefined && row.pages >= pagesFrom)) return false;
  if (pagesTo !== undefined && !(row.pages !== undefined && row.pages <= pagesTo)) return false;
  if (ratingFrom !== undefined && !(row.rating !== undefined && row.rating >= ratingFrom))
    return false;
  if (ask.use !== undefined && row.used > 0 !== (ask.use === 'used')) return false;
  return !(ask.unnoted && !(row.state === 'read' && row.entries === 0));
}

function named(row: CatalogueRow, words: readonly string[]): boolean {
  if (words.length === 0) return true;
  const held = ` ${fold(`${row.title} ${row.author} ${row.lists.join(' ')}`)}`.replace(
    /[^\p{L}\p{N}]+/gu,
    ' ',
  );
  return words.every((word) => held.includes(` ${word.replace(/[^\p{L}\p{N}]+/gu, ' ').trim()}`));
}

/** A row from what is known of the book and of its readings. */
export function rowFrom(
  facts: BookFacts,
  readings: readonly Reading[],
  more: Pick<CatalogueRow, 'author' | 'entries' | 'used' | 'lists' | 'publishedDay'>,
  schoolStart: string,
): CatalogueRow {
  const read = readingFacts(readings, schoolStart);
  const pages = facts.pages ?? read.pages;
  const { pages: _pages, ...rest } = read;
  const row: CatalogueRow = {
    id: facts.id,
    title: facts.name,
    filing: facts.filing,
    authorFiling: facts.authors[0]?.filing ?? '',
    themes: facts.themes,
    ...rest,
    ...more,
  };
  if (pages !== undefined) row.pages = pages;
  if (facts.published !== undefined) row.published = facts.published;
  return row;
}
