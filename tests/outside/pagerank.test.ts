import { describe, expect, test } from 'vitest';
import { csrOf, type Csr } from '../../src/weave/csr';
import { nearRank } from '../../src/weave/pagerank';
import { waysOf } from '../ways';

/** Until nothing moves any more; from every page alike, or from those named, as often as they are named. */
const pageRank = (csr: Csr, damping: number, from?: readonly number[]): Float64Array =>
  nearRank(waysOf(csr), from ?? Array.from({ length: csr.size }, (_, node) => node), {
    damping,
    rounds: 1000,
    least: 0,
  }).rank;

/** Every value within `within`, and 1 in all. */
function expectRanks(found: Float64Array, expected: readonly number[], within: number): void {
  expect(found).toHaveLength(expected.length);
  expected.forEach((value, node) =>
    expect(Math.abs(found[node]! - value), `node ${node}`).toBeLessThan(within),
  );
  expect(found.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
}

describe('PageRank', () => {
  // Source: Langville & Meyer's example as in networkx, link_analysis tests (test_pagerank).
  test('of six pages with one that links nowhere, damping .9', () => {
    const links = [
      [0, 1],
      [0, 2],
      [2, 0],
      [2, 1],
      [2, 4],
      [3, 4],
      [3, 5],
      [4, 3],
      [4, 5],
      [5, 3],
    ] as const;
    const found = pageRank(csrOf(6, links, 'directed'), 0.9);
    const expected = [0.03721197, 0.05395735, 0.04150565, 0.37508082, 0.20599833, 0.28624589];
    expectRanks(found, expected, 1e-6);
  });

  // Source: Manning, Raghavan & Schütze 2008, exercise 21.1's web of three pages (worked example of section 21.2.2), from memory.
  test('of three pages with teleport .5 is 5/18, 4/9, 5/18', () => {
    const links = [
      [0, 1],
      [2, 1],
      [1, 0],
      [1, 2],
    ] as const;
    const found = pageRank(csrOf(3, links, 'directed'), 0.5);
    expectRanks(found, [5 / 18, 4 / 9, 5 / 18], 1e-10);
  });

  // Source: Manning, Raghavan & Schütze 2008, figure 21.4 and example 21.1, teleport .14, from memory.
  test('of seven pages with teleport .14', () => {
    const out = [[2], [1, 2], [0, 2, 3], [3, 4], [6], [5, 6], [3, 4, 6]];
    const links = out.flatMap((targets, from) => targets.map((to) => [from, to] as const));
    const found = pageRank(csrOf(7, links, 'directed'), 0.86);
    [0.05, 0.04, 0.11, 0.25, 0.21, 0.04, 0.31].forEach((value, node) =>
      // Printed to two places; not every printing rounds the last alike.
      expect(Math.abs(found[node]! - value), `page ${node}`).toBeLessThan(0.006),
    );
  });

  // Source: networkx, link_analysis tests (test_personalized_pagerank on a complete graph).
  test('of four joined to each other, starting 1 : 1 : 4 : 4', () => {
    const links = [0, 1, 2, 3].flatMap((a) =>
      [0, 1, 2, 3].flatMap((b) => (a < b ? [[a, b] as const] : [])),
    );
    const found = pageRank(csrOf(4, links, 'undirected'), 0.85, [0, 1, 2, 2, 2, 2, 3, 3, 3, 3]);
    expectRanks(found, [0.232467, 0.232467, 0.267533, 0.267533], 1e-6);
  });

  test('stays where it starts when that is joined to nothing', () => {
    expectRanks(pageRank(csrOf(3, [[1, 2]], 'undirected'), 0.85, [0]), [1, 0, 0], 1e-12);
  });
});
