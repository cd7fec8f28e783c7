/**
 * Postings on typed arrays: for each word the documents that hold it, how much and in which fields, with a sorted
 * dictionary for beginnings and letter masks for slips of the pen. It stands alone: documents are numbers, words are
 * folded strings. A document changed is a new number; the old one is passed over until the index is built anew.
 */

import { IntList } from '../language/int-list';
import { beginnings, type PackedPassages } from './packed-passages';
import { Pool } from './pool';
import { numbersOf, WordList } from './word-list';

/** Weight of a word by the field it stands in (BM25F, Robertson and Zaragoza 2009: weighted counts, one saturation). */
export const FIELDS = ['text', 'title', 'heading', 'answer', 'probes', 'source'] as const;
export type FieldName = (typeof FIELDS)[number];
const FIELD_WEIGHT: Record<FieldName, number> = {
  text: 1,
  title: 2,
  heading: 1.4,
  answer: 0.5,
  probes: 0.4,
  source: 0.3,
};
/** Only words of the first so many fields make a document longer: what stands beside a text is no sign that the text says less of each thing. */
const LENGTHENING = FIELDS.indexOf('heading');
/** Between two fields of a document, so that no run of words goes from one into the next. */
const GAP = -1;

/** Usual values for short passages (measured.md: k1 0.9, b 0.4 on the judged sets). */
const K1 = 0.9;
const B = 0.4;

/** The documents of a word: a part of arrays it may share with other words, until it grows. */
interface Postings {
  docs: Int32Array;
  /** Weighted count in quarters, at most 255. */
  counts: Uint8Array;
  fields: Uint8Array;
  from: number;
  end: number;
  /** Where its room ends. */
  full: number;
  /** Documents that still stand. */
  live: number;
}

/** More room, in arrays of its own. */
function grow(postings: Postings): void {
  const { from, end } = postings;
  const full = Math.max(4, Math.ceil((end - from) * 1.6));
  const docs = new Int32Array(full);
  const counts = new Uint8Array(full);
  const fields = new Uint8Array(full);
  docs.set(postings.docs.subarray(from, end));
  counts.set(postings.counts.subarray(from, end));
  fields.set(postings.fields.subarray(from, end));
  Object.assign(postings, { docs, counts, fields, from: 0, end: end - from, full });
}

const [NO_DOCS, NO_BYTES] = [new Int32Array(0), new Uint8Array(0)];

/** Two stems side by side, and the rarity of both together. */
export interface WordPair {
  left: number;
  right: number;
  gain: number;
}

