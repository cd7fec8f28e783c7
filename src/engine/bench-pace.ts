/** How fast pieces are settled in this sitting, from which the time for the rest is told. */

/** A pause longer than this is no part of the pace, in milliseconds. */
const PAUSE_MS = 90_000;
/** Steps after which a pace can be told. */
const STEPS_FOR_PACE = 5;

export class Pace {
  #steps = 0;
  #ms = 0;
  #last = 0;

  /** One piece was settled at `now`, in milliseconds. */
  settled(now: number): void {
    const gap = now - this.#last;
    if (this.#last > 0 && gap < PAUSE_MS) {
      this.#steps += 1;
      this.#ms += gap;
    }
    this.#last = now;
  }

  /** Whole minutes, at least 1, for so many pieces; nothing while no pace can be told. */
  minutesFor(left: number): number | undefined {
    if (this.#steps < STEPS_FOR_PACE || left === 0) return undefined;
    return Math.max(1, Math.round((left * this.#ms) / this.#steps / 60_000));
  }
}
