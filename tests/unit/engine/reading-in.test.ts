/** Books brought in: our own table once a spreadsheet has written over it, and readings that are known already. */
import { describe, expect, test } from 'vitest';
import type { Core } from '../../../src/engine/core';
import { addBooks } from '../../../src/engine/reading-add';
import { readBooks, type BooksLooked } from '../../../src/engine/reading-in';
import { booksOut } from '../../../src/engine/reading-out';
import { apply } from '../../../src/journal/edits';
import type { Journal, Reading } from '../../../src/journal/records';
import { at, book, journalOf, reading } from '../reading/few';

let revision = 0;
const around = at('2025-11-06');
const coreOf = (journal: Journal): Core =>
  ({
    journal,
    around,
    revision: (revision += 1),
    nowIso: () => '2025-11-06T12:00:00.000Z',
  }) as unknown as Core;
const looked = (journal: Journal, text: string): Promise<BooksLooked> =>
  readBooks(coreOf(journal), 'books.csv', new TextEncoder().encode(text));
const keep = (journal: Journal, { books }: BooksLooked): void => {
  const asked = addBooks(coreOf(journal), books);
  if (asked.ok && !apply(journal, asked.edit).ok) throw new Error('refused');
};
const readings = (journal: Journal): Omit<Reading, 'id' | 'book'>[] =>
  [...journal.tables.readings.values()].map(({ id: _id, book: _book, ...rest }) => rest);

describe('our own table once saved by a spreadsheet', () => {
  const journal = (): Journal =>
    journalOf({
      headings: [book('emma', 'Emma', { published: '1815-12' })],
      readings: [
        reading('r1', 'emma', '2014-03-25', { started: '2014-03-21', days: ['2014-03-23'] }),
        reading('r2', 'emma', '2015-04-30', { started: '2015-04-16', abandoned: true }),
      ],
    });
  const saved = async (): Promise<string> =>
    (await booksOut(coreOf(journal()), 'csv')).text
      .replaceAll(/(\d{4})-(\d\d)-(\d\d)/g, '$3/$2/$1')
      .replaceAll('1815-12', 'Dec-15');

  test('keeps its dates and its days', async () => {
    const empty = journalOf({});
    keep(empty, await looked(empty, await saved()));
    expect(readings(empty)).toEqual(readings(journal()));
  });

  test('says which cells are not read', async () => {
    const found = await looked(journalOf({}), (await saved()).replace('21/03/2014', 'at Easter'));
    expect(found.notes).toEqual([
      'row 2: “at Easter” is not read as a date.',
      'row 2: “Dec-15” is not read as a date.',
      'row 3: “Dec-15” is not read as a date.',
      expect.stringContaining('the words in its note'),
    ]);
    const empty = journalOf({});
    keep(empty, found);
    expect(readings(empty)).toContainEqual(
      expect.objectContaining({ note: expect.stringContaining('at Easter') as string }),
    );
  });
});

test('a cell of a row that is written twice is told of once', async () => {
  const [head = ''] = (await booksOut(coreOf(journalOf({})), 'csv')).text.split('\r\n');
  const cells: Record<string, string> = {
    title: 'Emma',
    started: 'unknown',
    finished: 'unknown',
    form: 'print',
  };
  const row = head
    .replace('\uFEFF', '')
    .split(',')
    .map((column) => cells[column] ?? '');
  const { notes } = await looked(journalOf({}), [head, row.join(','), row.join(',')].join('\r\n'));
  expect(notes.filter((note) => note.includes('not read'))).toEqual([
    'row 2: “unknown” is not read as a date.',
    'row 3: “unknown” is not read as a date.',
  ]);
});

describe('a reading that a table tells of', () => {
  const emma = (...known: [string | undefined, Partial<Reading>?][]): Journal =>
    journalOf({
      headings: [book('emma', 'Emma')],
      readings: known.map(([finished, more], n) => reading(`r${n}`, 'emma', finished, more)),
    });
  const told = (row: string): string =>
    `Title,Author,Date started,Date finished,My Rating\nEmma,Jane Austen,${row}\n`;
  const after = async (journal: Journal, text: string): Promise<ReturnType<typeof readings>> => {
    keep(journal, await looked(journal, text));
    return readings(journal);
  };

  test('without its beginning is the one finished on that day, and fills what that one lacks', async () => {
    const known = emma(['2014-03-05', { started: '2014-03-01' }]);
    const facts = 'title,isbn,published,pages,language\nEmma,9780141439587,1815,474,en\n';
    expect((await looked(known, facts)).books[0]?.said).toBe(
      'known; adds the ISBN, the year, the pages and the language',
    );
    expect((await looked(known, told(',2014-03-05,5'))).books[0]?.said).toBe(
      'known; adds the author and more of a reading',
    );
    expect(await after(known, told(',2014-03-05,5'))).toEqual([
      { form: 'print', started: '2014-03-01', finished: '2014-03-05', rating: 5 },
    ]);
  });

  test('finishes the one in hand that was begun on the same day', async () => {
    const known = emma([undefined, { started: '2014-03-01', days: ['2014-03-02'] }]);
    expect(await after(known, told('2014-03-01,2014-03-05,'))).toEqual([
      { form: 'print', started: '2014-03-01', finished: '2014-03-05', days: ['2014-03-02'] },
    ]);
  });

  test('by a rating alone rates the last one', async () => {
    const known = emma(['2012'], ['2014']);
    expect(await after(known, told(',,4'))).toEqual([
      { form: 'print', finished: '2012' },
      { form: 'print', finished: '2014', rating: 4 },
    ]);
  });

  test('begun on another day is another', async () => {
    const known = emma(['2014', { started: '2014-01-01' }]);
    expect(await after(known, told('2014-02-01,2014,'))).toHaveLength(2);
  });
});

describe('our own table', () => {
  const own = (): Journal =>
    journalOf({
      headings: [book('emma', 'Emma')],
      readings: [
        reading('r1', 'emma', undefined, { abandoned: true, note: 'Too young for it' }),
        reading('r2', 'emma', undefined, { abandoned: true, note: 'Too tired for it' }),
        reading('r5', 'emma', '2014-03-05', { started: '2014-03-01' }),
        reading('r3', 'emma', '2014'),
        reading('r4', 'emma', '2014', { form: 'audio', minutes: 900 }),
      ],
    });

  test('brings readings of the same date back as they were, each by itself', async () => {
    const empty = journalOf({});
    keep(empty, await looked(empty, (await booksOut(coreOf(own()), 'csv')).text));
    expect(readings(empty)).toEqual(readings(own()));
  });

  test('brings nothing twice, though a spreadsheet has written its days over or a rating came since', async () => {
    const { text } = await booksOut(coreOf(own()), 'csv');
    const journal = own();
    const rated: Reading = { ...journal.tables.readings.get('r3')!, rating: 3 };
    const change = { table: 'readings', id: 'r3', after: rated } as const;
    expect(apply(journal, { does: 'Rate', changes: [change] }).ok).toBe(true);
    keep(journal, await looked(journal, text.replaceAll(/(\d{4})-(\d\d)-(\d\d)/g, '$3/$2/$1')));
    expect(journal.tables.readings.size).toBe(5);
  });
});
