import type { PackedWordList } from './word-list';

/** A passage index as flat arrays, as it is stored between two openings of a journal. Documents and words are numbers from 0. */
export interface PackedPassages extends PackedWordList {
  /** Each document's words in order as the index holds them; where each begins, and at the end where the last ends. */
  runs: Int32Array<ArrayBuffer>;
  runsAt: Int32Array<ArrayBuffer>;
  /** Weighted words of each document. */
  lengths: Float64Array;
  /** Each word's documents, how much it stands in them (quarters), and in which fields (bits); where each begins, and the end. */
  docs: Int32Array<ArrayBuffer>;
  counts: Uint8Array;
  fields: Uint8Array;
  docsAt: Int32Array<ArrayBuffer>;
}

/** Where each of some lists begins when they are laid one after another, and at the end where the last ends. */
export function beginnings(lengths: Iterable<number>, count: number): Int32Array<ArrayBuffer> {
  const out = new Int32Array(count + 1);
  let at = 0;
  for (const length of lengths) {
    out[at + 1] = out[at]! + length;
    at += 1;
  }
  return out;
}
