/** A binary heap with the greatest key on top; equal keys come out first in, first out, so that runs repeat. */
export class Heap<T> {
  private readonly keys: number[] = [];
  private readonly turns: number[] = [];
  private readonly values: T[] = [];
  private turn = 0;

  get size(): number {
    return this.keys.length;
  }

  get topKey(): number {
    return this.keys[0] ?? -Infinity;
  }

  push(key: number, value: T): void {
    let at = this.keys.length;
    this.keys.push(key);
    this.turns.push((this.turn += 1));
    this.values.push(value);
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (!this.before(at, above)) break;
      this.swap(at, above);
      at = above;
    }
  }

  pop(): T | undefined {
    const top = this.values[0];
    const last = this.keys.length - 1;
    if (last < 0) return undefined;
    this.swap(0, last);
    this.keys.pop();
    this.turns.pop();
    this.values.pop();
    let at = 0;
    for (;;) {
      const left = 2 * at + 1;
      if (left >= last) break;
      const best = left + 1 < last && this.before(left + 1, left) ? left + 1 : left;
      if (!this.before(best, at)) break;
      this.swap(at, best);
      at = best;
    }
    return top;
  }

  private before(a: number, b: number): boolean {
    const [x, y] = [this.keys[a]!, this.keys[b]!];
    return x > y || (x === y && this.turns[a]! < this.turns[b]!);
  }

  private swap(a: number, b: number): void {
    for (const list of [this.keys, this.turns, this.values] as unknown[][]) {
      [list[a], list[b]] = [list[b], list[a]];
    }
  }
}
