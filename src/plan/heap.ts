/** A binary heap with the greatest key on top; equal keys come out first in, first out, so that runs repeat. */
export class Heap<T> {
  private readonly keys: number[] = [];
  private readonly turns: number[] = [];
  private readonly values: T[] = [];
  private turn = 0;

  get size(): number {
    return this.keys.length;
  }

  /** The greatest key, or -Infinity where there is none. */
  get topKey(): number {
    return this.keys.length > 0 ? this.keys[0]! : -Infinity;
  }

  push(key: number, value: T): void {
    this.turn += 1;
    const at = this.keys.length;
    this.keys.push(key);
    this.turns.push(this.turn);
    this.values.push(value);
    this.rise(at, key, this.turn, value);
  }

  /** Takes off the value with the greatest key. */
  pop(): T | undefined {
    if (this.keys.length === 0) return undefined;
    const top = this.values[0]!;
    const key = this.keys.pop()!;
    const turn = this.turns.pop()!;
    const value = this.values.pop()!;
    if (this.keys.length > 0) this.sink(key, turn, value);
    return top;
  }

  private rise(from: number, key: number, turn: number, value: T): void {
    let at = from;
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (this.keys[above]! >= key) break;
      this.place(at, this.keys[above]!, this.turns[above]!, this.values[above]!);
      at = above;
    }
    this.place(at, key, turn, value);
  }

  private sink(key: number, turn: number, value: T): void {
    const { keys, turns, values } = this;
    let at = 0;
    for (;;) {
      let next = 2 * at + 1;
      if (next >= keys.length) break;
      if (next + 1 < keys.length && this.before(next + 1, keys[next]!, turns[next]!)) next += 1;
      if (!this.before(next, key, turn)) break;
      this.place(at, keys[next]!, turns[next]!, values[next]!);
      at = next;
    }
    this.place(at, key, turn, value);
  }

  private before(at: number, key: number, turn: number): boolean {
    const other = this.keys[at]!;
    return other > key || (other === key && this.turns[at]! < turn);
  }

  private place(at: number, key: number, turn: number, value: T): void {
    this.keys[at] = key;
    this.turns[at] = turn;
    this.values[at] = value;
  }
}
