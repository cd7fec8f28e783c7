import { describe, expect, test } from 'vitest';
import type { Core } from '../../../src/engine/core';
import { addBooks } from '../../../src/engine/reading-add';
import { catalogueView, type BookState } from '../../../src/engine/reading-books';
import { changeBooks } from '../../../src/engine/reading-bulk';
import { booksInLines, lookAtIsbn, readBooks } from '../../../src/engine/reading-in';
import { booksOut } from '../../../src/engine/reading-out';
import { keepBook } from '../../../src/gather/accept-books';
import { EditRows } from '../../../src/gather/edit-rows';
import type { BookGathered } from '../../../src/gather/gathering';
import { NewHeadings } from '../../../src/gather/new-headings';
import { apply } from '../../../src/journal/edits';
import { writeJournalFile } from '../../../src/journal/file';
import type { HeadingId, Journal, ListId, SealId } from '../../../src/journal/records';
import { at, book, journalOf, person, reading } from '../reading/few';

const filled = (): Journal =>
  journalOf({
    headings: [
      person('austen', 'Jane Austen'),
      book('emma', 'Emma', { authors: ['austen' as HeadingId], isbn: '9780306406157' }),
      book('night', 'A "Quiet", Night', { pages: 120, published: '1890~' }),
    ],
    readings: [
      reading('r1', 'emma', '2019-05', { rating: 4.5, minutes: 300, schoolYear: '2018/19' }),
      reading('r2', 'emma', '2024-06-02', { form: 'audio' }),
    ],
  });
const coreOf = (journal: Journal): Core =>
  ({
    journal,
    around: at('2025-11-06'),
    revision: 1,
    nowIso: () => '2025-11-06T12:00:00.000Z',
  }) as unknown as Core;
const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

describe('books brought out and in again', () => {
  test('as CSV are all known, with nothing new to keep', async () => {
    const core = coreOf(filled());
    const { text, books } = await booksOut(core, 'csv');
    expect(books).toBe(2);
    const back = await readBooks(core, 'books.csv', bytes(text));
    expect(back.books.map(({ known, said }) => [known?.id, said])).toEqual([
      ['emma', 'known'],
      ['emma', 'known'],
      ['night', 'known'],
    ]);
  });

  test('into an empty journal are the same books with the same readings', async () => {
    const { text } = await booksOut(coreOf(filled()), 'csv');
    const empty = coreOf(journalOf({}));
    const { books } = await readBooks(empty, 'books.csv', bytes(text));
    const asked = addBooks(empty, books);
    expect(asked.ok && apply(empty.journal, asked.edit).ok).toBe(true);
    const { headings, readings } = empty.journal.tables;
    expect([...headings.values()].map(({ name }) => name).sort()).toEqual([
      'A "Quiet", Night',
      'Emma',
      'Jane Austen',
    ]);
    expect([...readings.values()].map(({ id: _id, book: _book, ...rest }) => rest)).toEqual([
      { form: 'print', finished: '2019-05', rating: 4.5, minutes: 300, schoolYear: '2018/19' },
      { form: 'audio', finished: '2024-06-02' },
    ]);
  });

  test.each(['bibtex', 'csl-json'] as const)('as %s are known again', async (form) => {
    const core = coreOf(filled());
    const { text, name } = await booksOut(core, form);
    const back = await readBooks(core, name, bytes(text));
    expect(back.books.map(({ known }) => known?.id).sort()).toEqual(['emma', 'night']);
  });
});

test.each([
  ['abandoned', undefined],
  ['given up, 3 May 2024', '2024-05-03'],
  ['Put down on 2024-05', '2024-05'],
  ['DNF (spring 2024)', '2024-21'],
])('a table that says “%s” tells of a book put down, and when', async (cell, finished) => {
  const table = bytes(`title,author,finished\nEmma,Jane Austen,"${cell}"\n`);
  const { books } = await readBooks(coreOf(journalOf({})), 'books.csv', table);
  expect(books[0]).toMatchObject({ title: 'Emma', abandoned: true });
  expect(books[0]?.finished).toBe(finished);
});

