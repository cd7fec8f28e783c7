/** Ids as they are stored between two openings, and where each stands among them. */
import { printOfTexts } from './fingerprint';

/** What is stored of an id: a number that tells it from others. */
export const printOfId = (id: string): number => printOfTexts([id]);

/** Rooms for each id, at least. */
const ROOM = 1.25;
const FREE = -1;
const GONE = -1;

/**
 * Where each of some ids stands, by their prints alone: no string is made for an id until it is met. Two ids of one print are not told apart, so
 * what is found is to be checked where that matters; among a million ids that is not to be expected once in ten thousand journals.
 */
export class StoredIds {
  readonly #prints: Float64Array;
  /** Places by their prints, each in the first free room from where its print points to. */
  readonly #rooms: Int32Array;
  readonly #mask: number;
  #size: number;

  /** The prints are its own from here on. */
  constructor(prints: Float64Array = new Float64Array(0)) {
    let room = 4;
    while (room < prints.length * ROOM) room *= 2;
    this.#prints = prints;
    this.#rooms = new Int32Array(room).fill(FREE);
    this.#mask = room - 1;
    this.#size = prints.length;
    for (let place = 0; place < prints.length; place++) {
      let at = this.#begin(prints[place]!);
      while (this.#rooms[at] !== FREE) at = (at + 1) & this.#mask;
      this.#rooms[at] = place;
    }
  }

  /** Places there are; those dropped among them. */
  get span(): number {
    return this.#prints.length;
  }

  /** Some were dropped. */
  get thinned(): boolean {
    return this.#size < this.span;
  }

  /** Ids stored, without those dropped. */
  get size(): number {
    return this.#size;
  }

  placeOf(id: string): number | undefined {
    if (this.#size === 0) return undefined;
    const print = printOfId(id);
    for (let at = this.#begin(print); ; at = (at + 1) & this.#mask) {
      const place = this.#rooms[at]!;
      if (place === FREE) return undefined;
      if (this.#prints[place] === print) return place;
    }
  }

  /** The id of a place is met no more. */
  drop(place: number): void {
    if (Number.isNaN(this.#prints[place])) return;
    this.#prints[place] = NaN;
    this.#size -= 1;
  }

  /** Low bits tell prints apart best where they come from both sums: see `printOfTexts`. */
  #begin(print: number): number {
    return (print / 2 ** 21) & this.#mask;
  }
}

/** Stored ids that have been met again: by place the id, or undefined where it was not met. */
export interface MetIds {
  ids: readonly (string | undefined)[];
  places: StoredIds;
}

/** By place the ids that were met again; the others are dropped. */
export function meet(places: StoredIds, ids: readonly (string | undefined)[]): MetIds {
  for (let place = 0; place < ids.length; place++) if (ids[place] === undefined) places.drop(place);
  return { ids, places };
}

/** A number for each of some ids: those stored, which are shared and stay as they are, and what has been altered since. */
export class Places<Id extends string = string> {
  #own = new Map<string, number>();
  #size: number;

  constructor(readonly stored = new StoredIds()) {
    this.#size = stored.size;
  }

  get size(): number {
    return this.#size;
  }

  get(id: Id): number | undefined {
    const own = this.#own.get(id);
    if (own === undefined) return this.stored.placeOf(id);
    return own === GONE ? undefined : own;
  }

  has(id: Id): boolean {
    return this.get(id) !== undefined;
  }

  /** `place` is 0 or more. */
  set(id: Id, place: number): void {
    if (!this.has(id)) this.#size += 1;
    this.#own.set(id, place);
  }

  delete(id: Id): void {
    if (!this.has(id)) return;
    this.#size -= 1;
    if (this.stored.placeOf(id) === undefined) this.#own.delete(id);
    else this.#own.set(id, GONE);
  }
}
