/** Places for a neighbourhood too large for rings: links pull, nodes push, for a fixed number of rounds from a fixed beginning. */
import { UndirectedGraph } from 'graphology';
import forceAtlas2 from 'graphology-layout-forceatlas2';
import type { Point } from './rings';

export interface ForceInput {
  /** Where each node begins; nodes must not all begin in one place. */
  nodes: { id: string; x: number; y: number; fixed?: boolean }[];
  links: { from: string; to: string; weight: number }[];
}

/** Rounds: enough for five hundred nodes to come to rest. */
const ROUNDS = 400;
/** From this many nodes on far ones push as one (Barnes & Hut 1986). */
const MANY = 900;

/** The same input gives the same places (ForceAtlas2, Jacomy et al. 2014). Units are those of the beginning, spread by the number of nodes. */
export function forcePlaces({ nodes, links }: ForceInput, rounds = ROUNDS): Map<string, Point> {
  const graph = new UndirectedGraph();
  for (const { id, ...attributes } of nodes) graph.addNode(id, attributes);
  for (const { from, to, weight } of links) {
    if (!graph.hasNode(from) || !graph.hasNode(to) || from === to) continue;
    if (!graph.hasEdge(from, to)) graph.addEdge(from, to, { weight: Math.sqrt(weight) });
  }
  const settings = {
    ...forceAtlas2.inferSettings(graph),
    barnesHutOptimize: graph.order > MANY,
    scalingRatio: 60,
    gravity: 0.6,
    strongGravityMode: false,
    linLogMode: false,
    outboundAttractionDistribution: true,
    edgeWeightInfluence: 1,
    slowDown: 4,
  };
  const found = forceAtlas2(graph, { iterations: rounds, settings });
  return new Map(
    Object.entries(found).map(([id, { x = 0, y = 0 }]): [string, Point] => [id, { x, y }]),
  );
}
