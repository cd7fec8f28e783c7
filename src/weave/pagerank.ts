import type { Ways } from './ways';

interface NearRankOptions {
  /** The chance of walking on rather than starting again, 0 to 1. */
  damping: number;
  rounds: number;
  /** What is left at a node and is not more than this for each of its links walks on no further; 0 walks everywhere. */
  least: number;
}

/**
 * PageRank from a few nodes, each once or as often as it is named, without going over the whole graph: what comes to a node gathers there until it
 * is worth walking on with. With `least` 0 it is power iteration over the whole graph after as many rounds; else no node misses more than the walks that were
 * cut short, and the work is that of the neighbourhood, whatever the size of the graph. All of a round walk at once, so that the
 * numbering of nodes does not matter. Answers the rank by node and the nodes that have any.
 *
 * Source: the residuals and their threshold as in Andersen, Chung & Lang 2006, section 3.
 */
export function nearRank(
  ways: Ways,
  from: readonly number[],
  { damping, rounds, least }: NearRankOptions,
): { rank: Float64Array; reached: Int32Array } {
  const { size } = ways;
  const rank = new Float64Array(size);
  const left = new Float64Array(size);
  const seen = new Uint8Array(size);
  const reached = new Int32Array(size);
  let count = 0;
  for (const node of from) {
    left[node]! += 1 / from.length;
    if (seen[node] === 0) reached[count++] = node;
    seen[node] = 1;
  }
  const walking = new Int32Array(size);
  const taken = new Float64Array(size);
  for (let round = 0; round < rounds; round++) {
    let many = 0;
    for (let at = 0; at < count; at++) {
      const node = reached[at]!;
      const here = left[node]!;
      if (here <= least * (ways.end(node) - ways.begin(node))) continue;
      walking[many] = node;
      taken[many++] = here;
      left[node] = 0;
    }
    let idle = 0;
    for (let at = 0; at < many; at++) {
      const node = walking[at]!;
      const here = taken[at]!;
      rank[node]! += (1 - damping) * here;
      const strength = ways.ready(node);
      if (strength === 0) idle += here;
      else {
        const share = (damping * here) / strength;
        const end = ways.end(node);
        for (let link = ways.begin(node); link < end; link++) {
          const target = ways.target(link);
          left[target]! += share * ways.weight(link);
          if (seen[target] === 0) {
            seen[target] = 1;
            reached[count++] = target;
          }
        }
      }
    }
    for (const node of from) left[node]! += (damping * idle) / from.length;
  }
  for (let at = 0; at < count; at++) rank[reached[at]!]! += left[reached[at]!]!;
  return { rank, reached: reached.subarray(0, count) };
}
