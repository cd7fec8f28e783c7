import { withRoom } from './room';

/** A growing list of 32-bit integers in one typed array, for tables of many rows. */
export class IntList {
  constructor(
    public values = new Int32Array(4),
    public length = 0,
  ) {}

  /** Over what is given, which itself stays as it is where the list grows. */
  static of(values: Int32Array<ArrayBuffer>): IntList {
    return new IntList(values, values.length);
  }

  push(value: number): void {
    this.put(this.length, value);
  }

  /** What is passed over is 0. */
  put(at: number, value: number): void {
    if (at >= this.values.length) this.values = withRoom(this.values, at + 1);
    this.values[at] = value;
    if (at >= this.length) this.length = at + 1;
  }

  at(index: number): number {
    return this.values[index] ?? 0;
  }

  /** What is held, as an array of its own. */
  taken(): Int32Array<ArrayBuffer> {
    return this.values.slice(0, this.length);
  }
}

/** The same numbers in a plain array, which grows. `Array.from` asks a typed array for an iterator and takes ten times as long. */
export function plainList(values: ArrayLike<number>): number[] {
  const out = new Array<number>(values.length);
  for (let at = 0; at < values.length; at++) out[at] = values[at]!;
  return out;
}
