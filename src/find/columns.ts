/** What facets and orders look at, by document number in arrays, so that a keystroke goes over thousands of entries without an object for each. */
import type { EntryKind, HeadingId } from '../journal/records';
import { ENTRY_KINDS } from '../journal/records';
import type { Facts } from './documents';

export const BOOK = 1;
const ROWS = { themes: 0, books: BOOK, people: 2 } as const;
export type FacetRow = 'theme' | 'book' | 'person';
export const ROW_NAMES: readonly FacetRow[] = ['theme', 'book', 'person'];

/** A growing list of whole numbers in one typed array. */
class Numbers {
  values = new Int32Array(1024);
  length = 0;

  push(value: number): void {
    if (this.length === this.values.length) {
      const grown = new Int32Array(this.values.length * 2);
      grown.set(this.values);
      this.values = grown;
    }
    this.values[this.length++] = value;
  }
}

export class Columns {
  /** Headings by their numbers, and the row of facets each belongs to. */
  readonly headings: HeadingId[] = [];
  readonly rows: number[] = [];
  readonly years: string[] = [];
  /** By document: when it was written, an ISO day or nothing. */
  readonly whens: string[] = [];
  #numbers = new Map<HeadingId, number>();
  #yearNumbers = new Map<string, number>();
  /** For each document where its headings begin; they end where the next begin. */
  #starts = new Numbers();
  #held = new Numbers();
  #kinds = new Numbers();
  #ofYear = new Numbers();

  /** Documents are added in the order of their numbers. */
  add(facts: Facts): void {
    this.#starts.push(this.#held.length);
    for (const [field, row] of Object.entries(ROWS) as [keyof typeof ROWS, number][])
      for (const id of facts[field]) this.#held.push(this.#number(id, row));
    this.#kinds.push(ENTRY_KINDS.indexOf(facts.kind));
    this.#ofYear.push(facts.year === undefined ? -1 : this.#yearNumber(facts.year));
    this.whens.push(facts.latest ?? facts.earliest ?? '');
  }

  kindOf(doc: number): number {
    return this.#kinds.values[doc]!;
  }

  /** The number of the year, or -1. */
  yearOf(doc: number): number {
    return this.#ofYear.values[doc]!;
  }

  /** Adds 1 for each heading of a document; of its books only where `booksOnly`. */
  count(doc: number, into: Int32Array, booksOnly: boolean): void {
    const { values, length } = this.#held;
    const next = doc + 1 < this.#starts.length ? this.#starts.values[doc + 1]! : length;
    for (let at = this.#starts.values[doc]!; at < next; at++) {
      const number = values[at]!;
      if (!booksOnly || this.rows[number] === BOOK) into[number]! += 1;
    }
  }

  #number(id: HeadingId, row: number): number {
    let number = this.#numbers.get(id);
    if (number === undefined) {
      number = this.headings.push(id) - 1;
      this.rows.push(row);
      this.#numbers.set(id, number);
    }
    return number;
  }

  #yearNumber(year: string): number {
    let number = this.#yearNumbers.get(year);
    if (number === undefined) {
      number = this.years.push(year) - 1;
      this.#yearNumbers.set(year, number);
    }
    return number;
  }
}

export const kindName = (number: number): EntryKind => ENTRY_KINDS[number]!;
