/** Lists of books as screens show them, with what is left and when it would be done. */
import type { HeadingId, ListId, ListPace, Reading, ReadingList } from '../journal/records';
import { sayDate } from '../language/dates';
import { planList } from '../reading/list-plan';
import { isFinished, isInHand, sortDay, spanOf, within } from '../reading/readings';
import {
  isYearStart,
  schoolYearNamed,
  schoolYearOfReading,
  schoolYearSpan,
  USUAL_START,
} from '../reading/school-years';
import type { Core } from './core';
import { bookOf, localDay, todayOf } from './reading';
import { readingsOf } from './reading-books';
import { factsIn } from './reading-cache';
import { authorNames, authorsShort, readingSaid } from './reading-words';

export interface ListLine {
  id: ListId;
  name: string;
  schoolYear?: string;
  books: number;
  left: number;
}

export interface ListsView {
  lists: ListLine[];
  /** Sealed lists: counted, and nothing more is known of them here. */
  sealed: number;
}

export interface ListAsk {
  schoolStart?: string;
}

export interface ListRow {
  book: HeadingId;
  title: string;
  author: string;
  /** Whole, for the printed list. */
  authors: string;
  pages?: number;
  state: 'read' | 'in-hand' | 'open';
  /** How it was read, or read last before the list began. */
  said: string;
  /** When it would be read by the plan: "3 Dec to 9 Dec 2025". */
  when: string;
}

export interface ListView {
  id: ListId;
  name: string;
  note: string;
  schoolYear: string;
  plan: ListPace;
  /** Readings finished from this day on count; absent where all do. */
  since?: string;
  rows: ListRow[];
  left: { books: number; pages: number; guessed: number };
  need?: number;
  ends?: string;
  said: string;
  /** The end of the school year, to propose a day to finish by. */
  endsWith?: string;
}

/** The day a list was begun, from the time in its id (UUIDv7, RFC 9562: the first 48 bits are milliseconds); undefined for another id. */
function begunOn(id: string): string | undefined {
  const hex = /^([0-9a-f]{8})-([0-9a-f]{4})-7/i.exec(id);
  if (!hex) return undefined;
  return localDay(new Date(parseInt(`${hex[1]}${hex[2]}`, 16)));
}

/** Whether a reading counts for a list: in its school year where it has one, else finished since the list was begun. */
function counts(list: ReadingList, reading: Reading, start: string): boolean {
  if (!isFinished(reading)) return false;
  if (list.schoolYear) {
    const named = schoolYearNamed(list.schoolYear, start) ?? list.schoolYear;
    return schoolYearOfReading(reading, start) === named;
  }
  const since = begunOn(list.id);
  return since === undefined || within(reading.finished, since, '9999-12-31') === 'yes';
}

export function stateOf(
  core: Core,
  list: ReadingList,
  book: HeadingId,
  start: string,
): ListRow['state'] {
  const readings = readingsOf(core, book);
  if (readings.some((reading) => counts(list, reading, start))) return 'read';
  return readings.some(isInHand) ? 'in-hand' : 'open';
}

export const startOf = (ask: ListAsk): string =>
  isYearStart(ask.schoolStart ?? '') ? ask.schoolStart! : USUAL_START;

export function listsView(core: Core, ask: ListAsk): ListsView {
  const all = [...core.journal.tables.lists.values()];
  const open = all.filter(({ seal }) => !seal);
  return {
    lists: open
      .map((list) => ({
        id: list.id,
        name: list.name,
        ...(list.schoolYear ? { schoolYear: list.schoolYear } : {}),
        books: list.books.length,
        left: list.books.filter((book) => stateOf(core, list, book, startOf(ask)) !== 'read')
          .length,
      }))
      .sort((a, b) => (a.id < b.id ? 1 : -1)),
    sealed: all.length - open.length,
  };
}

export function listView(core: Core, id: ListId, ask: ListAsk): ListView | undefined {
  const list = core.journal.tables.lists.get(id);
  if (!list || list.seal) return undefined;
  const start = startOf(ask);
  const facts = factsIn(core);
  const rows = new Map(list.books.map((book) => [book, rowOf(core, list, book, start)]));
  const today = todayOf(core);
  const span = list.schoolYear ? schoolYearSpan(list.schoolYear, start) : undefined;
  const plan = planList({
    books: list.books.map((book) => {
      const row = rows.get(book)!;
      const known = facts.get(book);
      return {
        id: book,
        ...(row.pages === undefined ? {} : { pages: row.pages }),
        read: row.state === 'read',
        filing: known?.filing ?? '',
        authorFiling: known?.authors[0]?.filing ?? '',
        publishedDay: spanOf(known?.published)?.earliest ?? '',
      };
    }),
    today: planned(list, span?.from, today),
    ...list.plan,
  });
  const since = list.schoolYear ? span?.from : begunOn(id);
  return {
    id,
    name: list.name,
    note: list.note ?? '',
    schoolYear: list.schoolYear ?? '',
    plan: list.plan ?? {},
    ...(since ? { since } : {}),
    rows: plan.order.map((book) => ({
      ...rows.get(book)!,
      when: whenSaid(plan.when.get(book)),
    })),
    left: plan.left,
    ...(plan.need === undefined ? {} : { need: plan.need }),
    ...(plan.ends ? { ends: plan.ends } : {}),
    said: plan.said,
    ...(span ? { endsWith: span.to } : {}),
  };
}

/** The day from which a list is planned: for a year that has not begun its first day, unless all is to be read before that. */
function planned({ plan }: ReadingList, begins: string | undefined, today: string): string {
  if (begins === undefined || begins <= today) return today;
  return plan?.finishBy !== undefined && plan.finishBy < begins ? today : begins;
}

function whenSaid(when: { from?: string; to?: string } | undefined): string {
  if (!when?.from) return '';
  if (!when.to) return `from ${sayDate(when.from)}`;
  if (when.from === when.to) return sayDate(when.from);
  const [from, to] = [sayDate(when.from), sayDate(when.to)];
  const year = to.slice(-5);
  return `${from.endsWith(year) ? from.slice(0, -5) : from} to ${to}`;
}

function rowOf(core: Core, list: ReadingList, id: HeadingId, start: string): ListRow {
  const book = bookOf(core.journal, id);
  const readings = readingsOf(core, id).sort((a, b) => (sortDay(a) < sortDay(b) ? 1 : -1));
  const counted = readings.find((reading) => counts(list, reading, start));
  const inHand = readings.find(isInHand);
  const before = readings.find(isFinished);
  const said = counted
    ? readingSaid(counted)
    : inHand
      ? readingSaid(inHand)
      : before
        ? `read before, ${readingSaid(before)}`
        : '';
  return {
    book: id,
    title: book?.name ?? 'A book',
    author: authorsShort(core.journal, book),
    authors: authorNames(core.journal, book).join(', '),
    ...(book?.pages === undefined ? {} : { pages: book.pages }),
    state: counted ? 'read' : inHand ? 'in-hand' : 'open',
    said,
    when: '',
  };
}
