import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { readJournalFile, writeJournalFile } from '../../../src/journal/file';
import { ENTRY_KINDS, LEVELS } from '../../../src/journal/records';
import { checkJournal } from '../../../src/journal/rules';
import { checkAgainstSchema } from '../../../src/journal/schema';
import { readDate, yearOf } from '../../../src/language/dates';
import { plainText } from '../../../src/language/markdown';
import checked from './checked-quotations.json';
import deserved from './deserved-ties.json';

const text = readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8');
const read = readJournalFile(text);
if (!read.ok) throw new Error(read.message);
const { journal } = read;
const entries = [...journal.tables.entries.values()];
const headings = [...journal.tables.headings.values()];
const STORIES = resolve('../shared/data');

describe('the Harbour Lane journal', () => {
  test('is sound by the schema and by the rules, and is written back as it is', async () => {
    expect(checkJournal(journal)).toEqual([]);
    expect(await checkAgainstSchema(JSON.parse(text))).toEqual([]);
    expect(writeJournalFile(journal)).toBe(text);
  });

  test('holds enough of everything to look around in', () => {
    const of = (kind: string): number => headings.filter((heading) => heading.kind === kind).length;
    expect(of('book')).toBeGreaterThanOrEqual(16);
    expect(of('theme')).toBeGreaterThanOrEqual(30);
    expect(of('person')).toBeGreaterThanOrEqual(40);
    expect(entries.length).toBeGreaterThanOrEqual(420);
    for (const kind of ENTRY_KINDS)
      expect(entries.filter((entry) => entry.kind === kind).length).toBeGreaterThan(20);
    const asked = entries.filter((entry) => entry.kind === 'question');
    for (const level of LEVELS)
      expect(asked.filter((entry) => entry.level === level).length).toBeGreaterThan(10);
    expect(journal.tables.circles.size).toBe(2);
    expect(journal.tables.meetings.size).toBeGreaterThanOrEqual(8);
    for (const { items } of journal.tables.meetings.values())
      expect(items.length).toBeGreaterThan(4);
  });

  test('runs over fifteen years, and every book and year has been read', () => {
    const years = new Set(entries.flatMap((entry) => yearOf(entry.written ?? '') ?? []));
    for (let year = 2010; year <= 2025; year++) expect(years).toContain(year);
    for (const entry of entries) expect(readDate(entry.written ?? '').ok).toBe(true);
    const readings = [...journal.tables.readings.values()];
    for (const book of headings) {
      if (book.kind === 'book')
        expect(
          readings.some((reading) => reading.book === book.id),
          book.name,
        ).toBe(true);
    }
    const finished = new Set(readings.map((reading) => reading.finished?.slice(0, 4)));
    for (let year = 2010; year <= 2025; year++) expect(finished).toContain(String(year));
  });

  test('about 15 in a hundred entries miss a tie they deserve', () => {
    const share = new Set(deserved.map((one) => one.entry)).size / entries.length;
    expect(share).toBeGreaterThan(0.1);
    expect(share).toBeLessThan(0.2);
    for (const { entry, heading } of deserved) {
      const held = journal.tables.entries.get(entry);
      expect(held).toBeDefined();
      expect(journal.tables.headings.get(heading)?.kind).toBe('theme');
      expect(held!.ties.some((tie) => tie.heading === heading)).toBe(false);
    }
  });

  test('themes stand in a small tree of broader and narrower ones', () => {
    const themes = headings.filter((heading) => heading.kind === 'theme');
    const narrower = themes.filter((theme) => theme.kind === 'theme' && theme.broader.length > 0);
    expect(narrower.length).toBeGreaterThan(15);
    expect(themes.length - narrower.length).toBeGreaterThan(3);
  });
});

describe.skipIf(!existsSync(STORIES))(
  'its quotations from the story books (open data in ../shared/data)',
  () => {
    // FairytaleQA, Xu et al., ACL 2022; the stories themselves are in the public domain.
    const same = (words: string): string =>
      words
        .replace(/[“”"„]/g, '"')
        .replace(/[‘’']/g, "'")
        .replace(/[—–]|--+/g, '-')
        .replace(/[\s*_]+/g, ' ')
        .replace(/^['"]+|['"]+$/g, '')
        .trim();
    const sections = new Map<string, string>();
    for (const part of existsSync(STORIES) ? ['train', 'val'] : []) {
      const lines = gunzipSync(
        readFileSync(resolve(STORIES, `fairytale-${part}-sections.jsonl.gz`)),
      ).toString('utf8');
      for (const line of lines.split('\n').filter(Boolean)) {
        const {
          story,
          section,
          text: words,
        } = JSON.parse(line) as { story: string; section: number; text: string };
        const key = `${story} ${section}`;
        sections.set(key, `${sections.get(key) ?? ''} ${words}`);
      }
    }
    test('there are many, each a quote of the journal', () => {
      expect(checked.length).toBeGreaterThanOrEqual(36);
      for (const { entry } of checked)
        expect(journal.tables.entries.get(entry)?.kind).toBe('quote');
    });
    test.each(checked)('$story, section $section: word for word', ({ entry, story, section }) => {
      const words = same(plainText(journal.tables.entries.get(entry)!.text));
      expect(words.length).toBeGreaterThan(40);
      expect(same(sections.get(`${story} ${section}`) ?? '')).toContain(words);
    });
  },
);
