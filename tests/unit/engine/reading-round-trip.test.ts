/** Random catalogues brought out as CSV, BibTeX and CSL-JSON and into an empty journal: what each form can hold comes back. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Core } from '../../../src/engine/core';
import { addBooks } from '../../../src/engine/reading-add';
import { readBooks } from '../../../src/engine/reading-in';
import { booksOut, type BooksForm } from '../../../src/engine/reading-out';
import { apply } from '../../../src/journal/edits';
import type {
  BookHeading,
  HeadingId,
  Journal,
  ListId,
  Reading,
  ReadingId,
} from '../../../src/journal/records';
import { readDate, yearOf } from '../../../src/language/dates';
import { nameKey } from '../../../src/language/filing';
import { at, book, journalOf, person } from '../reading/few';

/** What a catalogue says of a book, names in place of ids. */
interface Said {
  name: string;
  authors: string[];
  isbn?: string;
  published?: string;
  pages?: number;
  language?: string;
  note?: string;
  lists: string[];
  readings: Omit<Reading, 'id' | 'book'>[];
}

const day = fc
  .date({ min: new Date('2009-01-01'), max: new Date('2026-12-31'), noInvalidDate: true })
  .map((date) => date.toISOString().slice(0, 10));
const date = fc.oneof(
  day,
  day.map((iso) => iso.slice(0, 7)),
  fc.constantFrom('2008', '201X', '2014-21', '1984~', '2004-06/2006-08', '1835/1872', '1719?'),
);
const published = fc.oneof(date, fc.constantFrom('1847', '1868/1869', '0800', '-0399', '1762~'));
const isbn13 = fc.integer({ min: 0, max: 999_999_999 }).map((number) => {
  const digits = `978${String(number).padStart(9, '0')}`;
  const sum = [...digits].reduce((all, digit, n) => all + Number(digit) * (n % 2 ? 3 : 1), 0);
  return digits + String((10 - (sum % 10)) % 10);
});
const line = fc.string({ minLength: 1, maxLength: 24, unit: 'grapheme' });
const prose = fc
  .array(line, { minLength: 1, maxLength: 3 })
  .map((lines) => lines.join('\n').normalize('NFC').trim())
  .filter(
    (text) =>
      text !== '' && !/^'[=+@-]/.test(text) && !/[\p{Cc}\p{Cf}]/u.test(text.replaceAll('\n', '')),
  );
const TITLES = [
  'Emma',
  'The Wind in the Willows',
  'A "Quiet", Night',
  '=SUM(A1)',
  '+1 for Adventure',
  '-ing and -ed',
  '@ Home',
  'Émile; or, On Education',
  '100% Wool & 50_50 #2 {x} ~ ^ \\ $',
  'Black Beauty, by a Friend',
  'War and Peace',
  '1984',
  'Old; New',
];
const AUTHORS = [
  'Jane Austen',
  'Martin Luther King Jr.',
  'Ursula K. Le Guin',
  'The Brothers Grimm',
  'Simon and Garfunkel',
  'Voltaire',
  'Charlotte Brontë',
  'Ludwig van Beethoven',
  'Alexandre Dumas, père',
];
const LISTS = ['To be read', 'School year 2024/25', 'Spring, and after'];

const reading = fc.record(
  {
    form: fc.constantFrom('print', 'ebook', 'audio'),
    started: date,
    finished: date,
    abandoned: fc.constant(true),
    pages: fc.nat(900),
    minutes: fc.nat(900),
    days: fc.uniqueArray(day, { minLength: 1, maxLength: 4 }),
    rating: fc.integer({ min: 1, max: 10 }).map((half) => half / 2),
    note: prose,
    schoolYear: fc.constantFrom('2024/25', '2009/10'),
  },
  { requiredKeys: ['form'] },
) as fc.Arbitrary<Omit<Reading, 'id' | 'book'>>;

const said = fc.record(
  {
    name: fc.constantFrom(...TITLES),
    authors: fc.uniqueArray(fc.constantFrom(...AUTHORS), { maxLength: 3 }),
    lists: fc.uniqueArray(fc.constantFrom(...LISTS), { maxLength: 3 }),
    readings: fc.array(reading, { maxLength: 3 }),
    isbn: isbn13,
    published,
    pages: fc.integer({ min: 1, max: 99_999 }),
    language: fc.constantFrom('en', 'fr-CA'),
    note: prose,
  },
  { requiredKeys: ['name', 'authors', 'lists', 'readings'] },
) as fc.Arbitrary<Said>;
const catalogues = fc.uniqueArray(said, {
  minLength: 1,
  maxLength: 6,
  selector: ({ name }) => name,
});

function journalWith(all: readonly Said[]): Journal {
  const authors = [...new Set(all.flatMap((each) => each.authors))];
  const idOf = (author: string): HeadingId => `person-${author}` as HeadingId;
  return journalOf({
    headings: [
      ...authors.map((name) => person(idOf(name), name)),
      ...all.map(({ name, lists: _lists, readings: _readings, ...more }) =>
        book(name, name, { ...more, authors: more.authors.map(idOf) }),
      ),
    ],
    readings: all.flatMap(({ name, readings }) =>
      readings.map((each, n) => ({
        id: `${name} ${n}` as ReadingId,
        book: name as HeadingId,
        ...each,
      })),
    ),
    lists: LISTS.map((name) => ({
      id: name as ListId,
      name,
      books: all.filter(({ lists }) => lists.includes(name)).map((each) => each.name as HeadingId),
    })),
  });
}

