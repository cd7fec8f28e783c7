import { expect, test } from 'vitest';
import { emptyJournal } from '../../../src/journal/journal';
import { writeJournalFile } from '../../../src/journal/file';
import type { Entry, EntryId, HeadingId, ReadingId } from '../../../src/journal/records';
import { NOW, smallJournal } from './build';
import { gathered, keep } from './from-text';

const entry = (id: string, more: Partial<Entry>): Entry => ({
  id: id as EntryId,
  kind: 'note',
  text: '',
  ties: [],
  added: NOW,
  changed: NOW,
  ...more,
});

test('of another journal its pictures are left, and it is told what else is', async () => {
  const other = smallJournal();
  const picture = { digest: 'a'.repeat(64), type: 'image/png', alt: 'A slate' };
  for (const one of [
    entry('e1', { text: 'The Mole had been working very hard.' }),
    entry('e2', { picture }),
    entry('e3', { text: 'The slate', picture }),
  ])
    other.tables.entries.set(one.id, one);
  const reading = { id: 'r1' as ReadingId, book: 'emma' as HeadingId, form: 'print' as const };
  other.tables.readings.set(reading.id, reading);
  const own = emptyJournal('own', 'Own', NOW);
  const files = { 'other.json': writeJournalFile(other) };
  const made = await gathered(own, files);
  expect(made.pieces.map(({ text }) => text)).toEqual(['The Mole had been working very hard.']);
  expect(made.files[0]?.reason).toMatch(/^2 pictures and 1 reading .*“Open a copy”/u);
  keep(own, made);
  expect(keep(own, await gathered(own, files)).edit.changes).toEqual([]);
});
