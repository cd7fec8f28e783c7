import { expect, test } from 'vitest';
import type { Instance } from '../../src/plan/instance';
import { solve } from '../../src/plan/solve';

/** A plain knapsack: one part, no terms, nothing alike. */
function knapsack(capacity: number, weights: number[], values: number[]): Instance {
  const items = weights.length;
  return {
    items,
    parts: 1,
    minutes: Float64Array.from(weights),
    room: Float64Array.of(capacity),
    whole: capacity,
    own: Float64Array.from(values),
    terms: [],
    termStart: new Int32Array(items + 1),
    termIndex: new Int32Array(0),
    termAmount: new Float64Array(0),
    partTerm: new Int32Array(items).fill(-1),
    partAmount: new Float64Array(items),
    must: new Uint8Array(items),
    pinned: [],
    same: () => new Float64Array(items),
  };
}

// J. Burkardt, KNAPSACK_01 data, problem P01: capacity, weights, profits and the optimal selection
// (trade.md B59; the capacity was seen there, the rest is from memory and was recomputed).
test('the published knapsack P01 is solved to its published optimum of 309', () => {
  const weights = [23, 31, 29, 44, 53, 38, 63, 85, 89, 82];
  const values = [92, 57, 49, 68, 60, 43, 67, 84, 87, 72];
  const solved = solve(knapsack(165, weights, values));
  expect(solved.value).toBe(309);
  expect([...solved.part].map((part) => (part === 0 ? 1 : 0))).toEqual([
    1, 1, 1, 1, 0, 1, 0, 0, 0, 0,
  ]);
  expect(solved.exact).toBe(true);
  expect(solved.bound).toBeGreaterThanOrEqual(309);
  expect(solved.bound).toBeLessThan(309.001);
});

test('the same knapsack with no room for branching still reports a bound that holds', () => {
  const weights = [23, 31, 29, 44, 53, 38, 63, 85, 89, 82];
  const values = [92, 57, 49, 68, 60, 43, 67, 84, 87, 72];
  const solved = solve(knapsack(165, weights, values), {
    rounds: 40,
    pool: 3,
    fills: 0,
    branching: 0,
  });
  expect(solved.value).toBeLessThanOrEqual(309);
  expect(solved.bound).toBeGreaterThanOrEqual(309);
});

test('a knapsack with random sizes agrees with dynamic programming', () => {
  let seed = 7;
  const random = (): number => (seed = (seed * 16807) % 2147483647) / 2147483647;
  for (let run = 0; run < 60; run += 1) {
    const weights = Array.from({ length: 25 }, () => 1 + Math.floor(random() * 20));
    const values = Array.from({ length: 25 }, () => 1 + Math.floor(random() * 50));
    const table = new Array<number>(61).fill(0);
    weights.forEach((weight, k) => {
      for (let room = 60; room >= weight; room -= 1) {
        table[room] = Math.max(table[room]!, table[room - weight]! + values[k]!);
      }
    });
    const solved = solve(knapsack(60, weights, values));
    expect(solved.exact).toBe(true);
    expect(solved.value).toBeCloseTo(table[60]!, 6);
  }
});
