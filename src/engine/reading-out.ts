/** Books brought out: the catalogue with its readings as CSV, or the books as BibTeX or CSL-JSON. What is sealed stays. */
import type { BookHeading, HeadingId } from '../journal/records';
import { openRows, type OpenRows } from '../publish/open-rows';
import { sortDay } from '../reading/readings';
import type { Core } from './core';
import { readingsOf } from './reading-books';
import { BOOK_COLUMNS, FORMULA, rowOfBook } from './reading-table';

export type BooksForm = 'csv' | 'bibtex' | 'csl-json';

export interface BooksFile {
  name: string;
  type: string;
  text: string;
  /** How many books are in it. */
  books: number;
}

/** All books, or those chosen in their order, as a file that the same place reads in again. */
export async function booksOut(
  core: Core,
  form: BooksForm,
  ids?: readonly HeadingId[],
): Promise<BooksFile> {
  const rows = openRows(core.journal);
  const chosen = ids
    ? ids.flatMap((id) => rows.headings.get(id) ?? [])
    : [...rows.headings.values()];
  const books = chosen.filter((heading) => heading.kind === 'book');
  const count = books.length;
  if (form === 'csv') {
    const { default: Papa } = await import('papaparse');
    const data = books.flatMap((book) => rowsFor(core, rows, book));
    const how = { newline: '\r\n', escapeFormulae: FORMULA };
    const text = `\uFEFF${Papa.unparse([[...BOOK_COLUMNS], ...data], how)}\r\n`;
    return { name: 'books.csv', type: 'text/csv', text, books: count };
  }
  const headings = new Map([...rows.headings].filter(([, heading]) => heading.kind !== 'book'));
  for (const book of books) headings.set(book.id, book);
  const some = { ...rows, headings };
  if (form === 'bibtex') {
    const { toBibtex } = await import('../publish/bibtex');
    return {
      name: 'books.bib',
      type: 'application/x-bibtex',
      text: toBibtex(some),
      books: count,
    };
  }
  const { toCslJson } = await import('../publish/csl-json');
  return {
    name: 'books.json',
    type: 'application/vnd.citationstyles.csl+json',
    text: toCslJson(some),
    books: count,
  };
}

/** One row for each reading of a book, or one for a book not read. */
function rowsFor(core: Core, { headings }: OpenRows, book: BookHeading): string[][] {
  const lists = [...core.journal.tables.lists.values()]
    .filter((list) => !list.seal && list.books.includes(book.id))
    .map(({ name }) => name);
  const authors = book.authors.flatMap((id) => headings.get(id)?.name ?? []);
  const readings = readingsOf(core, book.id).sort((a, b) => (sortDay(a) < sortDay(b) ? -1 : 1));
  const of = readings.length > 0 ? readings : [undefined];
  return of.map((reading) => rowOfBook({ book, authors, lists, reading }));
}
