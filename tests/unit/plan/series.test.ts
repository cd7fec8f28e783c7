import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { pagesByDay, pagesOfChapters, partsForPace, splitEvenly } from '../../../src/plan/series';

/** Every way of parting `count` things into `parts` runs, as the numbers of the last in each. */
function* ways(count: number, parts: number, from = 0): Generator<number[]> {
  if (parts === 1) {
    yield [count];
    return;
  }
  for (let end = from + 1; end <= count - parts + 1; end += 1)
    for (const rest of ways(count, parts - 1, end)) yield [end, ...rest];
}

const sums = (sizes: readonly number[], ends: readonly number[]): number[] =>
  ends.map((end, at) => sizes.slice(ends[at - 1] ?? 0, end).reduce((sum, size) => sum + size, 0));

const chapters = fc.array(fc.integer({ min: 0, max: 60 }), { minLength: 1, maxLength: 9 });

describe('a book parted among meetings', () => {
  test('has every chapter once, in order, and no meeting without one', () => {
    fc.assert(
      fc.property(chapters, fc.integer({ min: 1, max: 12 }), (sizes, parts) => {
        const split = splitEvenly(sizes, parts);
        expect(split).toHaveLength(Math.min(parts, sizes.length));
        let next = 1;
        for (const { from, to, size } of split) {
          expect(from).toBe(next);
          expect(to).toBeGreaterThanOrEqual(from);
          expect(size).toBe(sizes.slice(from - 1, to).reduce((sum, one) => sum + one, 0));
          next = to + 1;
        }
        expect(next).toBe(sizes.length + 1);
      }),
    );
  });

  test('has a longest stretch as short as any way has, and of those ways the most even', () => {
    fc.assert(
      fc.property(chapters, fc.integer({ min: 1, max: 5 }), (sizes, parts) => {
        const many = Math.min(parts, sizes.length);
        const all = [...ways(sizes.length, many)].map((ends) => sums(sizes, ends));
        const longest = Math.min(...all.map((way) => Math.max(...way)));
        const squares = (way: readonly number[]): number =>
          way.reduce((sum, size) => sum + size * size, 0);
        const even = Math.min(...all.filter((way) => Math.max(...way) === longest).map(squares));
        const split = splitEvenly(sizes, many).map(({ size }) => size);
        expect(Math.max(...split)).toBe(longest);
        expect(squares(split)).toBe(even);
      }),
      { numRuns: 200 },
    );
  });

  test('needs for a pace the fewest meetings that keep to it, where no chapter alone is longer', () => {
    fc.assert(
      fc.property(chapters, fc.integer({ min: 60, max: 200 }), (sizes, most) => {
        const parts = partsForPace(sizes, most);
        const kept = (many: number): boolean =>
          splitEvenly(sizes, many).every(({ size }) => size <= most);
        expect(kept(parts)).toBe(true);
        if (parts > 1) expect(kept(parts - 1)).toBe(false);
      }),
    );
  });

  test('gives a chapter longer than the pace a meeting of its own', () => {
    expect(partsForPace([10, 90, 10], 50)).toBe(3);
  });

  test('knows pages of chapters only where those rise', () => {
    expect(pagesOfChapters([1, 15, 29], 40)).toEqual([14, 14, 12]);
    expect(pagesOfChapters([1, 15, 12], 40)).toBeUndefined();
    expect(pagesOfChapters([], 40)).toBeUndefined();
  });

  test('shares pages among days without losing one, none a page longer than another by two', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 900 }),
        fc.integer({ min: 0, max: 300 }),
        fc.integer({ min: 1, max: 40 }),
        (from, more, days) => {
          const parts = pagesByDay(from, from + more, days);
          expect(parts).toHaveLength(Math.min(days, more + 1));
          expect(parts[0]!.from).toBe(from);
          expect(parts.at(-1)!.to).toBe(from + more);
          parts.forEach((part, at) => {
            if (at > 0) expect(part.from).toBe(parts[at - 1]!.to + 1);
          });
          const long = parts.map((part) => part.to - part.from + 1);
          expect(Math.max(...long) - Math.min(...long)).toBeLessThanOrEqual(1);
        },
      ),
    );
  });
});