export class PassageIndex {
  /** Its words; each is a term by its number. */
  readonly words: WordList;
  #postings: Postings[] = [];
  #lengths: number[] = [];
  #dead: boolean[] = [];
  #deadCount = 0;
  #liveLength = 0;
  /** Each document's terms in the order of its words, field after field, with a `GAP` between; one after another, from where each begins. */
  #runs = new IntList();
  #runsAt = new IntList();
  #pooled = new Pool();
  /** What is at hand while a document is added, by place or by term; used again for each. */
  readonly #adding = {
    run: [] as number[],
    terms: [] as number[],
    weights: [] as number[],
    masks: [] as number[],
  };

  constructor(stemOf: (word: string) => string) {
    this.words = new WordList(stemOf, (term) => this.#postings[term]!.live);
  }

  /** The index that was packed. `stemOf` must be the one it was made with. */
  static of(packed: PackedPassages, stemOf: (word: string) => string): PassageIndex {
    const index = new PassageIndex(stemOf);
    const { runs, runsAt, lengths, docs, counts, fields, docsAt } = packed;
    index.words.take(packed);
    for (let term = 0; term < index.words.size; term++) {
      const [from, end] = [docsAt[term]!, docsAt[term + 1]!];
      index.#postings.push({ docs, counts, fields, from, end, full: end, live: end - from });
    }
    index.#lengths = Array.from(lengths);
    index.#dead = index.#lengths.map(() => false);
    for (const length of lengths) index.#liveLength += length;
    index.#runs = IntList.of(runs);
    index.#runsAt = new IntList(runsAt, lengths.length);
    return index;
  }

  /** All that stands, as flat arrays, and for each document of these the number it has here. */
  pack(): { packed: PackedPassages; docs: number[] } {
    const docs = [...this.#lengths.keys()].filter((doc) => !this.#dead[doc]);
    const docNumbers = numbersOf(docs, this.span);
    const terms = [...this.#postings.keys()].filter((term) => this.#postings[term]!.live > 0);
    const termNumbers = numbersOf(terms, this.words.size);
    const runsAt = beginnings(
      docs.map((doc) => this.#runEnd(doc) - this.#runsAt.at(doc)),
      docs.length,
    );
    const docsAt = beginnings(
      terms.map((term) => this.#postings[term]!.live),
      terms.length,
    );
    const packed: PackedPassages = {
      ...this.words.pack(terms),
      runs: new Int32Array(runsAt.at(-1)!),
      runsAt,
      lengths: Float64Array.from(docs, (doc) => this.#lengths[doc]!),
      docs: new Int32Array(docsAt.at(-1)!),
      counts: new Uint8Array(docsAt.at(-1)!),
      fields: new Uint8Array(docsAt.at(-1)!),
      docsAt,
    };
    docs.forEach((doc, number) => {
      let to = runsAt[number]!;
      for (let at = this.#runsAt.at(doc); at < this.#runEnd(doc); at++) {
        const term = this.#runs.at(at);
        packed.runs[to++] = term === GAP ? GAP : termNumbers[term]!;
      }
    });
    terms.forEach((term, number) => {
      const held = this.#postings[term]!;
      let to = docsAt[number]!;
      for (let at = held.from; at < held.end; at++) {
        const doc = docNumbers[held.docs[at]!]!;
        if (doc < 0) continue;
        packed.docs[to] = doc;
        packed.counts[to] = held.counts[at]!;
        packed.fields[to++] = held.fields[at]!;
      }
    });
    return { packed, docs };
  }

  get size(): number {
    return this.#lengths.length - this.#deadCount;
  }

  /** Numbers given so far; documents run from 0 to this, dead ones among them. */
  get span(): number {
    return this.#lengths.length;
  }

  get deadShare(): number {
    return this.#lengths.length === 0 ? 0 : this.#deadCount / this.#lengths.length;
  }

  isDead(doc: number): boolean {
    return this.#dead[doc] === true;
  }

  /** Adds a document of folded words by field and answers its number. */
  add(fields: Partial<Record<FieldName, readonly string[]>>): number {
    const doc = this.#lengths.length;
    this.words.changed();
    const { run, terms, weights, masks } = this.#adding;
    let [length, at, distinct] = [0, 0, 0];
    for (let bit = 0; bit < FIELDS.length; bit++) {
      const words = fields[FIELDS[bit]!];
      if (!words || words.length === 0) continue;
      const weight = FIELD_WEIGHT[FIELDS[bit]!];
      if (at > 0) run[at++] = GAP;
      for (const word of words) {
        const term = this.#termOf(word);
        run[at++] = term;
        if (masks[term] === 0 || masks[term] === undefined) {
          terms[distinct++] = term;
          weights[term] = 0;
          masks[term] = 0;
        }
        weights[term]! += weight;
        masks[term]! |= 1 << bit;
        if (bit < LENGTHENING) length += weight;
      }
    }
    for (let held = 0; held < distinct; held++) {
      const term = terms[held]!;
      const postings = this.#postings[term]!;
      if (postings.end === postings.full) grow(postings);
      postings.docs[postings.end] = doc;
      postings.counts[postings.end] = Math.min(255, Math.max(1, Math.round(weights[term]! * 4)));
      postings.fields[postings.end] = masks[term]!;
      postings.end += 1;
      postings.live += 1;
      masks[term] = 0;
    }
    this.#lengths.push(length);
    this.#dead.push(false);
    this.#runsAt.push(this.#runs.length);
    for (let place = 0; place < at; place++) this.#runs.push(run[place]!);
    this.#liveLength += length;
    return doc;
  }

  remove(doc: number): void {
    if (this.#dead[doc] !== false) return;
    this.#dead[doc] = true;
    this.words.changed();
    this.#deadCount += 1;
    this.#liveLength -= this.#lengths[doc]!;
    const run = this.#runs.values.subarray(this.#runsAt.at(doc), this.#runEnd(doc));
    for (const term of new Set(run)) if (term !== GAP) this.#postings[term]!.live -= 1;
  }

  #runEnd(doc: number): number {
    return doc + 1 < this.#runsAt.length ? this.#runsAt.at(doc + 1) : this.#runs.length;
  }

  #termOf(word: string): number {
    const term = this.words.termOf(word);
    if (term === this.#postings.length)
      this.#postings.push({
        docs: NO_DOCS,
        counts: NO_BYTES,
        fields: NO_BYTES,
        from: 0,
        end: 0,
        full: 0,
        live: 0,
      });
    return term;
  }

  /** The term of a word that some standing document holds. */
  term(word: string): number | undefined {
    const term = this.words.known(word);
    return term !== undefined && this.#postings[term]!.live > 0 ? term : undefined;
  }

  /** Documents that hold a term. */
  frequency(term: number): number {
    return this.#postings[term]!.live;
  }

  /** Hands each standing document of a term its BM25F score and the fields that hold it, as bits in the order of `FIELDS`. */
  score(term: number, each: (doc: number, score: number, fields: number) => void): void {
    const { docs, counts, fields, from, end, live } = this.#postings[term]!;
    const idf = this.#idfOf(live);
    const mean = this.#liveLength / Math.max(1, this.size);
    for (let at = from; at < end; at++) {
      const doc = docs[at]!;
      if (this.#deadCount > 0 && this.#dead[doc]) continue;
      const count = counts[at]! / 4;
      const norm = K1 * (1 - B + (B * this.#lengths[doc]!) / mean);
      each(doc, (idf * count * (K1 + 1)) / (count + norm), fields[at]!);
    }
  }

  /**
   * One BM25F score for each standing document that holds any of these terms: their counts are added up, each times its weight, and saturate
   * together, and rarity is that of the whole group.
   */
  pool(terms: readonly { term: number; weight: number }[]): Pool {
    const pool = this.#pooled;
    pool.makeRoom(this.span);
    const { docs, scores } = pool;
    for (let at = 0; at < pool.count; at++) scores[docs[at]!] = 0;
    pool.count = 0;
    const dead = this.#deadCount > 0 ? this.#dead : undefined;
    for (const { term, weight } of terms) {
      const { docs: holders, counts, from, end } = this.#postings[term]!;
      for (let at = from; at < end; at++) {
        const doc = holders[at]!;
        if (dead?.[doc]) continue;
        if (scores[doc] === 0) docs[pool.count++] = doc;
        scores[doc]! += (weight * counts[at]!) / 4;
      }
    }
    pool.inOrder();
    pool.idf = this.#idfOf(pool.count);
    const mean = this.#liveLength / Math.max(1, this.size);
    for (let at = 0; at < pool.count; at++) {
      const doc = docs[at]!;
      const count = scores[doc]!;
      const norm = K1 * (1 - B + (B * this.#lengths[doc]!) / mean);
      scores[doc] = (pool.idf * count * (K1 + 1)) / (count + norm);
    }
    return pool;
  }

  #idfOf(live: number): number {
    return Math.log(1 + (this.size - live + 0.5) / (live + 0.5));
  }

  /** Pairs of words side by side, by the numbers of their stems, with what a document gains by holding each; see `pairScore`. */
  pairsOf(words: readonly string[]): WordPair[] {
    const known = words.map((word) => this.words.stemOfAny(word));
    return known.slice(1).flatMap((right, at): WordPair[] => {
      const left = known[at];
      if (!left || !right) return [];
      const gain = this.#idfOf(left.most) + this.#idfOf(right.most);
      return [{ left: left.stem, right: right.stem, gain }];
    });
  }

  /** What a document gains by holding pairs of words side by side in one field, in any form. */
  pairScore(doc: number, pairs: readonly WordPair[]): number {
    const run = this.#runs.values;
    const end = this.#runEnd(doc);
    const times = new Float64Array(pairs.length);
    for (let at = this.#runsAt.at(doc); at + 1 < end; at++) {
      if (run[at] === GAP || run[at + 1] === GAP) continue;
      const left = this.words.stemAt(run[at]!);
      const right = this.words.stemAt(run[at + 1]!);
      for (let pair = 0; pair < pairs.length; pair++) {
        if (pairs[pair]!.left === left && pairs[pair]!.right === right) times[pair]! += 1;
      }
    }
    let sum = 0;
    for (let pair = 0; pair < pairs.length; pair++) {
      const count = times[pair]!;
      if (count > 0) sum += (pairs[pair]!.gain * count * (K1 + 1)) / (count + K1);
    }
    return sum;
  }
}
