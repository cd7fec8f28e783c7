import type { Csr } from '../src/weave/csr';
import type { Ways } from '../src/weave/ways';

/** A graph in compressed rows, to be walked as the journal's own is. */
export const waysOf = ({ size, starts, targets, weights }: Csr): Ways => ({
  size,
  begin: (node) => starts[node]!,
  end: (node) => starts[node + 1]!,
  target: (link) => targets[link]!,
  ready: (node) =>
    weights.subarray(starts[node], starts[node + 1]).reduce((sum, weight) => sum + weight, 0),
  weight: (link) => weights[link]!,
});
