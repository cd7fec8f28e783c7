import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { Engine } from '../../../src/engine/engine';
import { gapSaid } from '../../../src/engine/gap-said';
import { relevanceTo } from '../../../src/engine/relevance';
import { strandChoices } from '../../../src/engine/strand-choices';
import { readJournalFile, writeJournalFile } from '../../../src/journal/file';
import { putRow, removeHeading } from '../../../src/journal/make-edits';
import type { Focus, HeadingId } from '../../../src/journal/records';

const text = readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8');

function engine(): Engine {
  const read = readJournalFile(text);
  if (!read.ok) throw new Error(read.message);
  let made = 0;
  return new Engine(read.journal, {
    now: () => new Date('2026-11-25T12:00:00Z'),
    newId: () => `made-${(made += 1)}`,
  });
}

describe('a strand as the focus of a guide', () => {
  const core = engine();
  const { entries } = core.journal.tables;
  const [largest, next] = strandChoices(core);
  const focus: Focus = {
    words: [],
    headings: [],
    entries: [],
    strands: [{ name: largest!.name, headings: largest!.headings }],
  };

  test('brings what is filed mostly under it before what only touches it', () => {
    const own = new Set(largest!.headings);
    const found = relevanceTo(core, focus);
    let inside = 0;
    let touching = 0;
    for (const entry of entries.values()) {
      const ties = [...new Set(entry.ties.map(({ heading }) => heading))];
      const held = ties.filter((id) => own.has(id)).length;
      const told = found.get(entry.id);
      if (held === 0) {
        expect(told?.score ?? 0).toBeLessThanOrEqual(0.55);
      } else if (held * 2 >= ties.length) {
        inside += 1;
        expect(told!.score).toBeGreaterThanOrEqual(0.85);
        expect(told!.reasons).toContain(`in the strand ${largest!.name}`);
      } else {
        touching += 1;
        expect(told!.score).toBe(0.65);
        expect(told!.reasons).toContain(`touches the strand ${largest!.name}`);
      }
    }
    expect(inside).toBeGreaterThan(10);
    expect(touching).toBeGreaterThan(0);
  });

  test('counts as one thing beside a book, however many headings it has', () => {
    const [book] = [...core.journal.tables.headings.values()].filter(({ kind }) => kind === 'book');
    const both = relevanceTo(core, { ...focus, headings: [{ heading: book!.id }] });
    const alone = relevanceTo(core, focus);
    const ofBook = relevanceTo(core, { ...focus, strands: [], headings: [{ heading: book!.id }] });
    for (const [id, { score }] of both) {
      const parts = [alone.get(id)?.score ?? 0, ofBook.get(id)?.score ?? 0];
      const expected = 0.55 * Math.max(...parts) + (0.45 * (parts[0]! + parts[1]!)) / 2;
      expect(score).toBeCloseTo(expected, 9);
    }
  });

  test('names the guide, and stays with it through a journal file', () => {
    const { guide } = core.compose({ focus, minutes: 60 });
    expect(guide.title).toBe(largest!.name);
    expect(guide.focus.strands).toEqual(focus.strands);
    expect(core.apply(putRow(core.journal, 'guides', guide)).ok).toBe(true);
    const read = readJournalFile(writeJournalFile(core.journal));
    if (!read.ok) throw new Error(read.message);
    expect(read.journal.tables.guides.get(guide.id)?.focus).toEqual(focus);
    expect(read.problems).toEqual([]);
  });

  test('gives another guide than another strand does', () => {
    const of = (strand: typeof largest): string[] => {
      const strands = [{ name: strand!.name, headings: strand!.headings }];
      const { guide } = core.compose({ focus: { ...focus, strands }, minutes: 60 });
      return guide.parts.flatMap((part) => part.items.flatMap(({ entry }) => entry ?? []));
    };
    const [one, other] = [of(largest), of(next)];
    expect(one.length).toBeGreaterThan(3);
    expect(one.filter((id) => other.includes(id)).length).toBeLessThan(one.length / 2);
  });

  test('lets go of a heading that is taken out of the journal', () => {
    const fresh = engine();
    const { guide } = fresh.compose({ focus, minutes: 30 });
    expect(fresh.apply(putRow(fresh.journal, 'guides', guide)).ok).toBe(true);
    const gone = focus.strands![0]!.headings.at(-1) as HeadingId;
    const done = fresh.apply(removeHeading(fresh.journal, gone, '2026-11-25T12:00:00.000Z'));
    expect(done.ok).toBe(true);
    const kept = fresh.journal.tables.guides.get(guide.id)!.focus.strands![0]!.headings;
    expect(kept).toEqual(focus.strands![0]!.headings.slice(0, -1));
  });
});

test('the distance from the best is never told as less than it is', () => {
  expect(gapSaid(0)).toBe('No better choice exists for this purpose');
  expect(gapSaid(0.0001)).toBe('At most 0.1% below the best choice there can be');
  expect(gapSaid(0.0141)).toBe('At most 1.5% below the best choice there can be');
  expect(gapSaid(0.002)).toBe('At most 0.2% below the best choice there can be');
  expect(gapSaid(0.9996)).toBe('Perhaps far below the best choice there can be');
});
