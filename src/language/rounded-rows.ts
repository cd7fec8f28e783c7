/**
 * Rows of numbers, each row held in whole numbers of 8 bits with a unit of its own: a quarter of the memory of 32 bits, and no number is off by more
 * than half a unit, which is a 254th of the row's largest.
 */
import { withRoom } from './room';

const MOST = 127;

/** Rows as they are stored. */
export interface PackedRows {
  /** `width` whole numbers for each row. */
  values: Int8Array<ArrayBuffer>;
  units: Float32Array<ArrayBuffer>;
}

export class RoundedRows {
  constructor(
    readonly width: number,
    public values = new Int8Array(0),
    /** What 1 stands for in each row. */
    public units = new Float32Array(0),
  ) {}

  static of(width: number, { values, units }: PackedRows): RoundedRows {
    return new RoundedRows(width, values, units);
  }

  /** A row put down, where there is none yet after the last one too. */
  put(row: number, numbers: ArrayLike<number>): void {
    this.units = withRoom(this.units, row + 1);
    this.values = withRoom(this.values, this.units.length * this.width);
    let largest = 0;
    for (let at = 0; at < this.width; at++) largest = Math.max(largest, Math.abs(numbers[at]!));
    // Rounded first, so that a row is the same whether it was stored meanwhile or not.
    const unit = Math.fround(largest / MOST);
    this.units[row] = unit;
    const from = row * this.width;
    for (let at = 0; at < this.width; at++)
      this.values[from + at] = unit === 0 ? 0 : Math.round(numbers[at]! / unit);
  }

  row(row: number): Float32Array {
    const from = row * this.width;
    const unit = this.units[row]!;
    return Float32Array.from(this.values.subarray(from, from + this.width), (held) => held * unit);
  }

  /** Adds a row, so many times, to numbers. */
  addTo(sum: Float64Array | Float32Array, row: number, times: number): void {
    const from = row * this.width;
    const weight = times * this.units[row]!;
    for (let at = 0; at < this.width; at++) sum[at]! += weight * this.values[from + at]!;
  }

  /** Each row times the same numbers, added up: of the first so many rows. */
  products(numbers: ArrayLike<number>, rows: number): Float32Array {
    const { width, values, units } = this;
    const found = new Float32Array(rows);
    for (let row = 0; row < rows; row++) {
      let sum = 0;
      const from = row * width;
      for (let at = 0; at < width; at++) sum += numbers[at]! * values[from + at]!;
      found[row] = sum * units[row]!;
    }
    return found;
  }

  /** Some rows in a new order; -1 for an empty one. */
  pack(rows: readonly number[]): PackedRows {
    const { width } = this;
    const packed = {
      values: new Int8Array(rows.length * width),
      units: new Float32Array(rows.length),
    };
    rows.forEach((row, at) => {
      if (row < 0) return;
      packed.values.set(this.values.subarray(row * width, (row + 1) * width), at * width);
      packed.units[at] = this.units[row]!;
    });
    return packed;
  }
}
