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
    const { notes } = await looked(journalOf({}), (await saved()).replace('21/03/2014', 'Mar-14'));
    expect(notes).toEqual([
      'row 2: “Mar-14” is not read as a date.',
      'row 2: “Dec-15” is not read as a date.',
      'row 3: “Dec-15” is not read as a date.',
    ]);
  });
});
