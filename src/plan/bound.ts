/**
 * A proven upper bound on what any guide could be worth: Lagrangian relaxation (Geoffrion 1974; Fisher 1981).
 *
 * Minutes get a price in each part and in the whole, and each concave term is joined to what is gathered for it by a
 * price too. At any prices of 0 or more, the best that can be done item by item, with no limit on minutes, is worth
 * at least as much as any guide that keeps the limits. Prices are then lowered or raised to make that bound small.
 * Sameness among items not yet decided is left out, which can only raise the bound.
 */
import type { Instance, Placement } from './instance';

/** Prices: of a minute in each part, of a minute of the whole, and of a unit of each term. */
export interface Prices {
  part: Float64Array;
  whole: number;
  term: Float64Array;
}

export interface Relaxed {
  /** No completion of the placement from these items is worth more; -Infinity where some must does not fit. */
  bound: number;
  /** The bound at the prices that `best` is told at; never below `bound`. */
  bestBound: number;
  /** The best an item adds beyond prices, by its place in `items`. */
  best: Float64Array;
  /** How often, 0 to 1, an item was taken as the prices moved: a likely fraction. */
  taken: Float64Array;
  prices: Prices;
  /** Work done, in items times parts looked at. */
  work: number;
}

export function freePrices(instance: Instance): Prices {
  return {
    part: new Float64Array(instance.parts).fill(1),
    whole: 0,
    term: Float64Array.from(instance.terms, ({ slopes }) => (slopes[0] ?? 0) / 2),
  };
}

const copy = (prices: Prices): Prices => ({
  part: Float64Array.from(prices.part),
  whole: prices.whole,
  term: Float64Array.from(prices.term),
});

/** How fast the running share of `taken` forgets. */
const FORGET = 0.12;
/** Rounds without progress before the step is halved. */
const PATIENCE = 5;

/** Bounds a placement completed from some items; see the top of the file. Subgradient steps after Polyak 1969. */
export class Relaxation {
  private readonly use: Float64Array;
  private readonly gathered: Float64Array;
  private wholeUse = 0;
  private readonly slopeOf: Float64Array;
  /** The parts with room for each item: for the k-th, `open` from `start[k]` to `start[k + 1]`. */
  private readonly slots: { start: Int32Array; open: Int32Array };

  /** @param sameCost what standing with the placed items costs each of `items`. */
  constructor(
    private readonly placement: Placement,
    private readonly items: Int32Array,
    private readonly sameCost: Float64Array,
  ) {
    const { instance } = placement;
    this.use = new Float64Array(instance.parts);
    this.gathered = new Float64Array(instance.terms.length);
    this.slots = this.openSlots();
    this.slopeOf = Float64Array.from(instance.terms, ({ widths, slopes }) => {
      return (slopes[0] ?? 0) / widths.reduce((sum, width) => sum + width, 0);
    });
  }

  /**
   * @param target the worth of the best guide known: steps aim at it, and stop once the bound is no more.
   */
  relax(from: Prices, rounds: number, target: number): Relaxed {
    const { items, placement } = this;
    const prices = copy(from);
    const best = new Float64Array(items.length);
    const held: Relaxed = {
      bound: Infinity,
      bestBound: Infinity,
      best: new Float64Array(items.length),
      taken: new Float64Array(items.length),
      prices: copy(from),
      work: 0,
    };
    let scale = 1;
    let idle = 0;
    for (let round = 0; round < rounds; round += 1) {
      const value = this.price(prices, best);
      held.work += items.length * placement.instance.parts;
      for (let k = 0; k < items.length; k += 1) {
        const now = best[k]! > 0 ? 1 : 0;
        held.taken[k] = round === 0 ? now : held.taken[k]! + FORGET * (now - held.taken[k]!);
      }
      if (value < held.bound - 1e-7) idle = 0;
      else if ((idle += 1) >= PATIENCE) [scale, idle] = [scale / 2, 0];
      if (value < held.bound) {
        held.bound = value;
        held.bestBound = value;
        held.best.set(best);
        held.prices = copy(prices);
      }
      if (held.bound <= target || scale < 1e-4) break;
      if (!this.step(prices, scale * (value - target))) break;
    }
    return held;
  }

  private openSlots(): { start: Int32Array; open: Int32Array } {
    const { placement, items } = this;
    const { parts } = placement.instance;
    const start = new Int32Array(items.length + 1);
    const open = new Int32Array(items.length * parts);
    let count = 0;
    for (let k = 0; k < items.length; k += 1) {
      for (let part = 0; part < parts; part += 1) {
        if (placement.may(items[k]!, part) && placement.fits(items[k]!, part)) {
          open[count] = part;
          count += 1;
        }
      }
      start[k + 1] = count;
    }
    return { start, open };
  }

