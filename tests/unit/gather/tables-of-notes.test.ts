import { describe, expect, test } from 'vitest';
import { emptyJournal } from '../../../src/journal/journal';
import { headingsCalled } from '../../../src/journal/indexes';
import type { BookHeading, Journal } from '../../../src/journal/records';
import { NOW } from './build';
import { filesOf, gathered, keep } from './from-text';

const journal = (): Journal => emptyJournal('j', 'Test', NOW);

const said = async (table: string): Promise<string[]> => {
  const made = await gathered(journal(), { 'notes.csv': table });
  expect(made.books).toEqual([]);
  return made.pieces.map(({ kind, text, ties }) => {
    const [book] = ties;
    return `${kind}: ${text} (${book?.name}, ${book?.place?.page ?? '-'})`;
  });
};

describe('a table of notes on books', () => {
  test('gives each note with its book and its page', async () => {
    const table =
      'Book,Author,Page,Notes\nHeidi,Johanna Spyri,34,She runs barefoot\nHeidi,Johanna Spyri,81,Grandmother cannot see the light\nHeidi,Johanna Spyri,112,White rolls in the cupboard\n';
    expect(await said(table)).toEqual([
      'note: She runs barefoot (Heidi, 34)',
      'note: Grandmother cannot see the light (Heidi, 81)',
      'note: White rolls in the cupboard (Heidi, 112)',
    ]);
  });

  test('is known without authors or without pages', async () => {
    expect(
      await said('Book,Page,Comment\nHeidi,12,On the bread\nHeidi,40,On the kittens\n'),
    ).toEqual(['note: On the bread (Heidi, 12)', 'note: On the kittens (Heidi, 40)']);
    expect(
      await said('Book,Author,Thoughts\nHeidi,Spyri,On the goats\nHeidi,Spyri,On the light\n'),
    ).toEqual(['note: On the goats (Heidi, -)', 'note: On the light (Heidi, -)']);
  });

  test('is none where books of one name are by different people, or are dated', async () => {
    for (const table of [
      'Title,Author,Notes\nSelected Poems,Robert Frost,Lovely\nSelected Poems,Emily Dickinson,Short\n',
      'Title,Author,Finished,Notes\nHeidi,Spyri,2013,Lovely\nHeidi,Spyri,2014,Lovelier\n',
      'Title,Author,Notes\nHeidi,Spyri,Lovely\nEmma,Austen,Long\nKim,Kipling,\nPersuasion,Austen,\nHeidi,Spyri,Again\n',
    ]) {
      const made = await gathered(journal(), { 'books.csv': table });
      expect(made.pieces).toEqual([]);
      expect(made.books.length).toBeGreaterThan(1);
    }
  });
});

describe('a list of books', () => {
  test('keeps what two rows note on one book, and keeps it once', async () => {
    const own = journal();
    const list = {
      'books.csv':
        'Title,Author,Finished,Notes\nHeidi,Johanna Spyri,2014-05-03,lovely\nHeidi,Johanna Spyri,2014-05-03,second thoughts\n',
      'more.csv':
        'Title,Author,ISBN,Notes\nEmma,Jane Austen,,long\nEmma,Jane Austen,,not too long\nKim,Kipling,,\n',
    };
    keep(own, await gathered(own, list));
    expect([...own.tables.readings.values()].map(({ note }) => note)).toEqual([
      'lovely\nsecond thoughts',
    ]);
    const [emma] = headingsCalled(own, 'book', 'Emma');
    expect((own.tables.headings.get(emma!) as BookHeading).note).toBe('long\nnot too long');
    expect(keep(own, await gathered(own, list)).edit.changes).toEqual([]);
  });

  test('tells which filled columns no book keeps', async () => {
    const [file] = await filesOf({
      'books.csv':
        'Title,Author,Finished,Themes,Shelf,Read aloud to\nHeidi,Johanna Spyri,2014-05-03,home,,Ada and Ben\nEmma,Jane Austen,2013,,,\n',
    });
    expect(file?.result).toMatchObject({
      ok: true,
      leftOut: expect.stringMatching(/“Themes” and “Read aloud to”/u) as string,
    });
    const [plain] = await filesOf({ 'books.csv': 'Title,Author,Notes\nHeidi,Spyri,lovely\n' });
    expect(plain?.result).toMatchObject({ ok: true, notes: [] });
    expect(plain?.result).not.toHaveProperty('leftOut');
  });
});
