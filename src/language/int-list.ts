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
    if (at >= this.values.length) {
      const grown = new Int32Array(Math.max(at + 1, this.values.length * 2));
      grown.set(this.values);
      this.values = grown;
    }
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
