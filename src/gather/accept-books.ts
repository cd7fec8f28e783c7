/** Books, readings, lists and meetings that files tell of, as rows of the edit that accepts a gathering; none is brought twice. */
import { filledReading, knownReading } from '../journal/known-reading';
import { same } from '../journal/same';
import type {
  BookHeading,
  HeadingId,
  Journal,
  ListId,
  Meeting,
  MeetingId,
  Reading,
  ReadingId,
  ReadingList,
} from '../journal/records';
import type { BookFound } from './block';
import { EditRows } from './edit-rows';
import type { BookGathered, MeetingGathered } from './gathering';
import { NewHeadings } from './new-headings';

interface WithIds {
  newId: () => string;
}

/** The heading a book is kept as, and what of it is new: a reading or more of one, a place in a list. */
export interface BookKept {
  book: HeadingId;
  reading?: ReadingId;
  list?: ListId;
}

export function keepBook(
  book: BookGathered,
  rows: EditRows,
  headings: NewHeadings,
  options: WithIds,
): BookKept | undefined {
  const heading = headings.book(book.tie, book);
  if (!heading) return undefined;
  const filled = fillIn(heading, book);
  if (filled !== heading) headings.put(filled);
  const read =
    book.finished ??
    book.started ??
    book.undated ??
    (book.rating !== undefined || book.abandoned ? '' : undefined);
  const reading = read === undefined ? undefined : keepReading(heading, book, rows, options);
  const list = book.list ? keepOnList(book.list, heading, rows, options) : undefined;
  return { book: heading.id, ...(reading ? { reading } : {}), ...(list ? { list } : {}) };
}

/** What the journal does not know of a book yet; what it knows stays. */
function fillIn(heading: BookHeading, book: BookGathered): BookHeading {
  const filled = { ...heading };
  if (book.isbn && !filled.isbn) filled.isbn = book.isbn;
  if (book.pages && !filled.pages) filled.pages = book.pages;
  if (book.published && !filled.published) filled.published = book.published;
  if (book.language && !filled.language) filled.language = book.language;
  if (book.note && !book.finished && !book.started && !book.undated)
    filled.note = joined(filled.note, book.note);
  return JSON.stringify(filled) === JSON.stringify(heading) ? heading : filled;
}

/** A note and what else is noted, on a line of its own and once. */
const joined = (held: string | undefined, more: string): string =>
  !held ? more : `\n${held}\n`.includes(`\n${more}\n`) ? held : `${held}\n${more}`;

function keepReading(
  heading: BookHeading,
  book: BookGathered,
  rows: EditRows,
  { newId }: WithIds,
): ReadingId | undefined {
  const there = [...rows.naming('readings', 'headings', heading.id)].filter(
    (each) => each.book === heading.id,
  );
  const { started, finished, abandoned, rating } = book;
  const note = noteOfReading(book) || undefined;
  const told = { started, finished, abandoned, rating, note };
  const known = knownReading(there, told);
  if (known) {
    const filled = filledReading(known, told);
    const more = note ? { ...filled, note: joined(filled.note, note) } : filled;
    if (same(more, known)) return undefined;
    rows.put('readings', more);
    return known.id;
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
  if (note) reading.note = note;
  rows.put('readings', reading);
  return reading.id;
}

/** What a book brings into the note of its reading: when it was read where that is no date, and the note. */
export const noteOfReading = ({ undated, note }: Pick<BookFound, 'undated' | 'note'>): string =>
  [undated, note].filter(Boolean).join('\n');

function keepOnList(
  name: string,
  heading: BookHeading,
  rows: EditRows,
  { newId }: WithIds,
): ListId | undefined {
  const key = name.trim().toLowerCase();
  for (const list of rows.all('lists')) {
    if (list.seal || list.name.trim().toLowerCase() !== key) continue;
    if (list.books.includes(heading.id)) return undefined;
    rows.put('lists', { ...list, books: [...list.books, heading.id] });
    return list.id;
  }
  const list: ReadingList = { id: newId() as ListId, name: name.trim(), books: [heading.id] };
  rows.put('lists', list);
  return list.id;
}

export function keepMeeting(
  meeting: MeetingGathered,
  rows: EditRows,
  { newId }: WithIds,
): MeetingId | undefined {
  const { circle, on, title, note } = meeting;
  if (!circle) return undefined;
  const words = [title, note].filter(Boolean).join('\n');
  const name = rows.get('circles', circle)?.name ?? '';
  for (const known of rows.naming('meetings', 'circles', circle))
    if (known.circle === circle && known.on === on && tellsAll(known, words, name))
      return undefined;
  const id = newId() as MeetingId;
  rows.put('meetings', {
    id,
    circle,
    on,
    items: [],
    ...(words ? { note: words } : {}),
  });
  return id;
}

/**
 * Whether a meeting that is there says all that a calendar says of the day: one that was planned or written here does, one that a calendar
 * brought if each line is in it. A circle may meet twice on a day.
 */
function tellsAll(known: Meeting, words: string, circle: string): boolean {
  if (!known.note || known.guide || known.items.length > 0) return true;
  const told = new Set([circle, ...known.note.split('\n')].map((line) => line.trim()));
  return words.split('\n').every((line) => told.has(line.trim()));
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
