import fc from 'fast-check';
import { expect, it } from 'vitest';
import { csrOf, type Csr } from '../../../src/weave/csr';
import { nearRank } from '../../../src/weave/pagerank';
import { waysOf } from '../../ways';

const NODES = 12;
const graph = fc
  .array(
    fc.tuple(
      fc.nat({ max: NODES - 1 }),
      fc.nat({ max: NODES - 1 }),
      fc.integer({ min: 1, max: 9 }),
    ),
    {
      minLength: 1,
      maxLength: 40,
    },
  )
  .map((links) => csrOf(NODES, links, 'undirected'));
const starts = fc.array(fc.nat({ max: NODES - 1 }), { minLength: 1, maxLength: 4 });

/** Power iteration over the whole graph (Page, Brin, Motwani & Winograd 1999); a walk at a node without links starts again. */
function whole(csr: Csr, from: readonly number[], rounds: number): Float64Array {
  const start = new Float64Array(NODES);
  for (const node of from) start[node]! += 1 / from.length;
  let rank = start;
  for (let round = 0; round < rounds; round += 1) {
    const next = start.map((share) => 0.25 * share);
    rank.forEach((here, node) => {
      const links = Array.from(csr.targets.subarray(csr.starts[node], csr.starts[node + 1]));
      const weights = csr.weights.subarray(csr.starts[node], csr.starts[node + 1]);
      const all = weights.reduce((a, b) => a + b, 0);
      links.forEach((target, at) => (next[target]! += (0.75 * here * weights[at]!) / all));
      if (links.length === 0) start.forEach((share, at) => (next[at]! += 0.75 * here * share));
    });
    rank = next;
  }
  return rank;
}

it('walks from a few nodes as power iteration over the whole graph does', () => {
  fc.assert(
    fc.property(graph, starts, fc.integer({ min: 1, max: 15 }), (csr, from, rounds) => {
      const { rank, reached } = nearRank(waysOf(csr), from, { damping: 0.75, rounds, least: 0 });
      whole(csr, from, rounds).forEach((score, node) => {
        expect(rank[node]).toBeCloseTo(score, 12);
        if (score > 0) expect([...reached]).toContain(node);
      });
    }),
  );
});

it('misses no more than the walks it cuts short, and loses none of them', () => {
  fc.assert(
    fc.property(
      graph,
      starts,
      fc.double({ min: 1e-6, max: 0.01, noNaN: true }),
      (csr, from, least) => {
        const { rank } = nearRank(waysOf(csr), from, { damping: 0.75, rounds: 200, least });
        const exact = whole(csr, from, 400);
        expect(rank.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 9);
        const missed = rank.reduce((sum, score, node) => sum + Math.abs(score - exact[node]!), 0);
        expect(missed).toBeLessThanOrEqual(2 * least * csr.targets.length + 1e-9);
      },
    ),
  );
});

it('goes no further than what is worth walking on with', () => {
  // A path: each step halves what comes on.
  const path = csrOf(
    1000,
    Array.from({ length: 999 }, (_, at) => [at, at + 1] as const),
    'undirected',
  );
  const { reached } = nearRank(waysOf(path), [0], { damping: 0.75, rounds: 500, least: 1e-3 });
  expect(reached.length).toBeGreaterThan(5);
  expect(reached.length).toBeLessThan(40);
});