test('a row said twice is one reading', () => {
  const core = coreOf(filled());
  const row = { title: 'Heidi', authors: ['Johanna Spyri'], finished: '2024-12-31' };
  const asked = addBooks(core, [row, row, { ...row, finished: '2025-01-01' }]);
  expect(asked.ok).toBe(true);
  if (!asked.ok) return;
  const readings = asked.edit.changes.filter(({ table }) => table === 'readings');
  expect(readings.map(({ after }) => after)).toEqual([
    expect.objectContaining({ finished: '2024-12-31' }),
    expect.objectContaining({ finished: '2025-01-01' }),
  ]);
});

describe('one change to many books', () => {
  test('what is said counts the books it touches', () => {
    const asked = changeBooks(coreOf(filled()), ['emma', 'night'] as HeadingId[], {
      what: 'rating',
      rating: 5,
    });
    expect(asked.ok && asked.edit.does).toBe('Rate 1 book 5');
  });

  test.each([
    { what: 'list', name: 'Winter' },
    { what: 'language', language: 'en' },
    { what: 'finished', on: '2023-24', form: 'print' },
    { what: 'remove' },
  ] as const)('is taken back whole: $what', (change) => {
    const core = coreOf(filled());
    const before = writeJournalFile(core.journal);
    const asked = changeBooks(core, ['emma', 'night'] as HeadingId[], change);
    expect(asked.ok).toBe(true);
    if (!asked.ok) return;
    const done = apply(core.journal, asked.edit);
    expect(done.ok && writeJournalFile(core.journal)).not.toBe(before);
    if (done.ok) apply(core.journal, done.inverse);
    expect(writeJournalFile(core.journal)).toBe(before);
  });

  test('a date that is none is refused', () => {
    const asked = changeBooks(coreOf(filled()), ['emma' as HeadingId], {
      what: 'finished',
      on: 'sometime',
      form: 'print',
    });
    expect(asked.ok).toBe(false);
  });
});

test('an ISBN is checked, and a book that has it is named', () => {
  const core = coreOf(filled());
  expect(lookAtIsbn(core, '0-306-40615-2').known?.id).toBe('emma');
  expect(lookAtIsbn(core, '978-0-306-40615-8').ok).toBe(false);
});

test('lines of “Title by Author” are books', () => {
  expect(booksInLines('- Emma by Jane Austen\n\nBy the River\nHeidi\tJohanna Spyri')).toEqual([
    { title: 'Emma', authors: ['Jane Austen'] },
    { title: 'By the River', authors: [] },
    { title: 'Heidi', authors: ['Johanna Spyri'] },
  ]);
});

test('a book that is read again is in hand, and read', () => {
  const journal = journalOf({
    headings: [book('emma', 'Emma')],
    readings: [
      reading('r1', 'emma', '2020'),
      reading('r2', 'emma', undefined, { started: '2025-11-01' }),
    ],
  });
  const shown = (state: BookState): unknown =>
    catalogueView(coreOf(journal), { state }).lines.map(({ last, inHand }) => [last, inHand]);
  expect(shown('in-hand')).toEqual([['2020', true]]);
  expect(shown('read')).toEqual([['2020', true]]);
  expect(shown('unread')).toEqual([]);
});

describe('a sealed list', () => {
  const sealed = (): Journal =>
    journalOf({
      headings: [book('emma', 'Emma')],
      lists: [{ id: 'x' as ListId, name: 'Xmas', books: [], seal: 's1' as SealId }],
      seals: [{ id: 's1' as SealId, envelope: 'e' }],
    });

  test('takes no books by the bulk', () => {
    const asked = changeBooks(coreOf(sealed()), ['emma' as HeadingId], {
      what: 'list',
      list: 'x' as ListId,
    });
    expect(!asked.ok && asked.code).toBe('gone');
  });

  test('takes none that is gathered for a list of its name', () => {
    const journal = sealed();
    const rows = new EditRows(journal);
    const found = { title: 'Emma', authors: [], list: 'Xmas', place: {} };
    const tie = { heading: 'emma' as HeadingId, name: 'Emma' };
    const options = { newId: () => 'new' };
    keepBook(
      { ...found, tie, source: { path: 'a.csv', place: {} } } as unknown as BookGathered,
      rows,
      new NewHeadings(journal, options.newId),
      options,
    );
    expect(rows.get('lists', 'x')?.books).toEqual([]);
    expect(rows.get('lists', 'new')?.books).toEqual(['emma']);
  });
});
