/**
 * Solves the bare problem: lazy greedy, a proven bound, exchanges, and branch and bound as far as the work allows.
 * Small problems come out exact; large ones as near as the bound says.
 */
import { freePrices, Relaxation, type Relaxed } from './bound';
import { branchAndBound } from './branch';
import { fill, type Pick } from './greedy';
import { Placement, type Instance } from './instance';
import { settleMusts } from './musts';
import { narrow, restrict, widen } from './restrict';
import { improve } from './swaps';

interface Solved {
  /** The part of each item, or -1. */
  part: Int16Array;
  value: number;
  /** Proven: no placement is worth more. Equal to `value` where that is exact. */
  bound: number;
  /** Whether the value was proven to be the best there is. */
  exact: boolean;
  /** The problem solved: that given, with room made for musts where they did not fit. */
  instance: Instance;
}

/** How much to look at before stopping with what was found. The usual keeps within about a quarter of a second. */
export interface Effort {
  /** Rounds of moving prices for the first bound. */
  rounds: number;
  /** Items that may come in by exchange: the most promising ones. */
  pool: number;
  /** Fillings tried by exchanges. */
  fills: number;
  /** Items times parts looked at by branch and bound. */
  branching: number;
}

export const USUAL_EFFORT: Effort = { rounds: 120, pool: 90, fills: 300, branching: 1_200_000 };

/** Values are held equal within this share of them. */
const TOLERANCE = 1e-9;
/** Items looked at for the first guide, by their worth a minute. */
const FIRST_LOOK = 400;
/** Share of the rounds spent on all items, before those that cannot help are dropped. */
const FIRST_ROUNDS = 0.3;
/** With more items than this left, branching would not raise or lower anything: it is kept to the pool. */
const MOST_BRANCHED = 400;

interface Best {
  part: Int16Array;
  value: number;
}

/** What may still stand in a guide better than the best, and the bound on any such guide. */
interface Open {
  items: Int32Array;
  relaxed: Relaxed;
}

