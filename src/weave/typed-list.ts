/** A growing list of 32-bit integers in one typed array, for the tables of this room. */
export class IntList {
  #values = new Int32Array(1024);
  length = 0;

  push(value: number): void {
    if (this.length === this.#values.length) {
      const grown = new Int32Array(this.#values.length * 2);
      grown.set(this.#values);
      this.#values = grown;
    }
    this.#values[this.length++] = value;
  }

  at(index: number): number {
    return this.#values[index] ?? 0;
  }
}
