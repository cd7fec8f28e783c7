import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bestMatching, contestedWith } from '../../src/reading/matching';

/** Left nodes 0 to 5, edges as lists of right nodes. Source: NetworkX, bipartite tests, test_matching; the trade's B57. */
const B57 = [[7, 8], [], [6, 9], [8], [8, 9], [11]];
/** One square a book: five books, four squares. Source: the trade's B58, worked out there. Left are the squares A, B, C, D; right B1 to B5. */
const B58 = [[0, 1, 2], [0], [2], [3, 4]];

const costless = (edges: readonly number[]): { right: number; cost: number }[] =>
  edges.map((right) => ({ right, cost: 0 }));

describe('a maximum matching', () => {
  test('on NetworkX’s bipartite test graph has 5 pairs and leaves 1 and 10 alone', () => {
    const matching = bestMatching(B57.map(costless), new Array<number>(12).fill(1));
    expect(matching.size).toBe(5);
    expect(matching.right[1]).toBe(-1);
    expect(matching.right).not.toContain(10);
    matching.right.forEach((right, left) => {
      if (right !== -1) expect(B57[left]).toContain(right);
    });
  });

  test('fills 4 of 4 squares where taking books as they come fills 3', () => {
    const capacity = [1, 1, 1, 1, 1];
    expect(bestMatching(B58.map(costless), capacity).size).toBe(4);
    // Books in turn, each to the first square open to it: B1 takes A, so B2 has none.
    const open = new Set([0, 1, 2, 3]);
    let greedy = 0;
    for (let book = 0; book < 5; book += 1) {
      const square = [...open].find((each) => B58[each]!.includes(book));
      if (square === undefined) continue;
      open.delete(square);
      greedy += 1;
    }
    expect(greedy).toBe(3);
  });
});

/** Every way to give each on the left one of its choices or none. */
function byForce(
  choices: readonly (readonly { right: number; cost: number }[])[],
  capacity: readonly number[],
): { size: number; cost: number } {
  let best = { size: 0, cost: 0 };
  const left = [...capacity];
  const go = (at: number, size: number, cost: number): void => {
    if (at === choices.length) {
      if (size > best.size || (size === best.size && cost < best.cost)) best = { size, cost };
      return;
    }
    go(at + 1, size, cost);
    for (const { right, cost: price } of choices[at]!) {
      if (left[right]! <= 0) continue;
      left[right]! -= 1;
      go(at + 1, size + 1, cost + price);
      left[right]! += 1;
    }
  };
  go(0, 0, 0);
  return best;
}

const small = fc.record({
  capacity: fc.array(fc.integer({ min: 0, max: 2 }), { minLength: 1, maxLength: 5 }),
  rows: fc.array(
    fc.uniqueArray(fc.record({ right: fc.nat(4), cost: fc.nat(9) }), {
      maxLength: 5,
      selector: ({ right }) => right,
    }),
    { maxLength: 6 },
  ),
});

describe('against every possible assignment of small random cases', () => {
  test('the size is the largest there is, and the best matching is the cheapest of that size', () => {
    fc.assert(
      fc.property(small, ({ capacity, rows }) => {
        const choices = rows.map((row) => row.filter(({ right }) => right < capacity.length));
        const truth = byForce(choices, capacity);
        const edges = choices.map((row) => row.map(({ right }) => right));
        const best = bestMatching(choices, capacity);
        expect(best.size).toBe(truth.size);
        expect(best.cost).toBe(truth.cost);
        const used = capacity.map(() => 0);
        best.right.forEach((r, l) => {
          if (r === -1) return;
          expect(edges[l]).toContain(r);
          used[r]! += 1;
        });
        used.forEach((count, r) => expect(count).toBeLessThanOrEqual(capacity[r]!));
      }),
      { numRuns: 600 },
    );
  });

  /** P. Hall 1935: a set with fewer to go round than it has members cannot all be matched. */
  test('whoever is left out belongs to a set that asks for too few, by exactly one', () => {
    fc.assert(
      fc.property(small, ({ capacity, rows }) => {
        const edges = rows.map((row) =>
          row.map(({ right }) => right).filter((right) => right < capacity.length),
        );
        const matching = bestMatching(edges.map(costless), capacity);
        matching.right.forEach((right, left) => {
          if (right !== -1) return;
          const contest = contestedWith(edges, matching, left);
          const asked = new Set(contest.left.flatMap((l) => edges[l]!));
          expect([...asked].sort()).toEqual([...contest.right].sort());
          const room = contest.right.reduce((sum, r) => sum + capacity[r]!, 0);
          expect(room).toBe(contest.left.length - 1);
        });
      }),
      { numRuns: 400 },
    );
  });

  test('a hundred thousand edges are matched in a few seconds', () => {
    const many = Array.from({ length: 300 }, (_, l) =>
      Array.from({ length: 333 }, (_each, at) => (l * 7 + at * 3) % 1000),
    );
    const cheap = bestMatching(
      many.map((row) => row.map((right) => ({ right, cost: right }))),
      new Array<number>(1000).fill(1),
    );
    expect(cheap.size).toBe(300);
  }, 10_000);
});