export function solve(given: Instance, effort: Effort = USUAL_EFFORT): Solved {
  const { instance, placement } = settleMusts(given);
  const settled = placement.keep();
  const free = freeItems(instance);
  let best = firstGuide(instance, settled, free);
  let open = bounded(instance, free, best, effort.rounds);

  const pool = promising(instance, open, best, effort.pool);
  best = inPool(instance, settled, pool, open, best, effort);
  open = dropped(instance, open, best.value);

  let bound = open.relaxed.bound;
  if (open.items.length <= MOST_BRANCHED && bound > best.value) {
    const searched = branched(instance, open, best, effort.branching);
    [best, bound] = [searched, searched.bound];
  }
  const exact = bound - best.value <= TOLERANCE * Math.max(1, Math.abs(best.value));
  if (exact) bound = best.value;
  else bound += TOLERANCE * Math.abs(bound);
  return { part: best.part, value: best.value, bound, exact, instance };
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

function firstGuide(instance: Instance, settled: Best, free: Int32Array): Best {
  const rate = new Float64Array(instance.items);
  for (const item of free) {
    for (let part = 0; part < instance.parts; part += 1) {
      const own = instance.own[item * instance.parts + part]!;
      if (!Number.isNaN(own))
        rate[item] = Math.max(rate[item]!, own / Math.max(0.25, instance.minutes[item]!));
    }
  }
  const looked = [...free].sort((a, b) => rate[b]! - rate[a]! || a - b).slice(0, FIRST_LOOK);
  const placement = new Placement(instance);
  placement.restore(settled);
  fill(placement, looked, 'rate');
  return placement.keep();
}

/** The bound over everything, in two goes: what cannot help is dropped after the first. */
function bounded(instance: Instance, free: Int32Array, best: Best, rounds: number): Open {
  const root = new Placement(instance);
  const costs = sameCosts(root);
  const first = Math.ceil(rounds * FIRST_ROUNDS);
  const prices = freePrices(instance);
  const rough = {
    items: free,
    relaxed: new Relaxation(root, free, costs).relax(prices, first, best.value),
  };
  const { items } = dropped(instance, rough, best.value);
  const finer = new Relaxation(root, items, costs).relax(
    rough.relaxed.prices,
    rounds - first,
    best.value,
  );
  // Whatever holds a dropped item is worth no more than the best, so the finer bound counts for all.
  finer.bound = Math.max(best.value, Math.min(finer.bound, rough.relaxed.bound));
  return { items, relaxed: finer };
}

/** Leaves out what cannot stand in any guide worth more than `value`. */
function dropped(instance: Instance, { items, relaxed }: Open, value: number): Open {
  const kept: number[] = [];
  items.forEach((item, k) => {
    const adds = relaxed.best[k]!;
    if (instance.must[item] || relaxed.bestBound + Math.min(0, adds) > value) kept.push(k);
  });
  return {
    items: Int32Array.from(kept, (k) => items[k]!),
    relaxed: { ...relaxed, best: Float64Array.from(kept, (k) => relaxed.best[k]!) },
  };
}

/** The items that add most beyond their prices, those of the best guide, and every must. */
function promising(
  instance: Instance,
  { items, relaxed }: Open,
  best: Best,
  count: number,
): number[] {
  const order = Array.from(items, (_, k) => k);
  order.sort((a, b) => relaxed.best[b]! - relaxed.best[a]! || a - b);
  const pool = new Set(order.slice(0, count).map((k) => items[k]!));
  for (let item = 0; item < instance.items; item += 1) {
    if (best.part[item]! >= 0 || instance.must[item]) pool.add(item);
  }
  return [...pool].sort((a, b) => a - b);
}

/** Fillings, exchanges and branching among the most promising items only. */
function inPool(
  instance: Instance,
  settled: Best,
  pool: readonly number[],
  open: Open,
  best: Best,
  effort: Effort,
): Best {
  const small = restrict(instance, pool);
  const { prices } = open.relaxed;
  const priced: Pick = { prices: prices.part, whole: prices.whole };
  const placement = new Placement(small.instance);
  const all = Array.from(small.items, (_, k) => k);
  let found: Best = { part: narrow(best.part, small.items), value: best.value };
  for (const pick of ['rate', priced, 'gain'] as const) {
    placement.restore({ part: narrow(settled.part, small.items) });
    fill(placement, all, pick);
    if (placement.value > found.value) found = placement.keep();
  }
  placement.restore(found);
  improve(placement, all, ['rate', priced], { pairs: true, work: effort.fills });
  if (placement.value > found.value) found = placement.keep();
  if (open.items.length > MOST_BRANCHED) {
    const items = freeItems(small.instance);
    const root = { items, bound: open.relaxed.bound, prices };
    found = branchAndBound(small.instance, root, found, effort.branching);
  }
  return { part: widen(found.part, small.items, instance.items), value: found.value };
}

function branched(
  instance: Instance,
  open: Open,
  best: Best,
  work: number,
): Best & { bound: number } {
  const standing = Array.from(best.part, (part, item) => (part >= 0 ? item : -1)).filter(
    (item) => item >= 0,
  );
  const small = restrict(instance, [...open.items, ...standing]);
  const root = {
    items: freeItems(small.instance),
    bound: open.relaxed.bound,
    prices: open.relaxed.prices,
  };
  const found = branchAndBound(
    small.instance,
    root,
    { part: narrow(best.part, small.items), value: best.value },
    work,
  );
  return { ...found, part: widen(found.part, small.items, instance.items) };
}

function sameCosts(placement: Placement): Float64Array {
  const costs = new Float64Array(placement.instance.items);
  for (const member of placement.members) {
    const row = placement.instance.same(member);
    for (let item = 0; item < costs.length; item += 1) costs[item]! += row[item]!;
  }
  return costs;
}
