/** What facets and orders look at, by document number in arrays, so that a keystroke goes over thousands of entries without an object for each. */
import type { EntryKind, HeadingId } from '../journal/records';
import { ENTRY_KINDS } from '../journal/records';
import { IntList } from '../language/int-list';
import type { Facts } from './documents';

export const BOOK = 1;
const ROWS = { themes: 0, books: BOOK, people: 2 } as const;
export type FacetRow = 'theme' | 'book' | 'person';
export const ROW_NAMES: readonly FacetRow[] = ['theme', 'book', 'person'];

export class Columns {
  /** Headings by their numbers, and the row of facets each belongs to. */
  readonly headings: HeadingId[] = [];
  readonly rows: number[] = [];
  readonly years: string[] = [];
  /** By document: when it was written, an ISO day or nothing. */
  readonly whens: string[] = [];
  #numbers = new Map<HeadingId, number>();
  #yearNumbers = new Map<string, number>();
  /** For each document where its headings begin and end in what is held. */
  #starts = new IntList();
  #ends = new IntList();
  #held = new IntList();
  #kinds = new IntList();
  #ofYear = new IntList();

  /** A document's facts, once for each. */
  put(doc: number, facts: Facts): void {
    this.#starts.put(doc, this.#held.length);
    for (const [field, row] of Object.entries(ROWS) as [keyof typeof ROWS, number][])
      for (const id of facts[field]) this.#held.push(this.#number(id, row));
    this.#ends.put(doc, this.#held.length);
    this.#kinds.put(doc, ENTRY_KINDS.indexOf(facts.kind));
    this.#ofYear.put(doc, facts.year === undefined ? -1 : this.#yearNumber(facts.year));
    this.whens[doc] = facts.latest ?? facts.earliest ?? '';
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
    const { values } = this.#held;
    const end = this.#ends.values[doc]!;
    for (let at = this.#starts.values[doc]!; at < end; at++) {
      const number = values[at]!;
      if (!booksOnly || this.rows[number] === BOOK) into[number]! += 1;
    }
  }

  /** Adds 1 for the kind, each heading and the year of every document. */
  countAll(docs: Int32Array, kinds: Int32Array, headings: Int32Array, years: Int32Array): void {
    const [starts, ends, held] = [this.#starts.values, this.#ends.values, this.#held.values];
    const [ofKind, ofYear] = [this.#kinds.values, this.#ofYear.values];
    for (let place = 0; place < docs.length; place++) {
      const doc = docs[place]!;
      kinds[ofKind[doc]!]! += 1;
      const year = ofYear[doc]!;
      if (year >= 0) years[year]! += 1;
      const end = ends[doc]!;
      for (let at = starts[doc]!; at < end; at++) headings[held[at]!]! += 1;
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
