import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { Engine } from '../../../src/engine/engine';
import type { Core } from '../../../src/engine/core';
import { whyNotThis } from '../../../src/engine/suggesting';
import { relevanceTo } from '../../../src/engine/relevance';
import { readJournalFile } from '../../../src/journal/file';
import { emptyJournal } from '../../../src/journal/journal';
import type {
  BookHeading,
  Entry,
  EntryId,
  Focus,
  HeadingId,
  Place,
  ThemeHeading,
} from '../../../src/journal/records';

const AROUND = { now: () => new Date('2026-11-25T12:00:00Z'), newId: () => 'made' };
const BOOK = 'b' as HeadingId;
const THEME = 't' as HeadingId;

/** A journal with one question for each place, all tied to one book and one theme. */
function journalWith(places: Readonly<Record<string, Place | undefined>>, book = {}): Core {
  const journal = emptyJournal('j', 'J', '2026-01-01T00:00:00Z');
  const common = { alternates: [] };
  journal.tables.headings.set(BOOK, {
    ...common,
    id: BOOK,
    kind: 'book',
    name: 'The Well',
    authors: [],
    ...book,
  } as BookHeading);
  journal.tables.headings.set(THEME, {
    ...common,
    id: THEME,
    kind: 'theme',
    name: 'Water',
    broader: [],
    related: [],
  } as ThemeHeading);
  for (const [id, place] of Object.entries(places))
    journal.tables.entries.set(
      id as EntryId,
      {
        id,
        kind: 'question',
        text: `What does the well hold for ${id}?`,
        ties: [
          { heading: BOOK, role: 'about', by: 'reader', ...(place ? { place } : {}) },
          { heading: THEME, role: 'about', by: 'reader' },
        ],
        added: '2026-01-01T00:00:00Z',
        changed: '2026-01-01T00:00:00Z',
      } as unknown as Entry,
    );
  return new Engine(journal, AROUND);
}

const upTo = (to: string, more: Partial<Focus> = {}): Focus => ({
  words: [],
  entries: [],
  headings: [{ heading: BOOK, from: '3', to }],
  ...more,
});

const found = (core: Core, focus: Focus): string[] => [...relevanceTo(core, focus).keys()].sort();

describe('a guide on some chapters of a book', () => {
  test('asks about nothing that comes after them, in its parts or its spares', () => {
    const read = readJournalFile(readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8'));
    if (!read.ok) throw new Error(read.message);
    const core = new Engine(read.journal, AROUND);
    const { headings, entries } = core.journal.tables;
    const book = [...headings.values()].find(({ name }) => name === 'Frankenstein')!.id;
    const chapterOf = (id: EntryId | undefined): number => {
      const tie = id && entries.get(id)?.ties.find(({ heading }) => heading === book);
      return Number((tie ? tie.place?.chapter : undefined) ?? 0);
    };
    expect([...entries.keys()].filter((id) => chapterOf(id as EntryId) > 8).length).toBeGreaterThan(
      5,
    );
    const theme = [...headings.values()].find(({ kind }) => kind === 'theme')!.id;
    for (const others of [[], [{ heading: theme }]]) {
      const { guide } = core.compose({
        focus: {
          words: [],
          entries: [],
          headings: [{ heading: book, from: '1', to: '8' }, ...others],
        },
        minutes: 60,
      });
      const items = [...guide.parts.flatMap((part) => part.items), ...(guide.spare ?? [])];
      expect(items.length).toBeGreaterThan(5);
      expect(Math.max(...items.map(({ entry }) => chapterOf(entry)))).toBeLessThanOrEqual(8);
    }
  });

  test('leaves out what comes after even where a theme or words would bring it, and keeps what came before', () => {
    const core = journalWith({
      before: { chapter: '1' },
      within: { chapter: '5' },
      roman: { chapter: 'vi' },
      after: { chapter: '9' },
      later: { chapter: 'XII' },
      unknown: undefined,
    });
    const kept = ['before', 'roman', 'unknown', 'within'];
    expect(found(core, upTo('8'))).toEqual(kept);
    expect(found(core, upTo('viii'))).toEqual(kept);
    const theme = { heading: THEME };
    expect(
      found(core, { ...upTo('8', { words: ['well'] }), headings: [...upTo('8').headings, theme] }),
    ).toEqual(kept);
    const scores = relevanceTo(core, upTo('8'));
    const score = (id: string): number => scores.get(id as EntryId)!.score;
    expect(score('roman')).toBe(score('within'));
    expect(score('before')).toBeLessThan(score('within'));
  });

  test('keeps what the leader chose by hand, and the chapters of a second stretch', () => {
    const core = journalWith({
      within: { chapter: '5' },
      after: { chapter: '9' },
      last: { chapter: '20' },
    });
    expect(found(core, upTo('8', { entries: ['last' as EntryId] }))).toEqual(['last', 'within']);
    const said = whyNotThis(core, { focus: upTo('8') }, 'after' as EntryId);
    expect(said).toBe('It comes after the chapters this guide is on.');
    const second = { heading: BOOK, from: '9', to: '10' };
    expect(found(core, { ...upTo('8'), headings: [...upTo('8').headings, second] })).toEqual([
      'after',
      'within',
    ]);
    expect(
      found(core, { ...upTo('8'), headings: [...upTo('8').headings, { heading: BOOK }] }),
    ).toHaveLength(3);
  });

  test('tells the chapter of a page by the table of contents, and takes no page for a chapter', () => {
    const places = { early: { page: '30' }, late: { page: '120' } };
    expect(found(journalWith(places), upTo('4'))).toEqual(['early', 'late']);
    const chapters = [1, 11, 21, 41, 100].map((page) => ({ page }));
    expect(found(journalWith(places, { chapters }), upTo('4'))).toEqual(['early']);
    const named = ['Rope', 'Bucket', 'Stone'].map((name) => ({ name }));
    const core = journalWith(
      { one: { chapter: 'Bucket' }, two: { chapter: 'Stone' } },
      { chapters: named },
    );
    expect(
      found(core, { ...upTo('2'), headings: [{ heading: BOOK, from: '1', to: '2' }] }),
    ).toEqual(['one']);
  });
});
