/** A school year is one year however it was typed: in lists, readings, many books at once, and in what was kept before. */
import { describe, expect, test } from 'vitest';
import type { Core } from '../../../src/engine/core';
import { changeBooks } from '../../../src/engine/reading-bulk';
import { figuresView } from '../../../src/engine/reading-figures';
import { readBooks } from '../../../src/engine/reading-in';
import { putList } from '../../../src/engine/reading-list-edits';
import { listView } from '../../../src/engine/reading-lists';
import { putReading } from '../../../src/engine/reading-log';
import { booksOut } from '../../../src/engine/reading-out';
import { yearView } from '../../../src/engine/reading-year';
import { apply } from '../../../src/journal/edits';
import type { HeadingId, Journal, ListId, ReadingId } from '../../../src/journal/records';
import { at, book, journalOf, reading } from '../reading/few';

const SPELLINGS = ['2025-26', '2025/2026', '2025–26', '2025 / 26', '2025/26'];
const LIST = 'l1' as ListId;
const EMMA = 'emma' as HeadingId;
let revision = 0;
const coreOf = (journal: Journal): Core =>
  ({ journal, around: at('2026-01-10'), revision: (revision += 1) }) as unknown as Core;
const made = (listYear?: string, readingYear?: string): Journal =>
  journalOf({
    headings: [book('emma', 'Emma')],
    readings: [reading('r1', 'emma', '2025-10-10', readingYear ? { schoolYear: readingYear } : {})],
    lists: [{ id: LIST, name: 'L', books: [EMMA], ...(listYear ? { schoolYear: listYear } : {}) }],
  });
const kept = (journal: Journal, asked: ReturnType<typeof putList>): Journal => {
  if (!asked.ok || !apply(journal, asked.edit).ok) throw new Error('refused');
  return journal;
};

describe.each(SPELLINGS)('a school year written %s', (name) => {
  test('is kept as 2025/26', async () => {
    const journal = made();
    const core = coreOf(journal);
    kept(journal, putList(core, { id: LIST, name: 'L', schoolYear: name }));
    expect(journal.tables.lists.get(LIST)?.schoolYear).toBe('2025/26');
    kept(journal, putReading(core, { ...reading('r1', 'emma', '2025-10-10'), schoolYear: name }));
    expect(journal.tables.readings.get('r1' as ReadingId)?.schoolYear).toBe('2025/26');
    const other = made();
    kept(other, changeBooks(coreOf(other), [EMMA], { what: 'school', school: name }));
    expect(other.tables.readings.get('r1' as ReadingId)?.schoolYear).toBe('2025/26');
    const { text } = await booksOut(coreOf(made(undefined, name)), 'csv');
    const { books } = await readBooks(core, 'books.csv', new TextEncoder().encode(text));
    expect(books[0]?.reading?.schoolYear).toBe('2025/26');
  });

  test('counts where it was kept so before', () => {
    const core = coreOf(made(name, name));
    expect(listView(core, LIST, {})?.rows[0]?.state).toBe('read');
    for (const school of SPELLINGS) {
      expect(yearView(core, { school })).toMatchObject({
        title: '2025/26',
        schoolYears: ['2025/26'],
      });
      expect(yearView(core, { school }).finished).toHaveLength(1);
      expect(figuresView(core, { school })).toMatchObject({
        title: '2025/26',
        figures: { finished: 1 },
      });
    }
  });
});

test('a name that is no school year is refused, unless it stood there before', () => {
  for (const name of ['2025/27', 'Year 5', '25/26', '2025-13']) {
    const core = coreOf(made());
    const asked = [
      putList(core, { id: LIST, name: 'L', schoolYear: name }),
      putReading(core, { ...reading('r1', 'emma', '2025-10-10'), schoolYear: name }),
      changeBooks(core, [EMMA], { what: 'school', school: name }),
    ];
    expect(asked.map((each) => !each.ok && each.code)).toEqual(Array(3).fill('bad-school-year'));
  }
  const before = coreOf(made('Year 5', 'Year 5'));
  expect(putList(before, { id: LIST, name: 'Lists', schoolYear: 'Year 5' }).ok).toBe(true);
});

test('a year alone is a school year too, which begins on the day set', () => {
  const core = coreOf(made('2025', '2025/26'));
  expect(listView(core, LIST, { schoolStart: '09-01' })?.rows[0]?.state).toBe('read');
  expect(listView(core, LIST, { schoolStart: '01-01' })?.rows[0]?.state).toBe('read');
  expect(figuresView(core, { school: '2025/26', schoolStart: '01-01' }).title).toBe('2025');
});
