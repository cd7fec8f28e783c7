/** The edits that change lists of books: their books, order and plan. A sealed list is not changed here. */
import { counted } from '../journal/labels';
import { putRow, removeRow } from '../journal/make-edits';
import type { HeadingId, ListId, ListPace, ReadingList } from '../journal/records';
import { same } from '../journal/same';
import { isDay } from '../reading/days';
import { schoolYearKept } from '../reading/school-years';
import type { Asked, Core } from './core';
import { bookOf } from './reading';
import { startOf, stateOf, type ListAsk } from './reading-lists';

/** A list as a screen sends it: a new one has no id. Fields left out stay as they are. */
export type ListDraft = Partial<Pick<ReadingList, 'id' | 'name' | 'books' | 'schoolYear' | 'note'>>;

export function putList(core: Core, draft: ListDraft): Asked {
  const known = draft.id ? core.journal.tables.lists.get(draft.id) : undefined;
  if (draft.id && (!known || known.seal))
    return { ok: false, code: 'gone', said: 'That list is no longer there.' };
  const name = (draft.name ?? known?.name ?? '').trim();
  if (name === '') return { ok: false, code: 'no-name', said: 'A list wants a name.' };
  const id = draft.id ?? (core.around.newId() as ListId);
  const { schoolYear: _year, note: _note, ...bare } = known ?? { id, name, books: [] };
  const year = schoolYearKept(draft.schoolYear ?? known?.schoolYear, known?.schoolYear);
  if (!year.ok) return year;
  const note = draft.note ?? known?.note;
  const row: ReadingList = {
    ...bare,
    name,
    books: [...new Set(draft.books ?? bare.books)],
    ...(year.name ? { schoolYear: year.name } : {}),
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

interface ListChange {
  books: HeadingId[];
  plan?: ListPace;
  does: string;
}

function changed(
  core: Core,
  id: ListId,
  change: (list: ReadingList) => ListChange | undefined,
): Asked {
  const list = core.journal.tables.lists.get(id);
  if (!list || list.seal) return gone;
  const to = change(list);
  if (!to) return { ok: false, code: 'nothing', said: 'Nothing on the list changes by that.' };
  const { plan: known, ...bare } = list;
  const plan = to.plan ?? known ?? {};
  const row = { ...bare, books: to.books, ...(Object.keys(plan).length > 0 ? { plan } : {}) };
  return { ok: true, edit: { ...putRow(core.journal, 'lists', row), does: to.does }, id };
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
      does: `Take ${counted(out, 'read book')} off ${list.name}`,
    };
  });
}

/** Keeps the order a list is shown in as the one set by hand. */
export function keepOrder(core: Core, id: ListId, books: readonly HeadingId[]): Asked {
  return changed(core, id, (list) => {
    const held = new Set(list.books);
    const known = books.filter((book) => held.has(book));
    const rest = list.books.filter((book) => !known.includes(book));
    const { order: _order, ...plan } = list.plan ?? {};
    return { books: [...known, ...rest], plan, does: `Set the order of ${list.name}` };
  });
}

/** Sets how a list is planned; refused where pages a day are not a whole number from 1, or a day is none. */
export function paceList(core: Core, id: ListId, plan: ListPace): Asked {
  const { perDay, finishBy, free = {} } = plan;
  if (perDay !== undefined && !(Number.isInteger(perDay) && perDay > 0))
    return { ok: false, code: 'bad-pace', said: 'Pages a day are a whole number, from 1.' };
  const days = [finishBy, ...(free.stretches ?? []).flatMap(({ from, to }) => [from, to])];
  if (days.some((day) => day !== undefined && !isDay(day)))
    return { ok: false, code: 'bad-day', said: 'That is not a day of the calendar.' };
  return changed(core, id, ({ name, books, plan: known = {} }) =>
    same(known, plan) ? undefined : { books, plan, does: `Plan the list ${name}` },
  );
}

export function dropList(core: Core, id: ListId): Asked {
  const list = core.journal.tables.lists.get(id);
  if (!list || list.seal) return gone;
  return {
    ok: true,
    edit: { ...removeRow(core.journal, 'lists', id), does: `Remove the list ${list.name}` },
  };
}
