import type { UndirectedGraph } from 'graphology';

/**
 * A weighted directed graph in compressed sparse rows: the links of node `n` are at `starts[n]` to `starts[n + 1]` (exclusive)
 * of `targets` and `weights`. An undirected graph holds each link twice, once from either end.
 */
export interface Csr {
  size: number;
  /** `size + 1` offsets. */
  starts: Int32Array;
  targets: Int32Array;
  /** Positive. */
  weights: Float64Array;
}

/** The graph of a list of links `[from, to, weight = 1]`; undirected links are laid both ways. Nodes are 0 to `size - 1`. */
export function csrOf(
  size: number,
  links: readonly (readonly [number, number, number?])[],
  kind: 'directed' | 'undirected',
): Csr {
  const laid = links.flatMap(([from, to, weight = 1]): [number, number, number][] =>
    kind === 'directed' || from === to
      ? [[from, to, weight]]
      : [
          [from, to, weight],
          [to, from, weight],
        ],
  );
  const starts = new Int32Array(size + 1);
  for (const [from] of laid) starts[from + 1]! += 1;
  for (let node = 0; node < size; node++) starts[node + 1]! += starts[node]!;
  const next = starts.slice();
  const targets = new Int32Array(laid.length);
  const weights = new Float64Array(laid.length);
  for (const [from, to, weight] of laid) {
    targets[next[from]!] = to;
    weights[next[from]!++] = weight;
  }
  return { size, starts, targets, weights };
}

/** The links of a graph, its nodes numbered in its own order; links without a weight weigh 1. */
export function csrOfGraph(graph: UndirectedGraph): Csr {
  const { order: size } = graph;
  const order = new Map(graph.nodes().map((id, node) => [id, node]));
  const ends = new Int32Array(graph.size * 2);
  const heavy = new Float64Array(graph.size);
  const starts = new Int32Array(size + 1);
  let links = 0;
  graph.forEachEdge((_edge, { weight }, from, to) => {
    const [a, b] = [order.get(from)!, order.get(to)!];
    ends[2 * links] = a;
    ends[2 * links + 1] = b;
    heavy[links++] = typeof weight === 'number' ? weight : 1;
    starts[a + 1]! += 1;
    starts[b + 1]! += 1;
  });
  for (let node = 0; node < size; node++) starts[node + 1]! += starts[node]!;
  const next = starts.slice();
  const targets = new Int32Array(ends.length);
  const weights = new Float64Array(ends.length);
  for (let end = 0; end < ends.length; end++) {
    const place = next[ends[end]!]!++;
    targets[place] = ends[end ^ 1]!;
    weights[place] = heavy[end >> 1]!;
  }
  return { size, starts, targets, weights };
}
