import { beforeAll, describe, expect, it } from 'vitest';
import { apply } from '../../../src/journal/edits';
import { readJournalFile, writeJournalFile } from '../../../src/journal/file';
import { mergeHeadings, removeEntries, tieEntries } from '../../../src/journal/make-edits';
import { TABLES, type EntryId, type HeadingId, type Journal } from '../../../src/journal/records';
import { entriesTiedTo } from '../../../src/journal/uses';
import { book, entry, journalOf, theme, tieTo } from './few';

const ENTRIES = 20_000;
const LATER = '2026-01-01T00:00:00Z';

/** 20,000 entries of about 300 characters with four ties each, 600 books and 400 themes. */
function largeJournal(): Journal {
  const books = Array.from({ length: 600 }, (_, at) => book(`b${at}`));
  const themes = Array.from({ length: 400 }, (_, at) => theme(`t${at}`));
  const text = 'What does the garden ask of those who find it? '.repeat(6);
  const entries = Array.from({ length: ENTRIES }, (_, at) =>
    entry(`e${at}`, {
      text: `${text}${at}`,
      written: `20${10 + (at % 15)}-0${1 + (at % 9)}`,
      ties: [
        tieTo(`b${at % 600}`, { role: 'from', place: { page: String(at % 300) } }),
        ...[1, 134, 267].map((step) => tieTo(`t${(at + step) % 400}`)),
      ],
    }),
  );
  return journalOf(...books, ...themes, ...entries);
}

describe('a journal of 20,000 entries', () => {
  let journal: Journal;
  beforeAll(() => {
    journal = largeJournal();
  });

  it('is read in under a second', () => {
    const text = writeJournalFile(journal);
    const times = [1, 2, 3].map(() => {
      const from = performance.now();
      const result = readJournalFile(text);
      const taken = performance.now() - from;
      expect(result.ok && result.problems).toEqual([]);
      return taken;
    });
    // The best of three, because the machine may be busy with something else.
    expect(Math.min(...times)).toBeLessThan(1000);
  });

  it('is edited without going through its tables', () => {
    const tied = entriesTiedTo(journal, 't1' as HeadingId).size;
    expect(tied).toBeGreaterThan(100);
    const walks = ['entries', 'values', 'keys', 'forEach', Symbol.iterator] as const;
    for (const table of TABLES) {
      for (const walk of walks) {
        Object.defineProperty(journal.tables[table], walk, {
          value: () => {
            throw new Error(`${table} was gone through`);
          },
        });
      }
    }
    const ids = ['e5', 'e6'] as EntryId[];
    for (const edit of [
      tieEntries(journal, ids, tieTo('t1'), LATER),
      removeEntries(journal, ids),
      mergeHeadings(journal, 't1' as HeadingId, 't2' as HeadingId, LATER),
    ]) {
      const done = apply(journal, edit);
      expect(done.ok && apply(journal, done.inverse).ok).toBe(true);
    }
    expect(entriesTiedTo(journal, 't1' as HeadingId).size).toBe(tied);
  });
});
