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
