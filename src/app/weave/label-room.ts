/** Side of a square by which labels keep clear of each other, in pixels. */
const SQUARE = 8;

/** What of a screen is taken by labels, in squares, so that thousands of labels can be tried in a frame. */
export class LabelRoom {
  readonly #squares: Uint8Array;
  readonly #across: number;
  readonly #down: number;
  /** Labels that have found room. */
  count = 0;

  constructor(width: number, height: number) {
    this.#across = Math.max(1, Math.ceil(width / SQUARE));
    this.#down = Math.max(1, Math.ceil(height / SQUARE));
    this.#squares = new Uint8Array(this.#across * this.#down);
  }

  /** Takes a rectangle where all of it is free, or in any case with `force`; what lies off the screen is free. */
  take(x: number, y: number, wide: number, high: number, force = false): boolean {
    const left = Math.max(0, Math.floor(x / SQUARE));
    const right = Math.min(this.#across - 1, Math.floor((x + wide) / SQUARE));
    const top = Math.max(0, Math.floor(y / SQUARE));
    const bottom = Math.min(this.#down - 1, Math.floor((y + high) / SQUARE));
    for (let row = top; row <= bottom && !force; row++) {
      const start = row * this.#across;
      if (this.#squares.subarray(start + left, start + right + 1).includes(1)) return false;
    }
    for (let row = top; row <= bottom; row++) {
      const start = row * this.#across;
      if (right >= left) this.#squares.fill(1, start + left, start + right + 1);
    }
    this.count += 1;
    return true;
  }
}

/** Maps of no more nodes have their labels kept clear of all glyphs; in larger ones that would leave hardly any. */
export const CLEAR_UP_TO = 60;

/** Whether words from `left` on, `wide` pixels across and on a line in the middle of which is `y`, would cover one of these glyphs. */
export const covers = (
  left: number,
  wide: number,
  y: number,
  glyphs: readonly { x: number; y: number; half: number }[],
): boolean =>
  glyphs.some(
    (one) =>
      one.x + one.half > left &&
      one.x - one.half < left + wide &&
      Math.abs(one.y - y) < one.half + 8,
  );
