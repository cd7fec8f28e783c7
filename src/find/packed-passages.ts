import type { NumberReader, PackedNumbers } from '../language/packed-numbers';
import type { PackedWordList } from './word-list';

/** A passage index as flat arrays, as it is stored between two openings of a journal. Documents and words are numbers from 0; see {@link PackedNumbers}. */
export interface PackedPassages extends PackedWordList {
  /** Each document's words in order as the index holds them; the byte where each begins. */
  runs: Uint8Array<ArrayBuffer>;
  runsAt: Int32Array<ArrayBuffer>;
  /** Weighted words of each document, in quarters. */
  lengths: Int32Array<ArrayBuffer>;
  /** Each word's documents as {@link packPostings} has them; the byte where each begins; how many documents each word has. */
  postings: Uint8Array<ArrayBuffer>;
  postingsAt: Int32Array<ArrayBuffer>;
  /** See {@link HeldHow}. */
  ways: Int32Array<ArrayBuffer>;
  frequencies: Int32Array<ArrayBuffer>;
}

/** The documents of a word, in order, how much it stands in them (quarters), and in which fields (bits). */
export interface Postings {
  docs: Int32Array;
  counts: Uint8Array;
  fields: Uint8Array;
  length: number;
}

/** A word stands in most documents once, and in the first field. */
const USUAL = wayOf(4, 1);

function wayOf(count: number, fields: number): number {
  return count * 256 + fields;
}

/** How much and in which fields a word stands in a document: the few ways in which any does, by number; the usual one is 0. */
export class HeldHow {
  #numbers = new Map([[USUAL, 0]]);

  numberOf(count: number, fields: number): number {
    const way = wayOf(count, fields);
    let number = this.#numbers.get(way);
    if (number === undefined) this.#numbers.set(way, (number = this.#numbers.size));
    return number;
  }

  taken(): Int32Array<ArrayBuffer> {
    return Int32Array.from(this.#numbers.keys());
  }
}

/** For each document how far it is from the last one, times 2, and 1 more where the number of its way follows since it is not the usual one. */
export function packPostings(
  { docs, counts, fields, length }: Postings,
  numberOf: ArrayLike<number>,
  ways: HeldHow,
  into: PackedNumbers,
): void {
  let last = -1;
  for (let at = 0; at < length; at++) {
    const doc = numberOf[docs[at]!]!;
    if (doc < 0) continue;
    const way = ways.numberOf(counts[at]!, fields[at]!);
    into.push((doc - last) * 2 + (way === 0 ? 0 : 1));
    if (way > 0) into.push(way);
    last = doc;
  }
}

export function unpackPostings(
  reader: NumberReader,
  length: number,
  ways: ArrayLike<number>,
): Postings {
  const docs = new Int32Array(length);
  const counts = new Uint8Array(length);
  const fields = new Uint8Array(length);
  let doc = -1;
  for (let at = 0; at < length; at++) {
    const step = reader.next();
    const way = ways[step % 2 === 0 ? 0 : reader.next()]!;
    doc += step >> 1;
    docs[at] = doc;
    counts[at] = way >> 8;
    fields[at] = way & 255;
  }
  return { docs, counts, fields, length };
}
