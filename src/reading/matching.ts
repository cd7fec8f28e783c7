/** As many on the left as can be given one on the right each, where one on the right may serve a few; of all the ways to do so, one that is liked best. */

export interface Matching {
  /** For each on the left the index on the right, or -1. */
  right: number[];
  size: number;
}

export interface Choice {
  /** Index on the right. */
  right: number;
  /** What it costs to choose it, from 0; less is liked better. Whole numbers keep ties exact. */
  cost: number;
}

interface BestMatching extends Matching {
  cost: number;
}

/**
 * The least costly of the maximum matchings, by successive shortest augmenting ways (Busacker and Gowen 1960; Ahuja, Magnanti and Orlin, Network
 * Flows, 9.7), each found with Bellman and Ford's rule on a queue. `capacity[r]` is how many r may serve. Among equally good answers the one found
 * depends on the order given and nothing else. O(size × left × edges) at worst.
 */
export function bestMatching(
  choices: readonly (readonly Choice[])[],
  capacity: readonly number[],
): BestMatching {
  const held: Held = {
    right: choices.map(() => -1),
    cost: choices.map(() => 0),
    holders: capacity.map(() => new Set<number>()),
  };
  for (;;) {
    const way = shortestWay(choices, capacity, held);
    if (!way) break;
    for (const { left, choice } of way) {
      const before = held.right[left]!;
      if (before !== -1) held.holders[before]!.delete(left);
      held.right[left] = choice.right;
      held.cost[left] = choice.cost;
      held.holders[choice.right]!.add(left);
    }
  }
  const size = held.right.filter((right) => right !== -1).length;
  return { right: held.right, size, cost: held.cost.reduce((sum, each) => sum + each, 0) };
}

/** Who has what at the moment: for each on the left its place and what it costs, for each on the right those it serves. */
interface Held {
  right: number[];
  cost: number[];
  holders: Set<number>[];
}

interface Step {
  left: number;
  choice: Choice;
}

/** The cheapest way from an unmatched on the left to a free place on the right: each step, from the free end, gives `left` its `choice`. */
function shortestWay(
  choices: readonly (readonly Choice[])[],
  capacity: readonly number[],
  { right, cost, holders }: Held,
): Step[] | undefined {
  const distance = right.map((r) => (r === -1 ? 0 : Infinity));
  /** For one pushed out of its place, who took it and by which choice. */
  const pushed: (Step | undefined)[] = right.map(() => undefined);
  const queue = right.flatMap((r, l) => (r === -1 ? [l] : []));
  const queued = new Uint8Array(right.length);
  for (const l of queue) queued[l] = 1;
  for (let at = 0; at < queue.length; at += 1) {
    const l = queue[at]!;
    queued[l] = 0;
    const here = distance[l]!;
    for (const choice of choices[l]!) {
      if (holders[choice.right]!.size === 0) continue;
      for (const holder of holders[choice.right]!) {
        const there = here + choice.cost - cost[holder]!;
        if (holder === l || there >= distance[holder]!) continue;
        distance[holder] = there;
        pushed[holder] = { left: l, choice };
        if (queued[holder]) continue;
        queued[holder] = 1;
        queue.push(holder);
      }
    }
  }
  let best: (Step & { cost: number }) | undefined;
  distance.forEach((here, l) => {
    if (here === Infinity) return;
    for (const choice of choices[l]!) {
      const all = here + choice.cost;
      if (best && all >= best.cost) continue;
      if (choice.right !== right[l] && holders[choice.right]!.size < (capacity[choice.right] ?? 0))
        best = { left: l, choice, cost: all };
    }
  });
  if (!best) return undefined;
  const way: Step[] = [];
  for (let step: Step | undefined = best; step; step = pushed[step.left]) way.push(step);
  return way;
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
