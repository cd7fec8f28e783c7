/** Books, readings, lists and meetings that files tell of, as rows of the edit that accepts a gathering; none is brought twice. */
import type {
  BookHeading,
  Journal,
  ListId,
  MeetingId,
  Reading,
  ReadingId,
  ReadingList,
} from '../journal/records';
import { EditRows } from './edit-rows';
import type { BookGathered, MeetingGathered } from './gathering';
import { NewHeadings } from './new-headings';

interface WithIds {
  newId: () => string;
}

export function keepBook(
  book: BookGathered,
  rows: EditRows,
  headings: NewHeadings,
  options: WithIds,
): void {
  const heading = headings.book(book.tie, book);
  if (!heading) return;
  const filled = fillIn(heading, book);
  if (filled !== heading) headings.put(filled);
  const read =
    book.finished ?? book.started ?? (book.rating !== undefined || book.abandoned ? '' : undefined);
  if (read !== undefined) keepReading(heading, book, rows, options);
  if (book.list) keepOnList(book.list, heading, rows, options);
}

/** What the journal does not know of a book yet; what it knows stays. */
function fillIn(heading: BookHeading, book: BookGathered): BookHeading {
  const filled = { ...heading };
  if (book.isbn && !filled.isbn) filled.isbn = book.isbn;
  if (book.pages && !filled.pages) filled.pages = book.pages;
  if (book.published && !filled.published) filled.published = book.published;
  if (book.language && !filled.language) filled.language = book.language;
  if (book.note && !filled.note && !book.finished && !book.started) filled.note = book.note;
  return JSON.stringify(filled) === JSON.stringify(heading) ? heading : filled;
}

function keepReading(
  heading: BookHeading,
  book: BookGathered,
  rows: EditRows,
  { newId }: WithIds,
): void {
  for (const known of rows.naming('readings', 'headings', heading.id)) {
    if (
      known.book === heading.id &&
      known.started === book.started &&
      known.finished === book.finished
    )
      return;
  }
  const reading: Reading = {
    id: newId() as ReadingId,
    book: heading.id,
    form: book.form ?? 'print',
  };
  if (book.started) reading.started = book.started;
  if (book.finished) reading.finished = book.finished;
  if (book.abandoned) reading.abandoned = true;
  if (book.pages) reading.pages = book.pages;
  if (book.rating !== undefined) reading.rating = book.rating;
  if (book.note) reading.note = book.note;
  rows.put('readings', reading);
}

function keepOnList(name: string, heading: BookHeading, rows: EditRows, { newId }: WithIds): void {
  const key = name.trim().toLowerCase();
  for (const list of rows.all('lists')) {
    if (list.name.trim().toLowerCase() !== key) continue;
    if (!list.books.includes(heading.id))
      rows.put('lists', { ...list, books: [...list.books, heading.id] });
    return;
  }
  const list: ReadingList = { id: newId() as ListId, name: name.trim(), books: [heading.id] };
  rows.put('lists', list);
}

export function keepMeeting(meeting: MeetingGathered, rows: EditRows, { newId }: WithIds): void {
  const { circle, on, title, note } = meeting;
  if (!circle) return;
  for (const known of rows.naming('meetings', 'circles', circle))
    if (known.circle === circle && known.on === on) return;
  const words = [title, note].filter(Boolean).join('\n');
  rows.put('meetings', {
    id: newId() as MeetingId,
    circle,
    on,
    items: [],
    ...(words ? { note: words } : {}),
  });
}

/** Whether keeping a book or a meeting would change nothing: the journal has all that it tells. */
export function isKnown(
  journal: Journal,
  { book, meeting }: { book?: BookGathered; meeting?: MeetingGathered },
): boolean {
  const rows = new EditRows(journal);
  const headings = new NewHeadings(journal, () => 'new');
  const options = { newId: (): string => 'new' };
  if (book) keepBook(book, rows, headings, options);
  if (meeting) keepMeeting(meeting, rows, options);
  return rows.size === 0 && headings.made().length === 0;
}
