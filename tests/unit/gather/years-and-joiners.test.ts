import { expect, test } from 'vitest';
import { safeText } from '../../../src/gather/readers/tools/safe-text';
import type { BookHeading, HeadingId } from '../../../src/journal/records';
import { smallJournal } from './build';
import { gathered } from './from-text';

test('a year in the name of a file that is of a book’s title dates nothing', async () => {
  const journal = smallJournal();
  for (const name of ['1984', '2001: A Space Odyssey']) {
    const id = name as HeadingId;
    const book: BookHeading = { id, kind: 'book', name, alternates: [], authors: [] };
    journal.tables.headings.set(id, book);
  }
  const { pieces } = await gathered(journal, {
    '1984 quotes.txt': 'Winston writes in the diary to the future.\n',
    '2001 A Space Odyssey notes.txt': 'The apes learn to use bones.\n\nI read this in May 2012.\n',
    '2014 alps.txt': 'The bells are heard in the village.\n',
    '1984 notes of 3 May 2013.txt': 'Julia wears the sash.\n',
  });
  expect(pieces.map(({ text, written }) => [text.split(' ')[0], written])).toEqual([
    ['Winston', undefined],
    ['The', undefined],
    ['I', undefined],
    ['The', '2014'],
    ['Julia', '2013-05-03'],
  ]);
});

test('what joins letters of Persian and parts of a picture stays; elsewhere it is nothing', () => {
  expect(safeText('می\u200cخواهم')).toBe('می\u200cخواهم');
  expect(safeText('क्\u200dष')).toBe('क्\u200dष');
  expect(safeText('👩\u200d👩\u200d👧 ❤️\u200d🔥')).toBe('👩\u200d👩\u200d👧 ❤️\u200d🔥');
  expect(safeText('na\u200cme \u200dend\u200b \u200cمی\u200c ')).toBe('name end می');
});
