/** One change to many books at once, as one edit that is taken back whole. */
import { Draft } from '../journal/draft';
import type { BookHeading, HeadingId, ListId, Reading, ReadingId } from '../journal/records';
import { sayDate } from '../language/dates';
import { isFinished, sortDay } from '../reading/readings';
import { languageSaid } from '../reading/rule-words';
import { schoolYearKept } from '../reading/school-years';
import type { Asked, Core } from './core';
import { dateTyped } from './dates-typed';
import { bookOf } from './reading';
import { readingsOf } from './reading-books';
import { FORM_SAYS } from './reading-words';

export type BulkChange =
  | { what: 'list'; list?: ListId; name?: string }
  | { what: 'author'; author: HeadingId }
  | { what: 'language'; language: string }
  | { what: 'flag'; flag: string }
  | { what: 'finished'; on: string; form: Reading['form'] }
  /** Of the last reading of each. */
  | { what: 'form'; form: Reading['form'] }
  | { what: 'school'; school: string }
  | { what: 'rating'; rating: number }
  | { what: 'remove' };

const counted = (count: number): string => `${count} ${count === 1 ? 'book' : 'books'}`;

export function changeBooks(core: Core, ids: readonly HeadingId[], change: BulkChange): Asked {
  const books = [...new Set(ids)].flatMap((id) => bookOf(core.journal, id) ?? []);
  if (books.length === 0)
    return { ok: false, code: 'gone', said: 'None of those books is there any longer.' };
  const draft = new Draft(core.journal);
  const does = changed(core, draft, books, change);
  if (typeof does !== 'string') return does;
  const edit = draft.edit(does);
  if (edit.changes.length === 0)
    return { ok: false, code: 'nothing', said: 'That is so already for all of them.' };
  return { ok: true, edit };
}

/** What the edit does, in words, or why it cannot be. */
function changed(
  core: Core,
  draft: Draft,
  books: readonly BookHeading[],
  change: BulkChange,
): string | (Asked & { ok: false }) {
  const put = (alter: (book: BookHeading) => Partial<BookHeading>): void => {
    for (const book of books) draft.put('headings', { ...book, ...alter(book) });
  };
  const many = counted(books.length);
  switch (change.what) {
    case 'list':
      return ontoList(core, draft, books, change);
    case 'author': {
      const person = core.journal.tables.headings.get(change.author);
      if (person?.kind !== 'person')
        return { ok: false, code: 'gone', said: 'That person is no longer there.' };
      put(() => ({ authors: [person.id] }));
      return `Set ${person.name} as the author of ${many}`;
    }
    case 'language':
      put(() => ({ language: change.language.trim() }));
      return `Set ${languageSaid(change.language)} as the language of ${many}`;
    case 'flag': {
      const flag = change.flag.trim();
      put(({ flags = [] }) => ({ flags: flags.includes(flag) ? flags : [...flags, flag] }));
      return `Put the note “${flag}” on ${many}`;
    }
    case 'finished': {
      const read = dateTyped(change.on);
      if (!read.ok) return { ok: false, code: read.code, said: read.message };
      for (const book of books) {
        const id = core.around.newId() as ReadingId;
        draft.put('readings', { id, book: book.id, finished: read.edtf, form: change.form });
      }
      return `Add a reading finished ${sayDate(read.edtf)} to ${many}`;
    }
    case 'form':
      return lastReadings(
        core,
        draft,
        books,
        { form: change.form },
        (those) => `Set the last reading of ${those} ${FORM_SAYS[change.form]}`,
      );
    case 'school': {
      const year = schoolYearKept(change.school);
      if (!year.ok) return year;
      return lastReadings(
        core,
        draft,
        books,
        { schoolYear: year.name },
        (those) => `Set the school year of ${those} to ${year.name}`,
      );
    }
    case 'rating':
      return lastReadings(
        core,
        draft,
        books,
        { rating: change.rating },
        (those) => `Rate ${those} ${change.rating}`,
      );
    case 'remove':
      for (const book of books) draft.takeOut('headings', book.id, { now: core.nowIso() });
      return `Remove ${many}`;
  }
}

const unreadSaid: Asked & { ok: false } = {
  ok: false,
  code: 'unread',
  said: 'None of those books has a reading yet.',
};

/** Alters the last reading of each book that has one, and says so of those. */
function lastReadings(
  core: Core,
  draft: Draft,
  books: readonly BookHeading[],
  fields: Partial<Reading>,
  say: (those: string) => string,
): string | (Asked & { ok: false }) {
  let count = 0;
  for (const { id } of books) {
    const inOrder = readingsOf(core, id).sort((a, b) => (sortDay(a) < sortDay(b) ? 1 : -1));
    const last = inOrder.find(isFinished) ?? inOrder[0];
    if (!last) continue;
    draft.put('readings', { ...last, ...fields });
    count += 1;
  }
  return count === 0 ? unreadSaid : say(counted(count));
}

function ontoList(
  core: Core,
  draft: Draft,
  books: readonly BookHeading[],
  { list, name }: { list?: ListId; name?: string },
): string | (Asked & { ok: false }) {
  const known = list ? core.journal.tables.lists.get(list) : undefined;
  if (list && (!known || known.seal))
    return { ok: false, code: 'gone', said: 'That list is no longer there.' };
  const row = known ?? {
    id: core.around.newId() as ListId,
    name: name?.trim() || 'To be read',
    books: [],
  };
  const fresh = books.map(({ id }) => id).filter((id) => !row.books.includes(id));
  if (fresh.length > 0) draft.put('lists', { ...row, books: [...row.books, ...fresh] });
  return `Put ${counted(fresh.length)} on ${row.name}`;
}
