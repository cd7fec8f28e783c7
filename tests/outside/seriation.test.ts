/**
 * Laying like things side by side, held against every order there is on small matrices. Optimal leaf ordering is exact for its tree
 * (Bar-Joseph, Gifford & Jaakkola 2001, Bioinformatics 17 suppl. 1); the brute force here is written from the definition alone.
 */
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/weave/rng';
import {
  bestLeafOrder,
  clustered,
  lengthOf,
  orderByTree,
  seriate,
  type Unlike,
} from '../../src/weave/seriation';

function randomUnlike(size: number, seed: number): Unlike {
  const random = seededRandom(seed);
  const at = new Float64Array(size * size);
  for (let a = 0; a < size; a++) {
    for (let b = 0; b < a; b++) at[a * size + b] = at[b * size + a] = random();
  }
  return { size, at };
}

/** Things on a line, unlike as they are far apart, in a mixed-up order. */
function onALine(size: number, seed: number): { unlike: Unlike; places: number[] } {
  const random = seededRandom(seed);
  const places = Array.from({ length: size }, () => random() * 100);
  const at = new Float64Array(size * size);
  places.forEach((a, one) =>
    places.forEach((b, other) => {
      at[one * size + other] = Math.abs(a - b);
    }),
  );
  return { unlike: { size, at }, places };
}

/** Threads that cross others here and there, unlike by the cosine of what they hold. */
function threadsUnlike(size: number, across: number, seed: number): Unlike {
  const random = seededRandom(seed);
  const rows = Array.from({ length: size }, () =>
    Array.from({ length: across }, () => (random() < 0.5 ? 0 : Math.ceil(random() * 9))),
  );
  const norm = (row: number[]): number => Math.hypot(...row) || 1;
  const at = new Float64Array(size * size);
  rows.forEach((a, one) =>
    rows.forEach((b, other) => {
      const dot = a.reduce((sum, value, column) => sum + value * b[column]!, 0);
      at[one * size + other] = one === other ? 0 : 1 - dot / (norm(a) * norm(b));
    }),
  );
  return { size, at };
}

function* permutations(items: readonly number[]): Generator<number[]> {
  if (items.length < 2) yield [...items];
  for (const [at, item] of items.entries()) {
    if (items.length < 2) return;
    for (const rest of permutations([...items.slice(0, at), ...items.slice(at + 1)]))
      yield [item, ...rest];
  }
}

type Tree = ReturnType<typeof clustered>;

function* treeOrders(tree: Tree): Generator<number[]> {
  if (!tree.left || !tree.right) yield tree.leaves;
  else {
    for (const left of treeOrders(tree.left)) {
      for (const right of treeOrders(tree.right)) {
        yield [...left, ...right];
        yield [...right, ...left];
      }
    }
  }
}

const least = (unlike: Unlike, orders: Iterable<number[]>): number => {
  let best = Infinity;
  for (const order of orders) best = Math.min(best, lengthOf(unlike, order));
  return best;
};

describe('the best order of the leaves of a tree', () => {
  it('is as short as the shortest of all the orders its tree allows', () => {
    for (let seed = 0; seed < 60; seed++) {
      const unlike = randomUnlike(3 + (seed % 7), seed);
      const tree = clustered(unlike);
      const order = bestLeafOrder(unlike, tree);
      expect([...order].sort((a, b) => a - b)).toEqual(Array.from(order.keys()));
      expect(lengthOf(unlike, order)).toBeCloseTo(least(unlike, treeOrders(tree)), 9);
    }
  });

  // The matrix is that of single points 0, 1, 3, 7, 8 on a line; average linkage is worked by hand: {0,1} at 1, {7,8} at 1, {0,1,3} at 2.5.
  it('of five points on a line is the line', () => {
    const places = [7, 0, 3, 8, 1];
    const at = new Float64Array(25);
    places.forEach((a, one) => places.forEach((b, two) => (at[one * 5 + two] = Math.abs(a - b))));
    const unlike = { size: 5, at };
    expect(lengthOf(unlike, bestLeafOrder(unlike, clustered(unlike)))).toBe(8);
    expect(seriate(unlike).map((one) => places[one])).toEqual([0, 1, 3, 7, 8]);
  });
});

describe('laying like things side by side', () => {
  it('finds the best of all orders for a few things', () => {
    for (let seed = 0; seed < 40; seed++) {
      const unlike = randomUnlike(3 + (seed % 6), 1000 + seed);
      const all = permutations(Array.from({ length: unlike.size }, (_, one) => one));
      expect(lengthOf(unlike, seriate(unlike))).toBeCloseTo(least(unlike, all), 9);
    }
  });

  it('by way of a tree finds the best order of threads mostly, and comes within a tenth of it', () => {
    let exact = 0;
    for (let seed = 0; seed < 40; seed++) {
      const unlike = threadsUnlike(12, 9, seed);
      const best = lengthOf(unlike, seriate(unlike));
      const found = lengthOf(unlike, orderByTree(unlike));
      expect(found).toBeGreaterThanOrEqual(best - 1e-9);
      expect(found).toBeLessThanOrEqual(best * 1.1);
      if (found < best + 1e-9) exact += 1;
    }
    expect(exact).toBeGreaterThan(20);
  });

  it('lays things from a line along the line', () => {
    for (let seed = 0; seed < 20; seed++) {
      const { unlike, places } = onALine(40, seed);
      const laid = seriate(unlike).map((one) => places[one]!);
      const rising = [...places].sort((a, b) => a - b);
      expect([rising, [...rising].reverse()]).toContainEqual(laid);
    }
  });

  it('gives the same order for the same matrix', () => {
    const unlike = randomUnlike(60, 5);
    expect(seriate(unlike)).toEqual(seriate(unlike));
  });
});
