/**
 * Our own table of books: a row for each reading, or one for a book not read. What stands in its columns comes back as it was; a table from
 * elsewhere, whose columns are guessed at, is read by the gathering room alone.
 */
import type { BookFound } from '../gather/block';
import { dateOf } from '../gather/readers/tools/dates-found';
import type { BookHeading, Reading } from '../journal/records';
import { readDate } from '../language/dates';
import { readIsbn } from '../language/isbn';
import { isDay } from '../reading/days';
import { schoolYearNamed } from '../reading/school-years';

/** A book to be brought in, with the reading its row tells of. */
export type NewBook = Omit<BookFound, 'place' | 'cells'> & {
  minutes?: number;
  schoolYear?: string;
  /** Of a row of our own table: every list it stands on, and the reading whole. `note` is then of the book alone. */
  lists?: string[];
  reading?: Omit<Reading, 'id' | 'book'>;
};

const COLUMNS = [
  ...(['title', 'author', 'isbn', 'published', 'pages', 'language', 'list', 'started'] as const),
  ...(['finished', 'form', 'pages read', 'minutes', 'days read', 'rating'] as const),
  ...(['school year', 'note', 'book note'] as const),
];
type Column = (typeof COLUMNS)[number];
export const BOOK_COLUMNS: readonly Column[] = COLUMNS;

/** Cells that a spreadsheet would take for a formula are written with an apostrophe before them. */
export const FORMULA = /^(?:[=+@\t\r]|-(?!\s))/;

/** Names parted by semicolons: one within a name becomes a comma. */
const together = (names: readonly string[]): string =>
  names.map((name) => name.replaceAll(';', ',')).join('; ');
const apart = (cell: string): string[] => cell.split(/\s*;\s*/).filter(Boolean);

/** A book put down has no day of finishing: "not finished", with the day it was put down. */
const NOT_FINISHED = 'not finished';

export interface BookRow {
  book: BookHeading;
  /** Names of its authors, and of the lists it stands on. */
  authors: readonly string[];
  lists: readonly string[];
  reading: Reading | undefined;
}

export function rowOfBook({ book, authors, lists, reading }: BookRow): string[] {
  const finished = reading?.finished ?? '';
  const cells: Record<Column, string | number | undefined> = {
    title: book.name,
    author: together(authors),
    isbn: book.isbn,
    published: book.published,
    pages: book.pages,
    language: book.language,
    list: together(lists),
    started: reading?.started,
    finished: reading?.abandoned ? `${NOT_FINISHED} ${finished}`.trim() : finished,
    form: reading?.form,
    'pages read': reading?.pages,
    minutes: reading?.minutes,
    'days read': reading?.days?.join(' '),
    rating: reading?.rating,
    'school year': reading?.schoolYear,
    note: reading?.note,
    'book note': book.note,
  };
  return COLUMNS.map((column) => String(cells[column] ?? ''));
}

type Dated = 'published' | 'started' | 'finished';

/** How the dates of a row are read that a spreadsheet has written in its own way. */
interface RowDates {
  /** What the gathering room makes of them, EDTF. */
  guessed: Partial<Record<Dated, string>>;
  /** Told of each cell that is neither read here nor guessed. */
  unread: (text: string, as: 'a date' | 'a day') => void;
}

/** A row of our own table, by the names of its columns; undefined for a row of another. */
export function bookOfRow(
  cells: Readonly<Record<string, string>>,
  { guessed, unread }: RowDates,
): NewBook | undefined {
  if (!COLUMNS.every((column) => cells[column] !== undefined)) return undefined;
  const cell = (column: Column): string => (cells[column] ?? '').replace(/^'(?=[=+@\t\r-])/, '');
  const textOf = (column: Dated): string => cell(column).replace(NOT_FINISHED, '').trim();
  const date = (column: Dated): string | undefined => {
    const text = textOf(column);
    if (text === '' || readDate(text).ok) return text || undefined;
    if (guessed[column] === undefined) unread(text, 'a date');
    return guessed[column];
  };
  /** A single day is written over as the dates are, and then stands as that of the beginning or the end does. */
  const day = (text: string): string[] => {
    const edge = (['started', 'finished'] as const).find((column) => textOf(column) === text);
    const said = edge ? guessed[edge]?.replace('?', '') : dateOf(text);
    const found = [text, said ?? ''].find(isDay);
    if (found === undefined) unread(text, 'a day');
    return found === undefined ? [] : [found];
  };
  const isbn = readIsbn(cell('isbn'));
  const pages = numberIn(cell('pages'));
  const reading = readingIn(cell, date, day);
  const { started, finished, abandoned, rating, form } = reading ?? {};
  return defined({
    title: cell('title'),
    authors: apart(cell('author')),
    isbn: isbn.ok ? isbn.isbn13 : undefined,
    published: date('published'),
    pages: Number.isInteger(pages) && pages! > 0 ? pages : undefined,
    language: cell('language') || undefined,
    lists: apart(cell('list')),
    note: cell('book note') || undefined,
    ...{ started, finished, abandoned, rating, form, reading },
  });
}

function readingIn(
  cell: (column: Column) => string,
  date: (column: Dated) => string | undefined,
  day: (text: string) => string[],
): NewBook['reading'] {
  const form = (['print', 'ebook', 'audio'] as const).find((each) => each === cell('form'));
  if (!form) return undefined;
  const abandoned = cell('finished').startsWith(NOT_FINISHED);
  const days = cell('days read').split(/\s+/).filter(Boolean).flatMap(day);
  const rating = numberIn(cell('rating'));
  return defined({
    form,
    started: date('started'),
    finished: date('finished'),
    abandoned: abandoned || undefined,
    pages: numberIn(cell('pages read')),
    minutes: numberIn(cell('minutes')),
    days: days.length > 0 ? days : undefined,
    rating: rating && rating <= 5 && Number.isInteger(rating * 2) ? rating : undefined,
    note: cell('note') || undefined,
    schoolYear: schoolYearNamed(cell('school year')) ?? (cell('school year') || undefined),
  });
}

const numberIn = (cell: string): number | undefined =>
  /^\d+(?:\.\d+)?$/.test(cell) ? Number(cell) : undefined;

/** The record without its fields that are undefined. */
function defined<T extends object>(row: { [K in keyof T]: T[K] | undefined }): T {
  return Object.fromEntries(Object.entries(row).filter(([, value]) => value !== undefined)) as T;
}
