/** What the command line counts: one is said as one. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { run as figures } from '../../../src/command/commands/figures';
import { run as met } from '../../../src/command/commands/met';
import { planLines } from '../../../src/command/commands/plan';
import type { Composed } from '../../../src/engine/answers';
import { writeJournalFile } from '../../../src/journal/file';
import type { Circle, Guide, Journal } from '../../../src/journal/records';
import { book, entry, journalOf, reading } from '../reading/few';

let folder = '';
beforeAll(() => (folder = mkdtempSync(join(tmpdir(), 'bookweft-counted-'))));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
function at(journal: Journal): string[] {
  const path = join(folder, 'j.bookweft.json');
  writeFileSync(path, writeJournalFile(journal));
  return ['--journal', path];
}

test('met says one item as one', async () => {
  const guide = {
    id: 'g',
    title: 'Emma',
    shape: 'discussion',
    focus: { words: [], headings: [], entries: [] },
    minutes: 60,
    parts: [{ name: 'Opening', minutes: 60, items: [{ entry: 'e', minutes: 10, must: false }] }],
    made: '2024-01-01T00:00:00.000Z',
  } as unknown as Guide;
  const journal = journalOf({
    headings: [book('emma', 'Emma')],
    entries: [entry('e', ['emma'])],
    circles: [{ id: 'c', name: 'Tuesdays' } as Circle],
    guides: [guide],
  });
  const told = await met(['Emma', '--on', '2024-02-01', '--circle', 'Tuesdays', ...at(journal)]);
  expect(told.text).toMatch(/; 1 item asked\.$/);
});

test('plan says one entry as one', () => {
  const answer = {
    title: 'Emma',
    shape: 'discussion',
    minutes: 60,
    planned: 1,
    parts: [{ name: 'Opening', minutes: 1, items: [] }],
    spare: [],
    levels: {},
    sources: [],
    cautions: [],
    objective: { value: 0, bound: 0 },
  };
  const lines = (candidates: number, minutes = 60): string =>
    planLines({ answer: { ...answer, minutes }, candidates } as unknown as Composed).join('\n');
  expect(lines(1)).toContain('discussion, 60 minutes, 1 planned, from 1 entry\n');
  expect(lines(1200, 1)).toContain('discussion, 1 minute, 1 planned, from 1,200 entries\n');
  expect(lines(1)).toContain('Opening, 1 minute\n');
});

test('figures say a book a day and one page a day as one says them', async () => {
  const day = (n: number): string => new Date(Date.UTC(2019, 0, 1 + n)).toISOString().slice(0, 10);
  const journal = journalOf({
    headings: [book('leaf', 'Leaf', { pages: 1 })],
    readings: Array.from({ length: 365 }, (_, n) => reading(`r${n}`, 'leaf', day(n))),
  });
  const told = await figures(['--year', '2019', ...at(journal)]);
  expect(told.text).toContain('a book every day, 1 page a day');
});

test('figures of one page read in a year are counted', async () => {
  const journal = journalOf({
    headings: [book('leaf', 'Leaf', { pages: 1 })],
    readings: [reading('r', 'leaf', '2019-01-02')],
  });
  const told = await figures(['--year', '2019', ...at(journal)]);
  expect(told.text).toContain('2019: 1 finished, 1 page, 1 day with a book open');
  expect(told.text).toContain('a book every 365 days, 0 pages a day');
});
