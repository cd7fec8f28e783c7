/**
 * The room of planning. It owns what a guide is worth, how long things take, and which items stand in which
 * part in which order; it looks nothing up, knows no journal and no screen, and keeps nothing.
 *
 * This file holds the bare problem under a guide: items put into parts of limited room.
 *
 *   worth(placement) = sum of own[item, part]  +  sum over terms of f(amount gathered)  -  sum over pairs of same
 *
 * Every f is concave, rises or stays level, and is piecewise linear; every `same` is zero or more. So the whole
 * is submodular (an item adds less to a larger set), and it can be written as an integer programme.
 */

/** A concave piecewise-linear function: `slopes[k]` a unit over the next `widths[k]` units, then level. */
export interface Term {
  name: string;
  /** Widths of the pieces, each above 0. */
  widths: number[];
  /** Slopes of the pieces, each 0 or more, falling. */
  slopes: number[];
}

export interface Instance {
  items: number;
  parts: number;
  /** Minutes of each item, 0 or more. */
  minutes: Float64Array;
  /** Minutes of each part, and of the whole. */
  room: Float64Array;
  whole: number;
  /** What an item is worth by itself in a part, at [item * parts + part]; NaN where it may not stand. */
  own: Float64Array;
  terms: Term[];
  /** Amounts an item brings to terms wherever it stands: entries `termStart[i]` to `termStart[i + 1]`. */
  termStart: Int32Array;
  termIndex: Int32Array;
  termAmount: Float64Array;
  /** The term an item brings `partAmount[item]` to in a part, at [item * parts + part], or -1. */
  partTerm: Int32Array;
  partAmount: Float64Array;
  /** 1 where an item must be placed. */
  must: Uint8Array;
  /** Items that stand in a part whatever else is chosen; they were placed by hand. */
  pinned: { item: number; part: number }[];
  /** The cost of an item standing together with each other item; 0 for itself. Rows are symmetric. */
  same: (item: number) => Float64Array;
}

/** The height of a term at an amount of 0 or more. */
export function heightOf(term: Term, amount: number): number {
  let height = 0;
  let left = amount;
  for (let k = 0; k < term.widths.length && left > 0; k += 1) {
    const width = term.widths[k]!;
    height += term.slopes[k]! * Math.min(left, width);
    left -= width;
  }
  return height;
}

/** Room is compared with this much forbearance, in minutes. */
const ROOM_SLACK = 1e-9;

/**
 * A placement that is being built: what stands where, what it is worth, and what one more or one fewer would do.
 * Costs of a step grow with the items placed and the terms of the item, not with the number of candidates.
 */
export class Placement {
  /** The part each item stands in, or -1. */
  readonly part: Int16Array;
  readonly room: Float64Array;
  readonly amounts: Float64Array;
  whole: number;
  value = 0;
  members: number[] = [];

  constructor(readonly instance: Instance) {
    this.part = new Int16Array(instance.items).fill(-1);
    this.room = Float64Array.from(instance.room);
    this.whole = instance.whole;
    this.amounts = new Float64Array(instance.terms.length);
    for (const { item, part } of instance.pinned) this.put(item, part);
  }

  may(item: number, part: number): boolean {
    return !Number.isNaN(this.instance.own[item * this.instance.parts + part]!);
  }

  fits(item: number, part: number): boolean {
    const minutes = this.instance.minutes[item]! - ROOM_SLACK;
    return minutes <= this.room[part]! && minutes <= this.whole;
  }

  /** What putting an item, not yet placed, into a part would add. It may be below 0. */
  gain(item: number, part: number): number {
    const { instance, amounts } = this;
    const at = item * instance.parts + part;
    let gain = instance.own[at]! - this.sameAs(item);
    for (let k = instance.termStart[item]!; k < instance.termStart[item + 1]!; k += 1) {
      gain += rise(instance, amounts, instance.termIndex[k]!, instance.termAmount[k]!);
    }
    const partTerm = instance.partTerm[at]!;
    if (partTerm >= 0) gain += rise(instance, amounts, partTerm, instance.partAmount[item]!);
    return gain;
  }

  /** The cost of the likeness of an item to all that is placed. */
  sameAs(item: number): number {
    let cost = 0;
    for (const other of this.members) cost += this.instance.same(other)[item]!;
    return cost;
  }

  put(item: number, part: number): void {
    this.value += this.gain(item, part);
    this.part[item] = part;
    this.members.push(item);
    this.shift(item, part, 1);
  }

  take(item: number): void {
    const part = this.part[item]!;
    this.members.splice(this.members.indexOf(item), 1);
    this.part[item] = -1;
    this.shift(item, part, -1);
    this.value -= this.gain(item, part);
  }

  private shift(item: number, part: number, sign: 1 | -1): void {
    const { instance } = this;
    const minutes = sign * instance.minutes[item]!;
    this.room[part]! -= minutes;
    this.whole -= minutes;
    for (let k = instance.termStart[item]!; k < instance.termStart[item + 1]!; k += 1) {
      this.amounts[instance.termIndex[k]!]! += sign * instance.termAmount[k]!;
    }
    const partTerm = instance.partTerm[item * instance.parts + part]!;
    if (partTerm >= 0) this.amounts[partTerm]! += sign * instance.partAmount[item]!;
  }

  /** Where everything stands, to return to with `restore`. */
  keep(): { part: Int16Array; value: number } {
    return { part: Int16Array.from(this.part), value: this.value };
  }

  restore(kept: { part: Int16Array }): void {
    for (const item of [...this.members]) if (kept.part[item] !== this.part[item]) this.take(item);
    for (let item = 0; item < kept.part.length; item += 1) {
      const part = kept.part[item]!;
      if (part >= 0 && this.part[item]! < 0) this.put(item, part);
    }
  }
}

function rise(instance: Instance, amounts: Float64Array, term: number, amount: number): number {
  const shape = instance.terms[term]!;
  return heightOf(shape, amounts[term]! + amount) - heightOf(shape, amounts[term]!);
}
