import type { Csr } from './csr';

/**
 * Betweenness of each node of an undirected unweighted graph: the share, 0 to 1, of the pairs of other nodes whose shortest ways
 * lead through it. With `pivots`, ways are counted from that many evenly spaced nodes only and scaled up: an estimate.
 *
 * Source: Brandes 2001; pivots as in Brandes & Pich 2007.
 */
export function betweenness(csr: Csr, pivots = csr.size): Float64Array {
  const { size, starts, targets } = csr;
  const through = new Float64Array(size);
  const distance = new Int32Array(size);
  const ways = new Float64Array(size);
  const owed = new Float64Array(size);
  const reached = new Int32Array(size);
  const sources = Math.min(pivots, size);
  for (let turn = 0; turn < sources; turn++) {
    const source = Math.floor((turn * size) / sources);
    distance.fill(-1);
    ways.fill(0);
    owed.fill(0);
    distance[source] = 0;
    ways[source] = 1;
    reached[0] = source;
    let end = 1;
    for (let at = 0; at < end; at++) {
      const node = reached[at]!;
      for (let link = starts[node]!; link < starts[node + 1]!; link++) {
        const next = targets[link]!;
        if (distance[next]! < 0) {
          distance[next] = distance[node]! + 1;
          reached[end++] = next;
        }
        if (distance[next] === distance[node]! + 1) ways[next]! += ways[node]!;
      }
    }
    for (let at = end - 1; at > 0; at--) {
      const node = reached[at]!;
      through[node]! += owed[node]!;
      const share = (1 + owed[node]!) / ways[node]!;
      for (let link = starts[node]!; link < starts[node + 1]!; link++) {
        const before = targets[link]!;
        if (distance[before] === distance[node]! - 1) owed[before]! += ways[before]! * share;
      }
    }
  }
  const pairs = (size - 1) * (size - 2);
  return pairs > 0 ? through.map((sum) => (sum * size) / sources / pairs) : through;
}
