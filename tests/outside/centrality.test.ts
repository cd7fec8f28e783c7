import { UndirectedGraph } from 'graphology';
import { krackhardtKite } from 'graphology-generators/small';
import { describe, expect, test } from 'vitest';
import { betweenness } from '../../src/weave/centrality';
import { csrOfGraph } from '../../src/weave/csr';

// Source: Krackhardt 1990, the kite, whose measures are printed in many textbooks; figures from memory and computed.
describe('the kite of Krackhardt', () => {
  const graph = krackhardtKite(UndirectedGraph);
  const csr = csrOfGraph(graph);
  const names = graph.nodes();
  const at = (name: string): number => names.indexOf(name);

  test.each([
    ['Heather', 0.3889],
    ['Diane', 0.1019],
    ['Fernando', 0.2315],
    ['Garth', 0.2315],
    ['Ike', 0.2222],
    ['Jane', 0],
  ])('has betweenness of %s %f', (name, expected) => {
    expect(betweenness(csr)[at(name)]).toBeCloseTo(expected, 4);
  });
});
