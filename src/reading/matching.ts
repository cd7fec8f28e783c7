/** As many on the left as can be given one on the right each, where one on the right may serve a few. */

export interface Matching {
  /** For each on the left the index on the right, or -1. */
  right: number[];
  size: number;
}

/**
 * A maximum matching by the phases of Hopcroft and Karp (SIAM Journal on Computing 2(4), 1973): breadth first to the nearest free places, then
 * disjoint shortest ways depth first. `edges[l]` are the indexes on the right that would do for l; `capacity[r]` is how many r may serve,
 * Infinity for any number. O(edges × √nodes) where each serves one.
 */
export function maximumMatching(
  edges: readonly (readonly number[])[],
  capacity: readonly number[],
): Matching {
  const right: number[] = edges.map(() => -1);
  const holders: Set<number>[] = capacity.map(() => new Set());
  const free = (r: number): boolean => holders[r]!.size < (capacity[r] ?? 0);
  const level: number[] = new Array<number>(edges.length);
  let size = 0;

  const layered = (): boolean => {
    let reached = false;
    const queue: number[] = [];
    for (let l = 0; l < edges.length; l += 1) {
      level[l] = right[l] === -1 ? 0 : -1;
      if (right[l] === -1) queue.push(l);
    }
    for (let at = 0; at < queue.length; at += 1) {
      const l = queue[at]!;
      for (const r of edges[l]!) {
        if (free(r)) reached = true;
        for (const next of holders[r]!) {
          if (level[next] !== -1) continue;
          level[next] = level[l]! + 1;
          queue.push(next);
        }
      }
    }
    return reached;
  };

  const give = (l: number, r: number): void => {
    if (right[l] !== -1) holders[right[l]!]!.delete(l);
    right[l] = r;
    holders[r]!.add(l);
  };

  const augment = (l: number): boolean => {
    for (const r of edges[l]!) {
      if (free(r)) {
        give(l, r);
        return true;
      }
    }
    for (const r of edges[l]!) {
      for (const next of [...holders[r]!]) {
        if (level[next] !== level[l]! + 1) continue;
        if (!augment(next)) continue;
        give(l, r);
        return true;
      }
    }
    // A dead end stays one for the rest of this phase.
    level[l] = -1;
    return false;
  };

  while (layered()) {
    let gained = 0;
    for (let l = 0; l < edges.length; l += 1) if (right[l] === -1 && augment(l)) gained += 1;
    if (gained === 0) break;
    size += gained;
  }
  return { right, size };
}

/**
 * From one unmatched on the left: everyone on the left that could be left out instead, and everyone on the right they ask for between
 * them. In a maximum matching all of those serve to their limit, which shows why no more can be matched (Hall 1935).
 */
export function contestedWith(
  edges: readonly (readonly number[])[],
  { right }: Matching,
  unmatched: number,
): { left: number[]; right: number[] } {
  const holders = new Map<number, number[]>();
  right.forEach((r, l) => {
    if (r !== -1) holders.set(r, [...(holders.get(r) ?? []), l]);
  });
  const left = new Set([unmatched]);
  const asked = new Set<number>();
  for (const l of left) {
    for (const r of edges[l] ?? []) {
      if (asked.has(r)) continue;
      asked.add(r);
      for (const holder of holders.get(r) ?? []) left.add(holder);
    }
  }
  return { left: [...left].sort((a, b) => a - b), right: [...asked].sort((a, b) => a - b) };
}