/** What a journal says of its books, in an order that is always the same. */
function saidBy({ tables }: Journal): Said[] {
  const inOrder = <T>(rows: T[]): T[] =>
    rows.sort((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1));
  const books = [...tables.headings.values()].filter((each) => each.kind === 'book');
  return inOrder(
    books.map(({ id, kind: _kind, alternates: _alternates, ...book }: BookHeading) => ({
      ...book,
      authors: book.authors.map((author) => tables.headings.get(author)!.name),
      lists: [...tables.lists.values()]
        .filter((list) => list.books.includes(id))
        .map(({ name }) => name)
        .sort(),
      readings: inOrder(
        [...tables.readings.values()]
          .filter((each) => each.book === id)
          .map(({ id: _id, book: _book, ...rest }) => sorted(rest)),
      ),
    })),
  ).map(sorted);
}
const sorted = <T extends object>(row: T): T =>
  Object.fromEntries(Object.entries(row).sort(([a], [b]) => (a < b ? -1 : 1))) as T;

const coreOf = (journal: Journal): Core =>
  ({ journal, around: at('2025-11-06'), revision: 1 }) as unknown as Core;

async function outAndIn(journal: Journal, form: BooksForm): Promise<Journal> {
  const { name, text } = await booksOut(coreOf(journal), form);
  const back = coreOf(journalOf({}));
  const { books, notes } = await readBooks(back, name, new TextEncoder().encode(text));
  expect(notes).toEqual([]);
  const asked = addBooks(back, books);
  if (!asked.ok) throw new Error(asked.said);
  const applied = apply(back.journal, asked.edit);
  if (!applied.ok) throw new Error(JSON.stringify(applied));
  return back.journal;
}

test('as CSV all of it comes back: authors, lists, notes, and every reading, put down or not', async () => {
  await fc.assert(
    fc.asyncProperty(catalogues, async (all) => {
      const journal = journalWith(all);
      const back = await outAndIn(journal, 'csv');
      expect(saidBy(back)).toEqual(saidBy(journal));
    }),
    { numRuns: 150 },
  );
});

test('as CSV brought into the journal it came from there is nothing to keep', async () => {
  await fc.assert(
    fc.asyncProperty(catalogues, async (all) => {
      const core = coreOf(journalWith(all));
      const { text } = await booksOut(core, 'csv');
      const { books } = await readBooks(core, 'books.csv', new TextEncoder().encode(text));
      expect(new Set(books.map((each) => each.said))).toEqual(new Set(['known']));
      expect(addBooks(core, books)).toMatchObject({ ok: false, code: 'nothing' });
    }),
    { numRuns: 50 },
  );
});

test('two books bound as one under one ISBN are each known by their title', async () => {
  const isbn = '9780306406157';
  const books = [
    book('emma', 'Emma', { isbn, language: 'en' }),
    book('emile', 'Émile; or, On Education', { isbn }),
  ];
  const core = coreOf(journalOf({ headings: books }));
  const { text } = await booksOut(core, 'csv');
  const read = await readBooks(core, 'books.csv', new TextEncoder().encode(text));
  const titles = new Map(books.map(({ id, name }) => [id, name]));
  expect(read.books).toHaveLength(2);
  for (const { title, known } of read.books) expect(titles.get(known!.id)).toBe(title);
  expect(addBooks(core, read.books)).toMatchObject({ ok: false, code: 'nothing' });
});

const ofTheBook = ({ name, authors, isbn, pages, language }: Said): object => ({
  name,
  authors: authors.map((author) => nameKey(author, 'person')),
  isbn,
  pages,
  language,
});

test('as BibTeX the books come back with authors, ISBN, pages, language, and the date as exact or vague as it was', async () => {
  await fc.assert(
    fc.asyncProperty(catalogues, async (all) => {
      const journal = journalWith(all);
      const back = saidBy(await outAndIn(journal, 'bibtex'));
      const want = saidBy(journal);
      expect(back.map(ofTheBook)).toEqual(want.map(ofTheBook));
      expect(back.map((each) => each.published)).toEqual(want.map((each) => each.published));
    }),
    { numRuns: 150 },
  );
});

/** A date of CSL 1.0.2 has a day, a month, or one or two years, and "circa": a doubt is not told from a guess. */
test('as CSL-JSON the books come back with authors, ISBN, pages, language, and when they were published', async () => {
  const years = (published: string | undefined): unknown => {
    const read = published === undefined ? undefined : readDate(published);
    if (!published || !read?.ok) return undefined;
    const { earliest, latest, approximate, uncertain } = read.date;
    if (/^\d{4}-(?:0|1[0-2])/.test(published) && !published.includes('/')) return published;
    const year = yearOf(published);
    const span = [earliest, latest].map((end) => end?.slice(0, end.startsWith('-') ? 5 : 4));
    return { years: year ?? span, about: approximate || uncertain };
  };
  await fc.assert(
    fc.asyncProperty(catalogues, async (all) => {
      const journal = journalWith(all);
      const back = saidBy(await outAndIn(journal, 'csl-json'));
      const want = saidBy(journal);
      expect(back.map(ofTheBook)).toEqual(want.map(ofTheBook));
      expect(back.map((each) => years(each.published))).toEqual(
        want.map((each) => years(each.published)),
      );
    }),
    { numRuns: 150 },
  );
});
