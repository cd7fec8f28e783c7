/** How far two entries say the same, from the stems of their words. */

/** Stems as numbers, and for each stem the entries that have it, so that likenesses are quick. */
export class Stems {
  private readonly stems: number[][];
  private readonly having: number[][] = [];

  /** @param words the stems of each entry; stop words are left out by whoever hands them in. */
  constructor(words: readonly Iterable<string>[]) {
    const numbers = new Map<string, number>();
    this.stems = words.map((list, entry) => {
      const own: number[] = [];
      for (const word of new Set(list)) {
        let number = numbers.get(word);
        if (number === undefined) {
          numbers.set(word, (number = numbers.size));
          this.having.push([]);
        }
        own.push(number);
        this.having[number]!.push(entry);
      }
      return own;
    });
  }

  /**
   * Shared stems over all stems of the two (Jaccard 1901), 0 to 1, of one entry with every entry. 0 where they share
   * none; 1 with itself. Costs as much as its stems are common.
   */
  likeness(entry: number): Float64Array {
    const row = new Float64Array(this.stems.length);
    const own = this.stems[entry]!;
    const met: number[] = [];
    for (const stem of own) {
      for (const other of this.having[stem]!) {
        if (row[other] === 0) met.push(other);
        row[other]! += 1;
      }
    }
    for (const other of met) row[other]! /= own.length + this.stems[other]!.length - row[other]!;
    return row;
  }
}
