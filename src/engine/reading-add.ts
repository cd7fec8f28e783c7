/** Keeping books that were brought in, as one edit: what the journal knows of a book stays, what it lacks is filled in. */
import { noteOfReading } from '../gather/accept-books';
import { Draft } from '../journal/draft';
import { headingsCalled } from '../journal/indexes';
import { filledReading, isWholly, knownReading } from '../journal/known-reading';
import type {
  BookHeading,
  HeadingId,
  ListId,
  PersonHeading,
  Reading,
  ReadingId,
} from '../journal/records';
import { nameKey } from '../language/filing';
import { readIsbn } from '../language/isbn';
import type { Asked, Core } from './core';
import { dateTyped } from './dates-typed';
import { readingsOf } from './reading-books';
import { bareBook, isbnsOf, knownBook, listsOf, tellsOfReading, toldIn } from './reading-in';
import type { NewBook } from './reading-table';

/** One edit that keeps them all. What cannot be right is refused with a sentence, and nothing is kept. */
export function addBooks(core: Core, books: readonly NewBook[]): Asked {
  for (const book of books) {
    const wrong = faultOf(book);
    if (wrong)
      return { ok: false, code: wrong.code, said: `${book.title || 'A book'}: ${wrong.said}` };
  }
  const adding = new Adding(core);
  let last: HeadingId | undefined;
  for (const book of books) last = adding.add(dated(bareBook(book)));
  const edit = adding.draft.edit(
    books.length === 1 ? `Add ${books[0]!.title}` : `Bring in ${books.length} books`,
  );
  if (edit.changes.length === 0)
    return { ok: false, code: 'nothing', said: 'All of that is in the journal already.' };
  return { ok: true, edit, ...(last ? { id: last } : {}) };
}

const DATES = ['published', 'started', 'finished'] as const;

function faultOf(book: NewBook): { code: string; said: string } | undefined {
  if (book.title.trim() === '') return { code: 'no-title', said: 'A title is wanted.' };
  for (const field of DATES) {
    const read = book[field] === undefined ? undefined : dateTyped(book[field]);
    if (read && !read.ok) return { code: read.code, said: read.message };
  }
  const isbn = book.isbn === undefined ? undefined : readIsbn(book.isbn);
  if (isbn && !isbn.ok) return { code: isbn.code, said: isbn.message };
  const { pages } = book;
  if (pages !== undefined && !(Number.isInteger(pages) && pages > 0 && pages < 100_000))
    return { code: 'bad-pages', said: 'Pages are a whole number from 1 to 99,999.' };
  return undefined;
}

/** With its dates, however they are typed, as the journal keeps them. */
function dated(book: NewBook): NewBook {
  const kept = { ...book };
  for (const field of DATES) {
    const read = book[field] === undefined ? undefined : dateTyped(book[field]);
    if (read?.ok) kept[field] = read.edtf;
  }
  return kept;
}

class Adding {
  readonly draft: Draft;
  readonly #isbns: Map<string, BookHeading[]>;
  /** Made in this edit, by the key of the title and of the name. */
  readonly #books = new Map<string, HeadingId>();
  readonly #people = new Map<string, HeadingId>();
  readonly #lists = new Map<string, ListId>();
  /** Readings made in this edit, by book: a row said twice is one. */
  readonly #made = new Map<HeadingId, Reading[]>();

  constructor(readonly core: Core) {
    this.draft = new Draft(core.journal);
    this.#isbns = isbnsOf(core);
    for (const list of core.journal.tables.lists.values())
      if (!list.seal) this.#lists.set(list.name.trim().toLowerCase(), list.id);
  }

  add(book: NewBook): HeadingId {
    const heading = this.#headingFor(book);
    const filled: BookHeading = { ...heading };
    if (book.pages && !filled.pages) filled.pages = book.pages;
    if (book.published && !filled.published) filled.published = book.published;
    if (book.language && !filled.language) filled.language = book.language;
    const read = book.isbn ? readIsbn(book.isbn) : undefined;
    if (read?.ok && !filled.isbn) filled.isbn = read.isbn13;
    if (filled.authors.length === 0)
      filled.authors = book.authors.flatMap((name) => this.#person(name));
    const ofBook = book.reading !== undefined || !tellsOfReading(book);
    if (book.note && ofBook && !filled.note) filled.note = book.note;
    this.draft.put('headings', filled);
    if (tellsOfReading(book)) this.#read(heading.id, book);
    for (const name of listsOf(book)) this.#onList(name, heading.id);
    return heading.id;
  }

  #headingFor(book: NewBook): BookHeading {
    const key = `${nameKey(book.title, 'book')} ${nameKey(book.authors[0] ?? '', 'person')}`;
    const known = knownBook(this.core, book, this.#isbns);
    const id = known?.id ?? this.#books.get(key);
    const there = id && (this.draft.get('headings', id) as BookHeading | undefined);
    if (there) return there;
    const made: BookHeading = {
      id: this.core.around.newId() as HeadingId,
      kind: 'book',
      name: book.title.trim(),
      alternates: [],
      authors: [],
    };
    this.#books.set(key, made.id);
    return made;
  }

  #person(name: string): HeadingId[] {
    const key = nameKey(name, 'person');
    if (key === '') return [];
    const [known] = headingsCalled(this.core.journal, 'person', name);
    const held = known ?? this.#people.get(key);
    if (held) return [held];
    const made: PersonHeading = {
      id: this.core.around.newId() as HeadingId,
      kind: 'person',
      name: name.trim(),
      alternates: [],
      roles: ['author'],
    };
    this.#people.set(key, made.id);
    this.draft.put('headings', made);
    return [made.id];
  }

  #read(book: HeadingId, row: NewBook): void {
    const told = toldIn(row);
    const whole = row.reading !== undefined;
    const made = this.#made.get(book) ?? [];
    // Two rows of our own table are two readings unless they say the very same.
    if (whole && made.some((each) => isWholly(each, told))) return;
    const drafted = (reading: Reading): Reading =>
      this.draft.get('readings', reading.id) ?? reading;
    const there = [...readingsOf(this.core, book), ...(whole ? [] : made)].map(drafted);
    const known = knownReading(there, told, whole);
    if (known) this.draft.put('readings', filledReading(known, told));
    else {
      const reading = this.#reading(book, row);
      this.draft.put('readings', reading);
      this.#made.set(book, [...made, reading]);
    }
  }

  #reading(book: HeadingId, from: NewBook): Reading {
    const id = this.core.around.newId() as ReadingId;
    if (from.reading) return { id, book, ...from.reading };
    const reading: Reading = { id, book, form: from.form ?? 'print' };
    if (from.started) reading.started = from.started;
    if (from.finished) reading.finished = from.finished;
    if (from.abandoned) reading.abandoned = true;
    if (from.pages) reading.pages = from.pages;
    if (from.rating !== undefined) reading.rating = from.rating;
    const note = noteOfReading(from);
    if (note) reading.note = note;
    if (from.minutes) reading.minutes = from.minutes;
    if (from.schoolYear) reading.schoolYear = from.schoolYear;
    return reading;
  }

  #onList(name: string, book: HeadingId): void {
    const key = name.trim().toLowerCase();
    const id = this.#lists.get(key) ?? (this.core.around.newId() as ListId);
    this.#lists.set(key, id);
    const list = this.draft.get('lists', id) ?? { id, name: name.trim(), books: [] };
    if (!list.books.includes(book))
      this.draft.put('lists', { ...list, books: [...list.books, book] });
  }
}
