import { strToU8 } from 'fflate';
import { describe, expect, test } from 'vitest';
import type { ReadWhole } from '../../../src/gather/block';
import { readFile } from '../../../src/gather/read-file';

async function whole(path: string, text: string): Promise<ReadWhole> {
  for await (const { result } of readFile({ path, bytes: strToU8(text) })) {
    if (result.ok) return result;
    throw new Error(result.message);
  }
  throw new Error('nothing was read');
}

const books = async (path: string, text: string): Promise<string[]> =>
  ((await whole(path, text)).books ?? []).map(
    ({ title, authors }) => `${title} by ${authors.join(' and ')}`,
  );

const rows = async (path: string, text: string): Promise<unknown[]> =>
  (await whole(path, text)).blocks.map(({ cells }) => cells);

const BOTH = ['Heidi by Johanna Spyri', 'Emma by Jane Austen'];

describe('a table that is not quite tidy', () => {
  test('may end its lines in several ways', async () => {
    const text = 'Title,Author\r\nHeidi,Johanna Spyri\nEmma,Jane Austen\r\n';
    expect(await books('b.csv', text)).toEqual(BOTH);
  });

  test('may say in a first line what parts its cells', async () => {
    const text = 'sep=;\nTitle;Author\nHeidi;Johanna Spyri\nEmma;Jane Austen\n';
    const read = await whole('b.csv', text);
    expect(await books('b.csv', text)).toEqual(BOTH);
    expect(read.books?.map(({ place }) => place.row)).toEqual([2, 3]);
  });

  test('may have its title above the names of its columns', async () => {
    const text = 'Books we read 2014,,\n,,\nTitle,Author,Year\nHeidi,Johanna Spyri,1881\n';
    const read = await whole('b.csv', text);
    expect(read.title).toBe('Books we read 2014');
    expect(read.books).toMatchObject([{ title: 'Heidi', published: '1881', place: { row: 4 } }]);
    expect(read.blocks).toEqual([]);
  });

  test('keeps a first row of one cell that no names follow', async () => {
    const text = 'one,,\ntwo,three,four\nfive,six,seven\n';
    expect((await whole('b.csv', text)).blocks.map(({ text: said }) => said)).toEqual([
      'one',
      'two · three · four',
      'five · six · seven',
    ]);
  });
});

describe('a quotation mark that opens a cell and never closes', () => {
  const told = (row: string): RegExp => new RegExp(`do not match in row ${row};`);

  test('costs no other row', async () => {
    const text = 'Quote\tBook\n"Nothing is\tFrank\nlast\tHeidi\n';
    expect(await rows('q.tsv', text)).toEqual([
      { Quote: '"Nothing is', Book: 'Frank' },
      { Quote: 'last', Book: 'Heidi' },
    ]);
    expect((await whole('q.tsv', text)).notes.join()).toMatch(told('2'));
  });

  test('costs no row that is quoted well after it, or before', async () => {
    const text = 'Quote,Book\n"a, b",Emma\n"Nothing is,Frank\n"c, ""d""\ne",Kim\nlast,Heidi\n';
    expect(await rows('q.csv', text)).toEqual([
      { Quote: 'a, b', Book: 'Emma' },
      { Quote: '"Nothing is', Book: 'Frank' },
      { Quote: 'c, "d"\ne', Book: 'Kim' },
      { Quote: 'last', Book: 'Heidi' },
    ]);
  });

  test('leaves a cell whole where the file is cut short within it', async () => {
    const text = 'Quote,Book,Thought\na,Emma,"The firs, the snow\nand then, at last, home';
    expect(await rows('q.csv', text)).toEqual([
      { Quote: 'a', Book: 'Emma', Thought: 'The firs, the snow\nand then, at last, home' },
    ]);
  });

  test('over and over does not make a long table slow', async () => {
    const lines = Array.from({ length: 20_000 }, (_, at) => `"Nothing is ${at}\tFrank`);
    const { blocks } = await whole('q.tsv', `Quote\tBook\n${lines.join('\n')}\n`);
    expect(blocks).toHaveLength(20_000);
    expect(blocks.at(-1)?.cells).toEqual({ Quote: '"Nothing is 19999', Book: 'Frank' });
  });
});

