/**
 * Postings on typed arrays: for each word the documents that hold it, how much and in which fields, with a sorted
 * dictionary for beginnings and letter masks for slips of the pen. It stands alone: documents are numbers, words are
 * folded strings. A document changed is a new number; the old one is passed over until the index is built anew.
 */

import { IntList, plainList } from '../language/int-list';
import { NumberReader, PackedNumbers } from '../language/packed-numbers';
import { withRoom } from '../language/room';
import { FIELD_WEIGHT, FIELDS, LENGTHENING, type FieldName } from './fields';
import {
  HeldHow,
  packPostings,
  unpackPostings,
  type PackedPassages,
  type Postings,
} from './packed-passages';
import { Pool } from './pool';
import { numbersOf, WordList } from './word-list';

/** Between two fields of a document, so that no run of words goes from one into the next; a term stands in a run as its number and one more. */
const GAP = 0;
const NO_STEM = -1;

/** Weighted counts and lengths are held in whole quarters. */
const QUARTERS = 4;
/** Usual values for short passages (measured.md: k1 0.9, b 0.4 on the judged sets). */
const K1 = 0.9;
const B = 0.4;

/** Makes room for more. */
function grow(postings: Postings): void {
  const full = Math.max(4, Math.ceil(postings.length * 1.6));
  const { docs, counts, fields } = postings;
  postings.docs = new Int32Array(full);
  postings.counts = new Uint8Array(full);
  postings.fields = new Uint8Array(full);
  postings.docs.set(docs);
  postings.counts.set(counts);
  postings.fields.set(fields);
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
  /** By term; of one nobody has asked about yet, what was packed. */
  #postings: (Postings | undefined)[] = [];
  #packed: PackedPassages | undefined;
  /** Documents that still stand, by term. */
  #frequencies: number[] = [];
  /** By document: its weighted words in quarters, and 1 where it no longer stands. */
  #lengths = new IntList();
  #dead = new Uint8Array(64);
  #deadCount = 0;
  #liveLength = 0;
  /** Each document's terms in the order of its words, field after field, with a `GAP` between; the byte where each document begins. */
  #runs = new PackedNumbers();
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
    this.words = new WordList(stemOf, (term) => this.#frequencies[term]!);
  }

  /** The index that was packed. `stemOf` must be the one it was made with. */
  static of(packed: PackedPassages, stemOf: (word: string) => string): PassageIndex {
    const index = new PassageIndex(stemOf);
    const { runs, runsAt, lengths, frequencies } = packed;
    index.words.take(packed);
    index.#packed = packed;
    index.#postings = new Array<undefined>(frequencies.length).fill(undefined);
    index.#frequencies = plainList(frequencies);
    index.#lengths = IntList.of(lengths);
    index.#dead = new Uint8Array(lengths.length);
    for (let doc = 0; doc < lengths.length; doc++) index.#liveLength += lengths[doc]!;
    index.#runs = PackedNumbers.of(runs);
    index.#runsAt = new IntList(runsAt, lengths.length);
    return index;
  }

  /** All that stands, as flat arrays, and for each document of these the number it has here. */
  pack(): { packed: PackedPassages; docs: number[] } {
    const docs: number[] = [];
    for (let doc = 0; doc < this.span; doc++) if (!this.isDead(doc)) docs.push(doc);
    const docNumbers = numbersOf(docs, this.span);
    // The commonest words get the smallest numbers, which take the fewest bytes.
    const often = this.#frequencies;
    const terms = [...often.keys()]
      .filter((term) => often[term]! > 0)
      .sort((a, b) => often[b]! - often[a]! || a - b);
    const termNumbers = numbersOf(terms, this.words.size);
    const [runs, runsAt] = [new PackedNumbers(), new Int32Array(docs.length)];
    docs.forEach((doc, number) => {
      runsAt[number] = runs.length;
      this.#eachIn(doc, (held) => runs.push(held === GAP ? GAP : termNumbers[held - 1]! + 1));
    });
    const ways = new HeldHow();
    const [postings, postingsAt] = [new PackedNumbers(), new Int32Array(terms.length)];
    terms.forEach((term, number) => {
      postingsAt[number] = postings.length;
      packPostings(this.#postingsOf(term, false), docNumbers, ways, postings);
    });
    const packed: PackedPassages = {
      ...this.words.pack(terms),
      runs: runs.taken(),
      runsAt,
      lengths: Int32Array.from(docs, (doc) => this.#lengths.at(doc)),
      postings: postings.taken(),
      ways: ways.taken(),
      postingsAt,
      frequencies: Int32Array.from(terms, (term) => often[term]!),
    };
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
    return this.#dead[doc] === 1;
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
        run[at++] = term + 1;
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
      const postings = this.#postingsOf(term);
      if (postings.length === postings.docs.length) grow(postings);
      postings.docs[postings.length] = doc;
      postings.counts[postings.length] = Math.min(
        255,
        Math.max(1, Math.round(weights[term]! * QUARTERS)),
      );
      postings.fields[postings.length] = masks[term]!;
      postings.length += 1;
      this.#frequencies[term]! += 1;
      masks[term] = 0;
    }
    this.#lengths.push(length * QUARTERS);
    this.#dead = withRoom(this.#dead, doc + 1);
    this.#runsAt.push(this.#runs.length);
    for (let place = 0; place < at; place++) this.#runs.push(run[place]!);
    this.#liveLength += length * QUARTERS;
    return doc;
  }

  remove(doc: number): void {
    if (this.#dead[doc] !== 0) return;
    this.#dead[doc] = 1;
    this.words.changed();
    this.#deadCount += 1;
    this.#liveLength -= this.#lengths.at(doc);
    const terms = new Set<number>();
    this.#eachIn(doc, (held) => void (held !== GAP && terms.add(held - 1)));
    for (const term of terms) this.#frequencies[term]! -= 1;
  }

  #runEnd(doc: number): number {
    return doc + 1 < this.#runsAt.length ? this.#runsAt.at(doc + 1) : this.#runs.length;
  }

  #eachIn(doc: number, each: (held: number) => void): void {
    const end = this.#runEnd(doc);
    const run = this.#runs.from(this.#runsAt.at(doc));
    while (run.at < end) each(run.next());
  }

  #termOf(word: string): number {
    const term = this.words.termOf(word);
    if (term === this.#postings.length) {
      this.#postings.push({ docs: NO_DOCS, counts: NO_BYTES, fields: NO_BYTES, length: 0 });
      this.#frequencies.push(0);
    }
    return term;
  }

  /** Unpacked once, to be held unless it is only looked at. */
  #postingsOf(term: number, hold = true): Postings {
    const held = this.#postings[term];
    if (held) return held;
    const { postings, postingsAt, frequencies, ways } = this.#packed!;
    const reader = new NumberReader(postings, postingsAt[term]);
    const unpacked = unpackPostings(reader, frequencies[term]!, ways);
    if (hold) this.#postings[term] = unpacked;
    return unpacked;
  }

  /** The term of a word that some standing document holds. */
  term(word: string): number | undefined {
    const term = this.words.known(word);
    return term !== undefined && this.#frequencies[term]! > 0 ? term : undefined;
  }

  /** Documents that hold a term. */
  frequency(term: number): number {
    return this.#frequencies[term]!;
  }

  /** Hands each standing document of a term its BM25F score and the fields that hold it, as bits in the order of `FIELDS`. */
  score(term: number, each: (doc: number, score: number, fields: number) => void): void {
    const { docs, counts, fields, length } = this.#postingsOf(term);
    const idf = this.#idfOf(this.#frequencies[term]!);
    const mean = this.#liveLength / Math.max(1, this.size);
    const lengths = this.#lengths.values;
    for (let at = 0; at < length; at++) {
      const doc = docs[at]!;
      if (this.#deadCount > 0 && this.#dead[doc]) continue;
      const count = counts[at]! / QUARTERS;
      const norm = K1 * (1 - B + (B * lengths[doc]!) / mean);
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
      const { docs: holders, counts, length } = this.#postingsOf(term);
      for (let at = 0; at < length; at++) {
        const doc = holders[at]!;
        if (dead?.[doc]) continue;
        if (scores[doc] === 0) docs[pool.count++] = doc;
        scores[doc]! += (weight * counts[at]!) / QUARTERS;
      }
    }
    pool.inOrder();
    pool.idf = this.#idfOf(pool.count);
    const mean = this.#liveLength / Math.max(1, this.size);
    const lengths = this.#lengths.values;
    for (let at = 0; at < pool.count; at++) {
      const doc = docs[at]!;
      const count = scores[doc]!;
      const norm = K1 * (1 - B + (B * lengths[doc]!) / mean);
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
    const end = this.#runEnd(doc);
    const run = this.#runs.from(this.#runsAt.at(doc));
    const times = new Float64Array(pairs.length);
    let left = NO_STEM;
    while (run.at < end) {
      const held = run.next();
      const right = held === GAP ? NO_STEM : this.words.stemAt(held - 1);
      if (left !== NO_STEM && right !== NO_STEM)
        for (let pair = 0; pair < pairs.length; pair++) {
          if (pairs[pair]!.left === left && pairs[pair]!.right === right) times[pair]! += 1;
        }
      left = right;
    }
    let sum = 0;
    for (let pair = 0; pair < pairs.length; pair++) {
      const count = times[pair]!;
      if (count > 0) sum += (pairs[pair]!.gain * count * (K1 + 1)) / (count + K1);
    }
    return sum;
  }
}
