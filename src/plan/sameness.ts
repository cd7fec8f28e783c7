/** How far two entries say the same, from the stems of their words. */

/**
 * Stems as numbers, so that likenesses are quick: entry `i` has `stems[starts[i]]` to `stems[starts[i + 1]]`.
 * Stop words are left out by whoever hands the words in.
 */
export class Stems {
  private readonly starts: Int32Array;
  private readonly stems: Int32Array;
  private readonly marked: Int32Array;
  private mark = 0;

  constructor(words: readonly Iterable<string>[]) {
    const numbers = new Map<string, number>();
    const stems: number[] = [];
    this.starts = new Int32Array(words.length + 1);
    words.forEach((list, index) => {
      for (const word of new Set(list)) {
        let number = numbers.get(word);
        if (number === undefined) numbers.set(word, (number = numbers.size));
        stems.push(number);
      }
      this.starts[index + 1] = stems.length;
    });
    this.stems = Int32Array.from(stems);
    this.marked = new Int32Array(numbers.size).fill(-1);
  }

  /** Shared stems over all stems of the two (Jaccard 1901), 0 to 1, of one entry with every entry; 0 where both have none. */
  likeness(item: number): Float64Array {
    const { starts, stems, marked } = this;
    this.mark += 1;
    for (let k = starts[item]!; k < starts[item + 1]!; k += 1) marked[stems[k]!] = this.mark;
    const own = starts[item + 1]! - starts[item]!;
    const row = new Float64Array(starts.length - 1);
    for (let other = 0; other < row.length; other += 1) {
      let shared = 0;
      for (let k = starts[other]!; k < starts[other + 1]!; k += 1) {
        if (marked[stems[k]!] === this.mark) shared += 1;
      }
      const all = own + starts[other + 1]! - starts[other]! - shared;
      row[other] = all === 0 ? 0 : shared / all;
    }
    return row;
  }
}
