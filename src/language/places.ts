/** Lists of ids as they are stored, a line each, and where each id stands in them. */
import { linesOf } from './lines';

/** A stored list, told apart. */
export interface IdList {
  ids: readonly string[];
  places: ReadonlyMap<string, number>;
}

let last: (IdList & { joined: string }) | undefined;

/** Tables that are stored over the same list come one after another: it is told apart once for all of them. */
export function idList(joined: string): IdList {
  if (last?.joined !== joined) {
    const ids = linesOf(joined);
    const places = new Map<string, number>();
    for (let at = 0; at < ids.length; at++) places.set(ids[at]!, at);
    last = { joined, ids, places };
  }
  return last;
}

const GONE = -1;

/** A number for each of some ids: those of a stored list, which is shared and stays as it is, and what has been altered since. */
export class Places<Id extends string = string> {
  #own = new Map<string, number>();
  #size: number;

  constructor(readonly stored: ReadonlyMap<string, number> = new Map()) {
    this.#size = stored.size;
  }

  get size(): number {
    return this.#size;
  }

  get(id: Id): number | undefined {
    const own = this.#own.get(id);
    if (own === undefined) return this.stored.get(id);
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
    if (this.stored.has(id)) this.#own.set(id, GONE);
    else this.#own.delete(id);
  }

  *[Symbol.iterator](): Generator<[Id, number], void> {
    for (const [id, place] of this.stored) if (!this.#own.has(id)) yield [id as Id, place];
    for (const [id, place] of this.#own) if (place !== GONE) yield [id as Id, place];
  }
}
