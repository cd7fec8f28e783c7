/** Lists of books as screens show them, with what is left and when it would be done; and the edits that change them. */
import { putRow, removeRow } from '../journal/make-edits';
import type { HeadingId, ListId, Reading, ReadingList } from '../journal/records';
import { sayDate } from '../language/dates';
import { isDay } from '../reading/days';
import { planList, type ListOrder } from '../reading/list-plan';
import type { FreeDays } from '../reading/pace';
import { isFinished, isInHand, sortDay, spanOf, within } from '../reading/readings';
import {
  isYearStart,
  schoolYearOfReading,
  schoolYearSpan,
  USUAL_START,
} from '../reading/school-years';
import type { Core } from './core';
import { bookOf, localDay, todayOf } from './reading';
import { readingsOf } from './reading-books';
import { factsIn } from './reading-cache';
import type { Asked } from './reading-log';
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
  order?: ListOrder;
  perDay?: number;
  finishBy?: string;
  free?: FreeDays;
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
export function begunOn(id: string): string | undefined {
  const hex = /^([0-9a-f]{8})-([0-9a-f]{4})-7/i.exec(id);
  if (!hex) return undefined;
  return localDay(new Date(parseInt(`${hex[1]}${hex[2]}`, 16)));
}

/** Whether a reading counts for a list: in its school year where it has one, else finished since the list was begun. */
function counts(list: ReadingList, reading: Reading, start: string): boolean {
  if (!isFinished(reading)) return false;
  if (list.schoolYear) return schoolYearOfReading(reading, start) === list.schoolYear;
  const since = begunOn(list.id);
  return since === undefined || within(reading.finished, since, '9999-12-31') === 'yes';
}

function stateOf(core: Core, list: ReadingList, book: HeadingId, start: string): ListRow['state'] {
  const readings = readingsOf(core, book);
  if (readings.some((reading) => counts(list, reading, start))) return 'read';
  return readings.some(isInHand) ? 'in-hand' : 'open';
}

const startOf = (ask: ListAsk): string =>
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
    // A list for a year that has not begun is planned from its first day.
    today: span && span.from > today ? span.from : today,
    ...(ask.order ? { order: ask.order } : {}),
    ...(ask.perDay ? { perDay: ask.perDay } : {}),
    ...(ask.finishBy && isDay(ask.finishBy) ? { finishBy: ask.finishBy } : {}),
    ...(ask.free ? { free: ask.free } : {}),
  });
  const since = list.schoolYear ? span?.from : begunOn(id);
  return {
    id,
    name: list.name,
    note: list.note ?? '',
    schoolYear: list.schoolYear ?? '',
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

/** A list as a screen sends it: a new one has no id. A sealed list is not changed here. */
export type ListDraft = Pick<ReadingList, 'name'> &
  Partial<Pick<ReadingList, 'id' | 'books' | 'schoolYear' | 'note'>>;

export function putList(core: Core, draft: ListDraft): Asked {
  const known = draft.id ? core.journal.tables.lists.get(draft.id) : undefined;
  if (draft.id && (!known || known.seal))
    return { ok: false, code: 'gone', said: 'That list is no longer there.' };
  const name = draft.name.trim();
  if (name === '') return { ok: false, code: 'no-name', said: 'A list wants a name.' };
  const id = draft.id ?? (core.around.newId() as ListId);
  const { schoolYear: _year, note: _note, ...bare } = known ?? { id, name, books: [] };
  const schoolYear = draft.schoolYear ?? known?.schoolYear;
  const note = draft.note ?? known?.note;
  const row: ReadingList = {
    ...bare,
    name,
    books: [...new Set(draft.books ?? bare.books)],
    ...(schoolYear?.trim() ? { schoolYear: schoolYear.trim() } : {}),
    ...(note?.trim() ? { note: note.trim() } : {}),
  };
  return {
    ok: true,
    edit: {
      ...putRow(core.journal, 'lists', row),
      does: `${known ? 'Change' : 'Begin'} the list ${name}`,
    },
    id,
  };
}

const gone: Asked = { ok: false, code: 'gone', said: 'That list is no longer there.' };

function changed(
  core: Core,
  id: ListId,
  books: (list: ReadingList) => { books: HeadingId[]; does: string } | undefined,
): Asked {
  const list = core.journal.tables.lists.get(id);
  if (!list || list.seal) return gone;
  const to = books(list);
  if (!to) return { ok: false, code: 'nothing', said: 'Nothing on the list changes by that.' };
  return {
    ok: true,
    edit: { ...putRow(core.journal, 'lists', { ...list, books: to.books }), does: to.does },
    id,
  };
}

const titleOf = (core: Core, book: HeadingId): string =>
  bookOf(core.journal, book)?.name ?? 'a book';

/** Puts a book at a place of the list, from 0; at its end unless told. One that is on it moves there. */
export function placeOnList(core: Core, id: ListId, book: HeadingId, at?: number): Asked {
  if (!bookOf(core.journal, book)) return { ok: false, code: 'gone', said: 'That book is gone.' };
  return changed(core, id, (list) => {
    const rest = list.books.filter((each) => each !== book);
    const to = Math.max(0, Math.min(rest.length, at ?? rest.length));
    const books = [...rest.slice(0, to), book, ...rest.slice(to)];
    if (
      books.every((each, index) => each === list.books[index]) &&
      rest.length + 1 === list.books.length
    )
      return undefined;
    const verb = rest.length < list.books.length ? 'Move' : 'Put';
    return { books, does: `${verb} ${titleOf(core, book)} on ${list.name}` };
  });
}

export function takeOffList(core: Core, id: ListId, book: HeadingId): Asked {
  return changed(core, id, (list) =>
    list.books.includes(book)
      ? {
          books: list.books.filter((each) => each !== book),
          does: `Take ${titleOf(core, book)} off ${list.name}`,
        }
      : undefined,
  );
}

/** Takes the books that count as read off the list. */
export function moveReadOut(core: Core, id: ListId, ask: ListAsk): Asked {
  return changed(core, id, (list) => {
    const left = list.books.filter((book) => stateOf(core, list, book, startOf(ask)) !== 'read');
    const out = list.books.length - left.length;
    if (out === 0) return undefined;
    return {
      books: left,
      does: `Move ${out} read ${out === 1 ? 'book' : 'books'} out of ${list.name}`,
    };
  });
}

/** Keeps the order a list is shown in as the one set by hand. */
export function keepOrder(core: Core, id: ListId, books: readonly HeadingId[]): Asked {
  return changed(core, id, (list) => {
    const held = new Set(list.books);
    const known = books.filter((book) => held.has(book));
    const rest = list.books.filter((book) => !known.includes(book));
    return { books: [...known, ...rest], does: `Set the order of ${list.name}` };
  });
}

export function dropList(core: Core, id: ListId): Asked {
  const list = core.journal.tables.lists.get(id);
  if (!list || list.seal) return gone;
  return {
    ok: true,
    edit: { ...removeRow(core.journal, 'lists', id), does: `Remove the list ${list.name}` },
  };
}
