/** Solves the bare problem: lazy greedy, exchanges, a proven bound, and branch and bound as far as the work allows. */
import { freePrices, Relaxation } from './bound';
import { branchAndBound } from './branch';
import { fill, type Pick } from './greedy';
import { Placement, type Instance } from './instance';
import { settleMusts } from './musts';
import { improve } from './swaps';

export interface Solved {
  /** The part of each item, or -1. */
  part: Int16Array;
  value: number;
  /** Proven: no placement is worth more. */
  bound: number;
  /** Whether the value was proven to be the best there is. */
  exact: boolean;
  /** The problem solved: that given, with room made for musts where they did not fit. */
  instance: Instance;
}

/** How much to look at before stopping with what was found. The usual keeps within a quarter of a second. */
export interface Effort {
  /** Rounds of moving prices for the first bound. */
  rounds: number;
  /** Items that may come in by exchange. */
  pool: number;
  /** Fillings tried by exchanges. */
  fills: number;
  /** Items times parts looked at by branch and bound. */
  branching: number;
}

export const USUAL_EFFORT: Effort = { rounds: 120, pool: 90, fills: 260, branching: 4_000_000 };

/** Numbers are compared to this part of the value. */
const TOLERANCE = 1e-9;

export function solve(given: Instance, effort: Effort = USUAL_EFFORT): Solved {
  const { instance, placement } = settleMusts(given);
  const free = freeItems(instance);
  const settled = placement.keep();
  let best = filled(placement, free, 'rate');
  placement.restore(settled);

  const root = new Placement(instance);
  const relaxed = new Relaxation(root, free, sameCosts(root)).relax(
    freePrices(instance),
    effort.rounds,
    best.value,
  );
  const priced: Pick = { prices: relaxed.prices.part, whole: relaxed.prices.whole };
  const order = Array.from(free, (_, k) => k).sort(
    (a, b) => relaxed.best[b]! - relaxed.best[a]! || a - b,
  );
  const pool = order.slice(0, effort.pool).map((k) => free[k]!);
  for (const pick of [priced, 'gain'] as const) {
    placement.restore(settled);
    const found = filled(placement, pool, pick);
    if (found.value > best.value) best = found;
  }
  placement.restore(best);
  improve(placement, pool, ['rate', priced], { pairs: true, work: effort.fills });
  if (placement.value > best.value) best = placement.keep();

  const searched = branchAndBound(
    instance,
    { items: free, bound: relaxed.bound, prices: relaxed.prices },
    best,
    effort.branching,
  );
  const bound = searched.bound + TOLERANCE * Math.abs(searched.bound);
  const exact =
    searched.bound - searched.value <= TOLERANCE * Math.max(1, Math.abs(searched.value));
  return { part: searched.part, value: searched.value, bound, exact, instance };
}

function freeItems(instance: Instance): Int32Array {
  const pinned = new Set(instance.pinned.map(({ item }) => item));
  const free: number[] = [];
  for (let item = 0; item < instance.items; item += 1) {
    if (pinned.has(item)) continue;
    const row = instance.own.subarray(item * instance.parts, (item + 1) * instance.parts);
    if (row.some((own) => !Number.isNaN(own))) free.push(item);
  }
  return Int32Array.from(free);
}

function sameCosts(placement: Placement): Float64Array {
  const costs = new Float64Array(placement.instance.items);
  for (const member of placement.members) {
    const row = placement.instance.same(member);
    for (let item = 0; item < costs.length; item += 1) costs[item]! += row[item]!;
  }
  return costs;
}

function filled(
  placement: Placement,
  items: Iterable<number>,
  pick: Pick,
): { part: Int16Array; value: number } {
  fill(placement, items, pick);
  return placement.keep();
}
