/**
 * The words of an index by number: what begins with some letters, what is spelt nearly so, what has the same stem. How many documents hold a
 * word is told from outside; words that none holds any more are answered to nothing.
 */
import { plainList } from '../language/int-list';
import { linesOf } from '../language/lines';
import { bits, letterMask, slipsBetween } from './slips';

/** Words as they are stored: by number, a line each; by the same number that of the word's stem; stems by number, a line each. */
export interface PackedWordList {
  words: string;
  stemOf: Int32Array<ArrayBuffer>;
  stems: string;
}

/** Beginnings of so many letters are remembered until a document changes. */
const SHORT = 2;
/** A few new words are looked through one by one; more are sorted in. */
const FEW_FRESH = 500;

/** For each number below `count` its place in a list, or -1. */
export function numbersOf(list: readonly number[], count: number): Int32Array {
  const out = new Int32Array(count).fill(-1);
  list.forEach((held, at) => {
    out[held] = at;
  });
  return out;
}

export class WordList {
  #terms = new Map<string, number>();
  #words: string[] = [];
  /** Of the first words, as far as they have been asked about. */
  #masks: number[] = [];
  /** Term numbers in order of their words, and those that came since it was sorted. */
  #sorted: number[] = [];
  #fresh: number[] = [];
  /** Terms by the number of their stem, and for each term the number of its stem. */
  #kin: number[][] = [];
  #stems: number[] = [];
  #stemNumbers = new Map<string, number>();
  #begun = new Map<string, readonly number[]>();

  constructor(
    readonly stemOf: (word: string) => string,
    /** Documents that hold a term. */
    readonly frequency: (term: number) => number,
  ) {}

  /** Takes in what was packed, into a list that is still empty. */
  take({ words, stemOf, stems }: PackedWordList): void {
    this.#words = linesOf(words);
    this.#stems = plainList(stemOf);
    linesOf(stems).forEach((stem, number) => {
      this.#stemNumbers.set(stem, number);
      this.#kin.push([]);
    });
    this.#words.forEach((word, term) => {
      this.#terms.set(word, term);
      this.#fresh.push(term);
      this.#kin[this.#stems[term]!]!.push(term);
    });
  }

  /** Some terms as they can be stored, numbered anew in their order. */
  pack(terms: readonly number[]): PackedWordList {
    const stems = [...new Set(terms.map((term) => this.#stems[term]!))];
    const numbers = numbersOf(stems, this.#stemNumbers.size);
    const names = [...this.#stemNumbers.keys()];
    return {
      words: terms.map((term) => this.#words[term]).join('\n'),
      stemOf: Int32Array.from(terms, (term) => numbers[this.#stems[term]!]!),
      stems: stems.map((stem) => names[stem]).join('\n'),
    };
  }

  get size(): number {
    return this.#words.length;
  }

  wordOf(term: number): string {
    return this.#words[term]!;
  }

  /** The term of a word that is known, held by a document or not. */
  known(word: string): number | undefined {
    return this.#terms.get(word);
  }

  /** The term of a word, a new one where it is not known yet. */
  termOf(word: string): number {
    return this.#terms.get(word) ?? this.#add(word);
  }

  #add(word: string): number {
    const term = this.#words.push(word) - 1;
    this.#terms.set(word, term);
    this.#fresh.push(term);
    const stem = this.stemOf(word);
    let number = this.#stemNumbers.get(stem);
    if (number === undefined) {
      number = this.#kin.push([]) - 1;
      this.#stemNumbers.set(stem, number);
    }
    this.#kin[number]!.push(term);
    this.#stems.push(number);
    return term;
  }

  /** To be called when how many documents hold a word has changed. */
  changed(): void {
    this.#begun.clear();
  }

  /** The number of a term's stem. */
  stemAt(term: number): number {
    return this.#stems[term]!;
  }

  /** The number of a word's stem, where some word that a document holds has it. */
  stemOfAny(word: string): { stem: number; most: number } | undefined {
    const stem = this.#stemNumbers.get(this.stemOf(word));
    if (stem === undefined) return undefined;
    const most = Math.max(0, ...this.#kin[stem]!.map((term) => this.frequency(term)));
    return most > 0 ? { stem, most } : undefined;
  }

  /** Other words with the same stem, the commonest first. */
  kin(word: string): number[] {
    const stem = this.#stemNumbers.get(this.stemOf(word));
    return stem === undefined ? [] : this.#commonest(this.#kin[stem]!, word);
  }

  /** Words that begin so, other than the word itself, the commonest first, at most `limit`. */
  beginning(prefix: string, limit: number): readonly number[] {
    // Of a letter or two half the dictionary is gone through, again and again.
    if (prefix.length > SHORT) return this.#beginning(prefix, limit);
    const key = `${prefix} ${limit}`;
    const known = this.#begun.get(key) ?? this.#beginning(prefix, limit);
    this.#begun.set(key, known);
    return known;
  }

  #beginning(prefix: string, limit: number): number[] {
    this.#sort();
    const found: number[] = [];
    const sorted = this.#sorted;
    let low = 0;
    let high = sorted.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.#words[sorted[middle]!]! < prefix) low = middle + 1;
      else high = middle;
    }
    for (; low < sorted.length && this.#words[sorted[low]!]!.startsWith(prefix); low++)
      found.push(sorted[low]!);
    for (const term of this.#fresh) if (this.#words[term]!.startsWith(prefix)) found.push(term);
    return this.#commonest(found, prefix).slice(0, limit);
  }

  /** Of some terms those that documents hold, but for one word, the commonest first. */
  #commonest(terms: readonly number[], but: string): number[] {
    return terms
      .filter((term) => this.frequency(term) > 0 && this.#words[term] !== but)
      .sort((a, b) => this.frequency(b) - this.frequency(a) || this.#byWord(a, b));
  }

  /** Words at most `slips` slips away (one letter more, fewer, other, or two changed places), nearest first. */
  near(word: string, slips: number, limit: number): number[] {
    const mask = letterMask(word);
    while (this.#masks.length < this.#words.length)
      this.#masks.push(letterMask(this.#words[this.#masks.length]!));
    const found: { term: number; distance: number }[] = [];
    for (let term = 0; term < this.#words.length; term++) {
      const other = this.#words[term]!;
      if (
        Math.abs(other.length - word.length) > slips ||
        bits(mask ^ this.#masks[term]!) > 2 * slips
      )
        continue;
      if (this.frequency(term) === 0 || other === word) continue;
      const distance = slipsBetween(word, other, slips);
      if (distance <= slips) found.push({ term, distance });
    }
    return found
      .sort(
        (a, b) =>
          a.distance - b.distance ||
          this.frequency(b.term) - this.frequency(a.term) ||
          this.#byWord(a.term, b.term),
      )
      .slice(0, limit)
      .map(({ term }) => term);
  }

  /** Terms are numbered as they come, words are the same whatever came first. */
  #byWord(a: number, b: number): number {
    return this.#words[a]! < this.#words[b]! ? -1 : 1;
  }

  #sort(): void {
    if (this.#fresh.length === 0) return;
    if (this.#fresh.length < FEW_FRESH && this.#sorted.length > 0) return;
    this.#sorted = [...this.#sorted, ...this.#fresh].sort((a, b) => this.#byWord(a, b));
    this.#fresh = [];
  }
}
