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

/** The links of an undirected graph, each told once: link `n` joins `from[n]` and `to[n]`. Nodes are 0 to `size - 1`. */
export interface Links {
  size: number;
  from: Int32Array;
  to: Int32Array;
  /** Positive. */
  weights: Float64Array;
}

/** Links laid both ways, those of each node in the order in which they are told. */
export function csrOfLinks({ size, from, to, weights: heavy }: Links): Csr {
  const starts = new Int32Array(size + 1);
  for (let link = 0; link < from.length; link++) {
    starts[from[link]! + 1]! += 1;
    starts[to[link]! + 1]! += 1;
  }
  for (let node = 0; node < size; node++) starts[node + 1]! += starts[node]!;
  const next = starts.slice();
  const targets = new Int32Array(from.length * 2);
  const weights = new Float64Array(from.length * 2);
  const lay = (a: number, b: number, weight: number): void => {
    const place = next[a]!++;
    targets[place] = b;
    weights[place] = weight;
  };
  for (let link = 0; link < from.length; link++) {
    lay(from[link]!, to[link]!, heavy[link]!);
    lay(to[link]!, from[link]!, heavy[link]!);
  }
  return { size, starts, targets, weights };
}

/** The links of a graph, its nodes numbered in its own order; links without a weight weigh 1. */
export function csrOfGraph(graph: UndirectedGraph): Csr {
  const order = new Map(graph.nodes().map((id, node) => [id, node]));
  const from = new Int32Array(graph.size);
  const to = new Int32Array(graph.size);
  const weights = new Float64Array(graph.size);
  let links = 0;
  graph.forEachEdge((_edge, { weight }, a, b) => {
    from[links] = order.get(a)!;
    to[links] = order.get(b)!;
    weights[links++] = typeof weight === 'number' ? weight : 1;
  });
  return csrOfLinks({ size: graph.order, from, to, weights });
}
