/**
 * The yardstick's plain ranking: BM25 over the stems of one text, nothing else. It is written apart from the engine's index, so that
 * the two can be held against each other; `bm25` in tests/outside/measures.ts, by the formula itself, holds this one.
 */
import { stem } from '../../../src/language/stem';
import { tokens } from '../../../src/language/tokens';

/** The 33 small words that Lucene's English analysis leaves out (Apache Lucene, EnglishAnalyzer; from memory). */
const LEFT_OUT = new Set(
  'a an and are as at be but by for if in into is it no not of on or such that the their then there these they this to was will with'.split(
    ' ',
  ),
);

/** The parameters of the published runs (Anserini, BEIR v1.0.0, flat index). */
const K1 = 0.9;
const B = 0.4;

export const plainWords = (text: string): string[] =>
  tokens(text).flatMap(({ folded }) => (LEFT_OUT.has(folded) ? [] : [stem(folded)]));

export class PlainBm25 {
  #ids: string[] = [];
  #lengths: number[] = [];
  #postings = new Map<string, [doc: number, times: number][]>();
  #total = 0;

  constructor(rows: Iterable<readonly [id: string, text: string]>) {
    for (const [id, text] of rows) this.#add(id, plainWords(text));
  }

  #add(id: string, words: readonly string[]): void {
    const doc = this.#ids.push(id) - 1;
    this.#lengths.push(words.length);
    this.#total += words.length;
    const times = new Map<string, number>();
    for (const word of words) times.set(word, (times.get(word) ?? 0) + 1);
    for (const [word, count] of times) {
      const held = this.#postings.get(word);
      if (held) held.push([doc, count]);
      else this.#postings.set(word, [[doc, count]]);
    }
  }

  /** Scores of the texts that hold any word of the query; a word typed twice counts twice. */
  scores(query: string): Map<string, number> {
    const sums = new Map<string, number>();
    const size = this.#ids.length;
    const usual = this.#total / Math.max(1, size);
    for (const word of plainWords(query)) {
      const held = this.#postings.get(word) ?? [];
      const idf = Math.log(1 + (size - held.length + 0.5) / (held.length + 0.5));
      for (const [doc, count] of held) {
        const saturated =
          (count * (K1 + 1)) / (count + K1 * (1 - B + (B * this.#lengths[doc]!) / usual));
        const id = this.#ids[doc]!;
        sums.set(id, (sums.get(id) ?? 0) + idf * saturated);
      }
    }
    return sums;
  }

  /** The ids of the best, ties by id. */
  rank(query: string, most: number, without?: string): string[] {
    return [...this.scores(query)]
      .filter(([id]) => id !== without)
      .sort(([a, left], [b, right]) => right - left || (a < b ? -1 : 1))
      .slice(0, most)
      .map(([id]) => id);
  }
}
