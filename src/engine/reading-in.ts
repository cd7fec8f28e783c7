/** Books brought in: by ISBN, by typing, from a table or a file of books. What the journal knows stays; what it lacks is filled in. */
import type { BookFound } from '../gather/block';
import { headingsCalled } from '../journal/indexes';
import { filledReading, knownReading, type ReadingTold } from '../journal/known-reading';
import type { BookHeading, HeadingId } from '../journal/records';
import { nameKey } from '../language/filing';
import { readIsbn } from '../language/isbn';
import { schoolYearNamed } from '../reading/school-years';
import type { Core } from './core';
import { bookOf } from './reading';
import { readingsOf } from './reading-books';
import { bookOfRow, type NewBook } from './reading-table';

export interface BookLooked extends NewBook {
  /** The book of the journal it is taken for. */
  known?: { id: HeadingId; name: string };
  /** What keeping it would do: "new", "adds pages and a reading", "nothing new". */
  said: string;
}

export interface BooksLooked {
  books: BookLooked[];
  /** What was left out or could not be read, in sentences. */
  notes: string[];
}

export interface IsbnLooked {
  ok: boolean;
  isbn?: string;
  said: string;
  known?: { id: HeadingId; name: string };
}

/** Checks an ISBN and says whether a book of the journal has it already. Nothing is looked up outside. */
export function lookAtIsbn(core: Core, text: string): IsbnLooked {
  const read = readIsbn(text);
  if (!read.ok) return { ok: false, said: read.message };
  const known = bookWithIsbn(core, read.isbn13);
  return known
    ? {
        ok: true,
        isbn: read.isbn13,
        said: `${read.hyphenated} is ${known.name}.`,
        known: { id: known.id, name: known.name },
      }
    : {
        ok: true,
        isbn: read.isbn13,
        said: `${read.hyphenated}: the digits agree. It is new here.`,
      };
}

function bookWithIsbn(core: Core, isbn13: string): BookHeading | undefined {
  for (const heading of core.journal.tables.headings.values()) {
    if (heading.kind !== 'book' || !heading.isbn) continue;
    const read = readIsbn(heading.isbn);
    if (read.ok && read.isbn13 === isbn13) return heading;
  }
  return undefined;
}

/** The book of the journal that this is: the same ISBN, or the same title with an author in common where both name one. */
export function knownBook(
  core: Core,
  book: NewBook,
  isbns: ReadonlyMap<string, readonly BookHeading[]>,
): BookHeading | undefined {
  const read = book.isbn ? readIsbn(book.isbn) : undefined;
  const same = (read?.ok && isbns.get(read.isbn13)) || [];
  if (same.length > 0) {
    // Two books bound as one have one number: then the title tells them apart.
    const called = new Set(headingsCalled(core.journal, 'book', book.title));
    return same.find(({ id }) => called.has(id)) ?? same[0];
  }
  for (const id of headingsCalled(core.journal, 'book', book.title)) {
    const heading = bookOf(core.journal, id);
    if (!heading) continue;
    if (heading.authors.length === 0 || book.authors.length === 0) return heading;
    const keys = new Set(
      heading.authors.flatMap((author) => {
        const person = core.journal.tables.headings.get(author);
        return person
          ? [person.name, ...person.alternates].map((name) => nameKey(name, 'person'))
          : [];
      }),
    );
    if (book.authors.some((name) => keys.has(nameKey(name, 'person')))) return heading;
  }
  return undefined;
}

export function isbnsOf(core: Core): Map<string, BookHeading[]> {
  const isbns = new Map<string, BookHeading[]>();
  for (const heading of core.journal.tables.headings.values()) {
    const read = heading.kind === 'book' && heading.isbn ? readIsbn(heading.isbn) : undefined;
    if (!read?.ok || heading.kind !== 'book') continue;
    const same = isbns.get(read.isbn13);
    if (same) same.push(heading);
    else isbns.set(read.isbn13, [heading]);
  }
  return isbns;
}

/** A file or pasted text of books, read by the readers that gathering uses; lines "Title by Author" will do as well. */
export async function readBooks(core: Core, name: string, bytes: Uint8Array): Promise<BooksLooked> {
  const { readFile } = await import('../gather/read-file');
  const books: NewBook[] = [];
  const notes: string[] = [];
  for await (const { result } of readFile({ path: name, bytes })) {
    if (!result.ok) notes.push(result.message);
    else {
      const found = (result.books ?? []).map((book) => withMore(book, notes));
      books.push(...found);
      notes.push(...result.notes);
      // Our own table is kept whole.
      if (result.leftOut && found.some(({ lists }) => lists === undefined))
        notes.push(result.leftOut);
    }
  }
  if (books.length === 0 && /\.(txt|csv|tsv)$/i.test(name)) {
    const lines = booksInLines(new TextDecoder().decode(bytes));
    if (lines.length > 0) return lookAtBooks(core, lines, []);
  }
  if (books.length === 0 && notes.length === 0) notes.push('No books were found in it.');
  return lookAtBooks(core, books, notes);
}

