/**
 * The journal as a book in PDF, read back by Poppler (pdftotext, pdfinfo), visibly skipped where it is
 * absent. The classes of the second index: John Locke, "A New Method of Making Common-Place-Books"
 * (1706): the first letter of the head and the first vowel that follows it.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readJournalFile } from '../../src/journal/file';
import type { Journal } from '../../src/journal/records';
import { plainText } from '../../src/language/markdown';
import {
  bookYears,
  publishBook,
  yearOfEntry,
  type BookHow,
} from '../../src/engine/publishing-book';
import { journalBook, type JournalBook } from '../../src/publish/journal-book';
import { KIND_NAMES } from '../../src/publish/html-leader';
import { openRows } from '../../src/publish/open-rows';
import { quoted } from '../../src/publish/quoted';
import { usualFaces } from '../unit/publish/faces-on-disk';
import { bare } from '../unit/publish/words-of';

const folders = (process.env['PATH'] ?? '').split(path.delimiter);
const has = (name: string): boolean => folders.some((dir) => existsSync(path.join(dir, name)));
const able = ['pdftotext', 'pdfinfo'].every(has);

const around = {
  now: () => new Date('2026-01-01T12:00:00Z'),
  faces: async () => usualFaces(),
};
let folder = '';

function harbourLane(): Journal {
  const read = readJournalFile(readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8'));
  if (!read.ok) throw new Error(read.message);
  return read.journal;
}

const YEAR = 2024;

function bookOfYear(journal: Journal): JournalBook {
  const rows = openRows(journal);
  return journalBook(rows, {
    title: String(YEAR),
    entries: rows.entries.filter((entry) => yearOfEntry(entry) === YEAR),
  });
}

async function print(journal: Journal, how: Partial<BookHow> = {}): Promise<string> {
  const made = await publishBook(journal, { year: YEAR }, around, { format: 'pdf', ...how });
  if (!made.ok) throw new Error(made.message);
  const file = path.join(folder, `${how.preset ?? 'usual'}-${how.paper ?? 'A4'}.pdf`);
  writeFileSync(file, made.file.bytes);
  return file;
}

const run = (tool: string, ...args: string[]): string =>
  execFileSync(tool, args, { encoding: 'utf8', maxBuffer: 1 << 26 });

/** Pages in the order they were written, without the foot: the title of the book and the page. */
function pagesOf(file: string): string[] {
  return run('pdftotext', '-raw', file, '-')
    .split('\f')
    .filter((page) => page.trim())
    .map((page, at) => {
      const lines = page.trimEnd().split('\n');
      expect(lines.at(-1)).toBe(`${YEAR} ${at + 1}`);
      return lines.slice(0, -1).join('\n');
    });
}

/** A book's entries in reading order, told from the model alone. */
function wordsOf({ chapters }: JournalBook): string {
  return chapters
    .flatMap(({ title, by, entries }) => [
      title,
      by ?? '',
      ...entries.flatMap((one) => [
        KIND_NAMES[one.kind],
        one.place ?? '',
        one.written ?? '',
        one.speaker ?? '',
        one.title ?? '',
        plainText(one.kind === 'quote' ? quoted(one.text) : one.text),
        one.picture ? `A picture: ${one.picture}` : '',
        one.themes.join(', '),
      ]),
    ])
    .join('\n');
}

describe.skipIf(!able)('a year of the journal as a PDF (needs the tools of Poppler)', () => {
  beforeAll(() => {
    folder = mkdtempSync(path.join(tmpdir(), 'book-'));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test.each(['usual', 'large', 'dyslexia', 'plain'] as const)(
    'holds the words of the model, all and in their order, in the preset %s',
    async (preset) => {
      const journal = harbourLane();
      const book = bookOfYear(journal);
      expect(book.entries).toBeGreaterThan(30);
      for (const paper of preset === 'usual' ? (['A4', 'Letter'] as const) : (['A4'] as const)) {
        const text = bare(pagesOf(await print(journal, { preset, paper })).join('\n'));
        expect(text.replaceAll('•', '')).toContain(bare(wordsOf(book)).replaceAll('•', ''));
      }
    },
    120_000,
  );

  test('sends from the index and the contents to the pages where the entries begin', async () => {
    const journal = harbourLane();
    const book = bookOfYear(journal);
    const pages = pagesOf(await print(journal)).map(bare);
    const indexAt = pages.findIndex((page) => page.startsWith(bare('Index of headings')));
    const classesAt = pages.findIndex((page) =>
      page.startsWith(bare('Headings by commonplace classes')),
    );
    expect(indexAt).toBeGreaterThan(0);
    expect(classesAt).toBeGreaterThan(indexAt);
    const pageOf = new Map<number, number>();
    let from = 0;
    for (const { entries } of book.chapters)
      for (const one of entries) {
        const begins = bare(plainText(one.title ?? one.text)).slice(0, 40);
        while (from < indexAt && !pages[from]!.includes(begins)) from += 1;
        expect(from, begins).toBeLessThan(indexAt);
        pageOf.set(one.number, from + 1);
      }
    const index = pages.slice(indexAt, classesAt).join('');
    const classes = pages.slice(classesAt).join('');
    for (const line of book.index.filter(({ entries }) => entries.length > 0)) {
      const on = [...new Set(line.entries.map((entry) => pageOf.get(entry)!))];
      const alone = on.length < 2 || on.every((page, at) => at === 0 || page > on[at - 1]! + 1);
      const said = alone ? `${line.name}, ${on.join(', ')}` : `${line.name}, ${on[0]}`;
      expect(index).toContain(bare(said));
      if (line.name === 'Courage') expect(classes).toContain(bare(`C o ${said}`));
    }
    const names = book.index.map(({ name }) => bare(name));
    let after = 0;
    for (const name of names) {
      const at = index.indexOf(name, after);
      expect(at, name).toBeGreaterThanOrEqual(after);
      after = at + name.length;
    }
    for (const { title, entries } of book.chapters)
      expect(pages[0]).toContain(bare(`${title} ${pageOf.get(entries[0]!.number)}`));
    expect(pages[0]).toContain(bare(`Index of headings ${indexAt + 1}`));
  }, 120_000);

  test('is tagged, with its chapters and indexes as headings and bookmarks', async () => {
    const journal = harbourLane();
    const file = await print(journal);
    expect(run('pdfinfo', file)).toMatch(/Tagged:\s+yes/);
    const structure = run('pdfinfo', '-struct-text', file);
    for (const { title } of bookOfYear(journal).chapters)
      expect(structure).toMatch(new RegExp(`H2[^\\n]*\\n\\s+"${title.slice(0, 20)}`));
    expect(structure).toMatch(/H2[^\n]*\n\s+"Index of headings"/);
    expect(readFileSync(file).toString('latin1')).toContain('/Title (Index of headings)');
  }, 120_000);
});

test('the years offered are those of the entries, the newest first', () => {
  const journal = harbourLane();
  const years = bookYears(journal);
  expect(years.map(({ year }) => year)).toEqual(
    years.map(({ year }) => year).sort((a, b) => b - a),
  );
  expect(years.find(({ year }) => year === YEAR)?.entries).toBe(bookOfYear(journal).entries);
});
