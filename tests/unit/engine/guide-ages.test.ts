import { describe, expect, test } from 'vitest';
import { remarksOn } from '../../../src/engine/guide-remarks';
import { emptyJournal } from '../../../src/journal/journal';
import type { Circle, CircleId, Entry, Guide } from '../../../src/journal/records';

/** Whether a circle of these ages is told that an entry of those is meant for others. */
function told(circleAges: string, entryAges: string): boolean {
  const journal = emptyJournal('j', 'J', '2026-01-01T00:00:00Z');
  const id = 'c' as CircleId;
  journal.tables.circles.set(id, { id, name: 'Tuesday', ages: circleAges } as Circle);
  const guide = { circle: id, minutes: 60, parts: [] } as unknown as Guide;
  const entry = { id: 'e', kind: 'question', text: 'Why?', ages: entryAges, ties: [] };
  const entries = [entry as unknown as Entry];
  const remarks = remarksOn(journal, guide, { parts: [], over: 0, entries, careful: entries });
  return remarks.some(({ code }) => code === 'ages');
}

describe('what was written for other ages', () => {
  test.each([
    ['8-12', '8 to adult', false],
    ['8-12', '14 to adult', true],
    ['adults', '8 to adult', false],
    ['8-12', 'adults', true],
    ['8-12', 'Grown-ups', true],
    ['8-12', '10 and up', false],
    ['7 to grown up', '8-12', false],
  ])('a circle of %s and an entry for %s: %s', (circle, entry, said) => {
    expect(told(circle, entry)).toBe(said);
  });
});