  /** The bound at some prices, leaving behind what would be used and gathered. */
  private price(prices: Prices, best: Float64Array): number {
    const { placement, items, use, gathered } = this;
    const { instance } = placement;
    const { parts, minutes, own, partTerm, partAmount, termStart, termIndex, termAmount } =
      instance;
    use.fill(0);
    gathered.fill(0);
    this.wholeUse = 0;
    let total = placement.value + prices.whole * placement.whole;
    for (let part = 0; part < parts; part += 1) total += prices.part[part]! * placement.room[part]!;
    total += this.termPrices(prices);
    const { start, open } = this.slots;
    for (let k = 0; k < items.length; k += 1) {
      const item = items[k]!;
      const length = minutes[item]!;
      let most = -Infinity;
      let where = -1;
      for (let s = start[k]!; s < start[k + 1]!; s += 1) {
        const part = open[s]!;
        const at = item * parts + part;
        const term = partTerm[at]!;
        const mixed = term >= 0 ? prices.term[term]! * partAmount[item]! : 0;
        const adds = own[at]! + mixed - prices.part[part]! * length;
        if (adds > most) {
          most = adds;
          where = part;
        }
      }
      if (where >= 0) {
        most -= this.sameCost[item]! + prices.whole * length;
        for (let t = termStart[item]!; t < termStart[item + 1]!; t += 1) {
          most += prices.term[termIndex[t]!]! * termAmount[t]!;
        }
      }
      best[k] = most;
      if (most <= 0 && !instance.must[item]) continue;
      total += most;
      if (where < 0) continue;
      use[where]! += minutes[item]!;
      this.wholeUse += minutes[item]!;
      for (let t = termStart[item]!; t < termStart[item + 1]!; t += 1) {
        gathered[termIndex[t]!]! += termAmount[t]!;
      }
      const term = partTerm[item * parts + where]!;
      if (term >= 0) gathered[term]! += partAmount[item]!;
    }
    return total;
  }

  /** What the terms could still rise beyond their prices; takes the amounts that would do so off `gathered`. */
  private termPrices(prices: Prices): number {
    const { placement, gathered } = this;
    let total = 0;
    placement.instance.terms.forEach(({ widths, slopes }, term) => {
      let passed = placement.amounts[term]!;
      for (let k = 0; k < widths.length; k += 1) {
        const left = widths[k]! - Math.max(0, passed);
        passed -= widths[k]!;
        const over = slopes[k]! - prices.term[term]!;
        if (left <= 0 || over <= 0) continue;
        total += over * left;
        gathered[term]! -= left;
      }
    });
    return total;
  }

  /** Moves the prices against what was over- and underused; false where nothing is left to move. */
  private step(prices: Prices, length: number): boolean {
    const { placement, use, gathered, slopeOf } = this;
    const { instance } = placement;
    const partScale = (part: number): number => 1 / Math.max(1, instance.room[part]!);
    const wholeScale = 1 / Math.max(1, instance.whole);
    const wholeOver = this.wholeUse - placement.whole;
    let square = wholeOver > 0 || prices.whole > 0 ? wholeScale * wholeOver ** 2 : 0;
    for (let part = 0; part < instance.parts; part += 1) {
      const over = use[part]! - placement.room[part]!;
      if (over > 0 || prices.part[part]! > 0) square += partScale(part) * over ** 2;
    }
    for (let term = 0; term < gathered.length; term += 1) {
      if (gathered[term]! < 0 || prices.term[term]! > 0)
        square += slopeOf[term]! * gathered[term]! ** 2;
    }
    if (square < 1e-12) return false;
    const by = length / square;
    prices.whole = Math.max(0, prices.whole + by * wholeScale * wholeOver);
    for (let part = 0; part < instance.parts; part += 1) {
      const over = use[part]! - placement.room[part]!;
      prices.part[part] = Math.max(0, prices.part[part]! + by * partScale(part) * over);
    }
    for (let term = 0; term < gathered.length; term += 1) {
      const moved = prices.term[term]! - by * slopeOf[term]! * gathered[term]!;
      prices.term[term] = Math.min(instance.terms[term]!.slopes[0] ?? 0, Math.max(0, moved));
    }
    return true;
  }
}
