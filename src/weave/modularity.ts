import type { Csr } from './csr';

/**
 * How much more of a graph's weight lies inside groups than chance would put there, −0.5 to 1: the sum over groups of
 * inside / 2m − resolution × (degree / 2m)². `labels` gives each node's group, 0 or more. The graph is undirected, each link
 * laid both ways; 0 for a graph without links.
 *
 * Source: Newman & Girvan 2004; the resolution of Reichardt & Bornholdt 2006.
 */
export function modularity(csr: Csr, labels: ArrayLike<number>, resolution = 1): number {
  let groups = 0;
  for (let node = 0; node < csr.size; node++) groups = Math.max(groups, labels[node]! + 1);
  const inside = new Float64Array(groups);
  const degree = new Float64Array(groups);
  let total = 0;
  for (let node = 0; node < csr.size; node++) {
    const group = labels[node]!;
    for (let at = csr.starts[node]!; at < csr.starts[node + 1]!; at++) {
      const weight = csr.weights[at]!;
      degree[group]! += weight;
      total += weight;
      if (labels[csr.targets[at]!] === group) inside[group]! += weight;
    }
  }
  if (total === 0) return 0;
  let sum = 0;
  for (let group = 0; group < groups; group++) {
    sum += inside[group]! / total - resolution * (degree[group]! / total) ** 2;
  }
  return sum;
}
