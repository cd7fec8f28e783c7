/** Branch and bound (Land & Doig 1960), best bound first: exact when it ends, and a proven bound when it is stopped. */
import { Relaxation, type Prices, type Relaxed } from './bound';
import { fill } from './greedy';
import { Heap } from './heap';
import { Placement, type Instance } from './instance';

interface Searched {
  /** The part of each item, or -1. */
  part: Int16Array;
  value: number;
  /** No placement is worth more. Equal to `value` where the search ended. */
  bound: number;
}

interface Node {
  /** Decided to stand in a part, beyond the pinned; everything not here and not in `items` is decided to be out. */
  placed: readonly (readonly [item: number, part: number])[];
  items: Int32Array;
  bound: number;
  prices: Prices;
}

const ROUNDS = 14;
/** Nodes that are filled greedily in search of a better guide: all the first ones, then every so many. */
const FILL_FIRST = 30;
const FILL_EVERY = 6;
const NEGLIGIBLE = 1e-9;

/**
 * @param known a placement to beat, with every must in it.
 * @param work how much to look at, in items times parts; the search stops there.
 */
export function branchAndBound(
  instance: Instance,
  root: { items: Int32Array; bound: number; prices: Prices },
  known: { part: Int16Array; value: number },
  work: number,
): Searched {
  const best = { part: Int16Array.from(known.part), value: known.value };
  const open = new Heap<Node>();
  if (root.bound > best.value + NEGLIGIBLE) open.push(root.bound, { placed: [], ...root });
  let left = work;
  let looked = 0;
  while (open.size > 0 && left > 0) {
    if (open.topKey <= best.value + NEGLIGIBLE) return { ...best, bound: best.value };
    const node = open.pop()!;
    const placement = new Placement(instance);
    for (const [item, part] of node.placed) placement.put(item, part);
    const relaxed = relaxNode(placement, node, best.value);
    left -= relaxed.work + node.items.length * instance.parts;
    const bound = Math.min(relaxed.bound, node.bound);
    if (bound <= best.value + NEGLIGIBLE) continue;
    if (looked < FILL_FIRST || looked % FILL_EVERY === 0 || node.items.length < 8) {
      tryFilling(placement, node, relaxed, best);
    }
    looked += 1;
    for (const child of children(placement, node, relaxed, bound, best.value))
      open.push(child.bound, child);
  }
  return { ...best, bound: Math.max(best.value, open.topKey) };
}

function relaxNode(placement: Placement, node: Node, target: number): Relaxed {
  const { instance } = placement;
  const sameCost = new Float64Array(instance.items);
  for (const member of placement.members) {
    const row = instance.same(member);
    for (const item of node.items) sameCost[item]! += row[item]!;
  }
  return new Relaxation(placement, node.items, sameCost).relax(node.prices, ROUNDS, target);
}

/** Completes the node's placement with the items it has left, and keeps it where it is the best yet. */
function tryFilling(
  placement: Placement,
  node: Node,
  relaxed: Relaxed,
  best: { part: Int16Array; value: number },
): void {
  const { instance } = placement;
  const { prices } = relaxed;
  for (const pick of ['rate', { prices: prices.part, whole: prices.whole }] as const) {
    const before = placement.keep();
    const musts = node.items.filter((item) => instance.must[item]);
    if (musts.every((item) => putAnywhere(placement, item))) {
      fill(placement, node.items, pick);
      if (placement.value > best.value + NEGLIGIBLE) {
        best.value = placement.value;
        best.part = Int16Array.from(placement.part);
      }
    }
    placement.restore(before);
  }
}

function putAnywhere(placement: Placement, item: number): boolean {
  let most = -Infinity;
  let where = -1;
  for (let part = 0; part < placement.instance.parts; part += 1) {
    if (!placement.may(item, part) || !placement.fits(item, part)) continue;
    const gain = placement.gain(item, part);
    if (gain > most) [most, where] = [gain, part];
  }
  if (where < 0) return false;
  placement.put(item, where);
  return true;
}

/** The ways to decide one more item. Items that could not help any guide better than the best are dropped. */
function children(
  placement: Placement,
  node: Node,
  relaxed: Relaxed,
  bound: number,
  value: number,
): Node[] {
  const { instance } = placement;
  const { prices } = relaxed;
  const kept: number[] = [];
  let branchOn = -1;
  let most = -Infinity;
  node.items.forEach((item, k) => {
    const adds = relaxed.best[k]!;
    if (adds === -Infinity) return;
    if (!instance.must[item] && relaxed.bestBound + Math.min(0, adds) <= value + NEGLIGIBLE) return;
    kept.push(k);
    const taken = relaxed.taken[k]!;
    const urge = Math.min(taken, 1 - taken) * (1 + instance.minutes[item]!) + 1e-6 * adds;
    if (urge > most) [most, branchOn] = [urge, k];
  });
  if (branchOn < 0) return [];
  const item = node.items[branchOn]!;
  const rest = Int32Array.from(kept.filter((k) => k !== branchOn).map((k) => node.items[k]!));
  const adds = relaxed.best[branchOn]!;
  const nodes: Node[] = [];
  const offer = (placed: Node['placed'], childBound: number): void => {
    if (childBound > value + NEGLIGIBLE)
      nodes.push({ placed, items: rest, bound: childBound, prices });
  };
  const counted = instance.must[item] ? adds : Math.max(0, adds);
  for (let part = 0; part < instance.parts; part += 1) {
    if (!placement.may(item, part) || !placement.fits(item, part)) continue;
    const there = worthAt(placement, prices, item, part);
    offer([...node.placed, [item, part]], Math.min(bound, relaxed.bestBound - counted + there));
  }
  if (!instance.must[item]) offer(node.placed, Math.min(bound, relaxed.bestBound - counted));
  return nodes;
}

/** What an item adds in a part beyond the prices. */
function worthAt(placement: Placement, prices: Prices, item: number, part: number): number {
  const { instance } = placement;
  const at = item * instance.parts + part;
  let adds = instance.own[at]! - placement.sameAs(item);
  adds -= (prices.part[part]! + prices.whole) * instance.minutes[item]!;
  for (let k = instance.termStart[item]!; k < instance.termStart[item + 1]!; k += 1) {
    adds += prices.term[instance.termIndex[k]!]! * instance.termAmount[k]!;
  }
  const term = instance.partTerm[at]!;
  return term >= 0 ? adds + prices.term[term]! * instance.partAmount[item]! : adds;
}