/** A row of our own table as it was; of another, the minutes and the school year too, where it has such columns. */
function withMore({ place, cells, ...book }: BookFound, notes: string[]): NewBook {
  const unread = (text: string, as: string): void => {
    const note = `${place.note ? `${place.note}: ` : ''}“${text}” is not read as ${as}.`;
    if (!notes.includes(note)) notes.push(note);
  };
  const own = cells && bookOfRow(cells, { guessed: book, unread });
  if (own?.reading && book.undated) {
    const note = [book.undated, own.reading.note].filter(Boolean).join('\n');
    return { ...own, reading: { ...own.reading, note } };
  }
  if (own) return own;
  const minutes = Number(cells?.['minutes'] ?? '');
  const school = cells?.['school year']?.trim();
  return {
    ...book,
    ...(Number.isInteger(minutes) && minutes > 0 ? { minutes } : {}),
    ...(school && school !== book.list ? { schoolYear: schoolYearNamed(school) ?? school } : {}),
  };
}

/** A book a line: "Title by Author", or title and author parted by a tab or a semicolon. */
export function booksInLines(text: string): NewBook[] {
  return text
    .split(/\r?\n/)
    .map((line) => line.replace(/^[\s\-*•]+/, '').trim())
    .filter((line) => /\p{L}/u.test(line))
    .map((line) => {
      const [title = '', ...rest] = line.split(/\t+|\s*;\s*|,?\s+by\s+(?=\p{Lu})/u);
      const year = rest.map((part) => /^\(?(\d{4})\)?$/.exec(part.trim())?.[1]).find(Boolean);
      const authors = rest
        .filter((part) => /\p{L}/u.test(part))
        .slice(0, 1)
        .flatMap((part) => part.split(/\s+and\s+|\s*&\s*/))
        .map((name) => name.trim());
      return { title: title.trim(), authors, ...(year ? { published: year } : {}) };
    })
    .filter(({ title }) => title !== '');
}

export function lookAtBooks(
  core: Core,
  books: readonly NewBook[],
  notes: readonly string[] = [],
): BooksLooked {
  const isbns = isbnsOf(core);
  return {
    books: books.map((book) => {
      const known = knownBook(core, book, isbns);
      const bare = bareBook(book);
      return {
        ...bare,
        ...(known ? { known: { id: known.id, name: known.name } } : {}),
        said: known ? addsSaid(core, known, bare) : 'new',
      };
    }),
    notes: [...notes],
  };
}

/** Only what a book may have: rows from files hold more. */
export function bareBook(book: NewBook): NewBook {
  const { title, authors, ...rest } = book;
  const names = [
    'isbn',
    'published',
    'pages',
    'rating',
    'started',
    'finished',
    'abandoned',
    'undated',
    'form',
    'list',
    'language',
    'note',
    'minutes',
    'schoolYear',
    'lists',
    'reading',
  ] as const;
  const kept = names.flatMap((name) =>
    rest[name] === undefined || rest[name] === '' ? [] : [[name, rest[name]]],
  );
  return { title, authors, ...(Object.fromEntries(kept) as Partial<NewBook>) };
}

/** Facts of a book that a row may fill in, as they are told. */
const FILLED = {
  isbn: 'the ISBN',
  published: 'the year',
  pages: 'the pages',
  language: 'the language',
} as const;

function addsSaid(core: Core, known: BookHeading, book: NewBook): string {
  const fields = Object.keys(FILLED) as (keyof typeof FILLED)[];
  const adds: string[] = fields.flatMap((field) =>
    book[field] && !known[field] ? [FILLED[field]] : [],
  );
  if (known.authors.length === 0 && book.authors.length > 0) adds.unshift('the author');
  if (tellsOfReading(book)) {
    const told = toldIn(book);
    const reading = knownReading(readingsOf(core, known.id), told, book.reading !== undefined);
    if (!reading) adds.push('a reading');
    else if (filledReading(reading, told) !== reading) adds.push('more of a reading');
  }
  for (const name of listsOf(book))
    if (!onList(core, known.id, name)) adds.push(`the list ${name}`);
  return adds.length > 0 ? `known; adds ${new Intl.ListFormat('en-GB').format(adds)}` : 'known';
}

export const listsOf = ({ list, lists }: NewBook): string[] => lists ?? (list ? [list] : []);

const onList = (core: Core, book: HeadingId, named: string): boolean =>
  [...core.journal.tables.lists.values()].some(
    ({ name, seal, books }) =>
      !seal && name.trim().toLowerCase() === named.trim().toLowerCase() && books.includes(book),
  );

export const tellsOfReading = (book: NewBook): boolean =>
  book.reading !== undefined ||
  book.started !== undefined ||
  book.finished !== undefined ||
  book.abandoned === true ||
  book.undated !== undefined ||
  book.rating !== undefined;

/** What a row says of its reading. The pages of a row are those of the book. */
export function toldIn(book: NewBook): ReadingTold {
  const { started, finished, abandoned, rating, note, minutes, schoolYear } = book;
  return book.reading ?? { started, finished, abandoned, rating, note, minutes, schoolYear };
}