test('records of JSON are a table whatever their fields are called', async () => {
  const text = JSON.stringify([
    { title: 'Heidi', textContent: 'Grandmother cannot see the light', isArchived: false },
    { title: '', textContent: 'Bring a magnet', isArchived: true },
  ]);
  const read = await whole('notes.json', text);
  expect(read.blocks.map(({ cells }) => cells)).toEqual([
    { title: 'Heidi', textContent: 'Grandmother cannot see the light', isArchived: 'false' },
    { textContent: 'Bring a magnet', isArchived: 'true' },
  ]);
  expect(read.columns).toMatchObject({ title: 'title' });
});

describe('what a list of books says of reading', () => {
  const told = async (text: string): Promise<ReadWhole> => whole('read.csv', text);

  test('a rating is out of ten where its column says so, or a cell is above five', async () => {
    const ratings = async (text: string): Promise<unknown[]> =>
      ((await told(text)).books ?? []).map(({ rating }) => rating);
    expect(
      await ratings('Title,Author,Rating (out of 10)\nHeidi,Spyri,3\nEmma,Austen,4\n'),
    ).toEqual([1.5, 2]);
    expect(
      await ratings('Title,Author,Score\nHeidi,Spyri,8\nEmma,Austen,4\nKim,Kipling,10\n'),
    ).toEqual([4, 2, 5]);
    expect(await ratings('Title,Author,Rating\nHeidi,Spyri,4\nEmma,Austen,8/10\n')).toEqual([4, 4]);
    expect(
      await ratings('Title,Author,Rating (out of 10)\nHeidi,Spyri,4/5\nEmma,Austen,85\n'),
    ).toEqual([4, undefined]);
  });

  test.each([
    ['Jan-13', '2013-01'],
    ['Mar-12', '2012-03'],
    ['finished 3 May 2013', '2013-05-03'],
    ['Read in June 2012', '2012-06'],
    ['41397', '2013-05-03'],
    ['not finished, 3 May 2013', '2013-05-03'],
  ])('a book was read when the cell says %s', async (cell, finished) => {
    const { books, notes } = await told(`Title,Author,Date read\nHeidi,Spyri,"${cell}"\n`);
    expect(books).toMatchObject([{ finished }]);
    expect(books?.[0]?.undated).toBeUndefined();
    expect(notes).toEqual([]);
  });

  test('a cell that says no date is kept in its words, and its row is named', async () => {
    const { books, notes } = await told(
      'Title,Author,Started,Date read\nHeidi,Spyri,,summer holidays 2012\nEmma,Austen,,\nKim,Kipling,2013-01-02,2/30/2013\nPeter,Barrie,,abandoned at p. 50\nWaves,Woolf,,abandoned\n',
    );
    expect(books?.map(({ undated }) => undated)).toEqual([
      'Date read: summer holidays 2012',
      undefined,
      'Date read: 2/30/2013',
      'Date read: abandoned at p. 50',
      undefined,
    ]);
    expect(books?.[2]).toMatchObject({ started: '2013-01-02' });
    expect(notes.join()).toMatch(/rows 2, 4, 5/);
  });

  test.each(['no', 'Not yet', '-', 'n/a', 'to read', '?'])(
    'a book was not read when the cell says %s',
    async (cell) => {
      const { books, notes } = await told(`Title,Author,Date read\nHeidi,Spyri,${cell}\n`);
      expect(books).toEqual([
        expect.not.objectContaining({ undated: expect.anything() as string }),
      ]);
      expect(notes).toEqual([]);
    },
  );
});
