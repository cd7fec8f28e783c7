/**
 * Postings on typed arrays: for each word the documents that hold it, how much and in which fields, with a sorted
 * dictionary for beginnings and letter masks for slips of the pen. It stands alone: documents are numbers, words are
 * folded strings. A document changed is a new number; the old one is passed over until the index is built anew.
 */

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
/** Beginnings of so many letters are remembered until a document changes. */
const SHORT = 2;
/** Between two fields of a document, so that no run of words goes from one into the next. */
const GAP = -1;

/** Usual values for short passages (measured.md: k1 0.9, b 0.4 on the judged sets). */
const K1 = 0.9;
const B = 0.4;

interface Postings {
  docs: Int32Array;
  /** Weighted count in quarters, at most 255. */
  counts: Uint8Array;
  fields: Uint8Array;
  length: number;
  /** Documents that still stand. */
  live: number;
}

const grown = (postings: Postings): void => {
  const size = Math.max(4, Math.ceil(postings.docs.length * 1.6));
  const docs = new Int32Array(size);
  const counts = new Uint8Array(size);
  const fields = new Uint8Array(size);
  docs.set(postings.docs);
  counts.set(postings.counts);
  fields.set(postings.fields);
  Object.assign(postings, { docs, counts, fields });
};

/** One bit for each letter of a word, digits and the rest sharing bits: words one slip apart differ in at most two. */
function letterMask(word: string): number {
  let mask = 0;
  for (let at = 0; at < word.length; at++) mask |= 1 << (word.charCodeAt(at) % 31);
  return mask;
}

/** Two stems side by side, and the rarity of both together. */
export interface WordPair {
  left: number;
  right: number;
  gain: number;
}

const bits = (mask: number): number => {
  let left = mask >>> 0;
  let count = 0;
  while (left) {
    left &= left - 1;
    count++;
  }
  return count;
};

/** Scores of one group of terms. It is used again and again: what it holds is good until the next group is pooled. */
export class Pool {
  /** The documents that hold any of the terms, `count` of them. */
  docs = new Int32Array(0);
  count = 0;
  /** By document, 0 for the others. */
  scores = new Float64Array(0);
  /** Rarity of the group. */
  idf = 0;

  makeRoom(span: number): void {
    if (this.docs.length >= span) return;
    this.docs = new Int32Array(Math.ceil(span * 1.3));
    this.scores = new Float64Array(this.docs.length);
    this.count = 0;
  }
}

export class PassageIndex {
  #terms = new Map<string, number>();
  #words: string[] = [];
  #masks: number[] = [];
  #postings: Postings[] = [];
  #lengths: number[] = [];
  #dead: boolean[] = [];
  #deadCount = 0;
  #liveLength = 0;
  /** Term numbers in order of their words, and those that came since it was sorted. */
  #sorted: number[] = [];
  #fresh: number[] = [];
  #byStem = new Map<string, number[]>();
  /** Each document's terms in the order of its words, field after field, with a `GAP` between. */
  #runs: Int32Array[] = [];
  /** For each term the number of its stem. */
  #stems: number[] = [];
  #stemNumbers = new Map<string, number>();
  #pooled = new Pool();
  /** What is at hand while a document is added, by place or by term; used again for each. */
  readonly #adding = {
    run: [] as number[],
    terms: [] as number[],
    weights: [] as number[],
    masks: [] as number[],
  };
  #begun = new Map<string, readonly number[]>();

  constructor(readonly stemOf: (word: string) => string) {}

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
    this.#begun.clear();
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
        length += weight;
      }
    }
    for (let held = 0; held < distinct; held++) {
      const term = terms[held]!;
      const postings = this.#postings[term]!;
      if (postings.length === postings.docs.length) grown(postings);
      postings.docs[postings.length] = doc;
      postings.counts[postings.length] = Math.min(255, Math.max(1, Math.round(weights[term]! * 4)));
      postings.fields[postings.length] = masks[term]!;
      postings.length += 1;
      postings.live += 1;
      masks[term] = 0;
    }
    this.#lengths.push(length);
    this.#dead.push(false);
    const kept = new Int32Array(at);
    for (let place = 0; place < at; place++) kept[place] = run[place]!;
    this.#runs.push(kept);
    this.#liveLength += length;
    return doc;
  }

  remove(doc: number): void {
    if (this.#dead[doc] !== false) return;
    this.#dead[doc] = true;
    this.#begun.clear();
    this.#deadCount += 1;
    this.#liveLength -= this.#lengths[doc]!;
    for (const term of new Set(this.#runs[doc]!)) if (term !== GAP) this.#postings[term]!.live -= 1;
    this.#runs[doc] = new Int32Array(0);
  }

  #termOf(word: string): number {
    const known = this.#terms.get(word);
    if (known !== undefined) return known;
    const term = this.#words.length;
    this.#terms.set(word, term);
    this.#words.push(word);
    this.#masks.push(letterMask(word));
    this.#postings.push({
      docs: new Int32Array(2),
      counts: new Uint8Array(2),
      fields: new Uint8Array(2),
      length: 0,
      live: 0,
    });
    this.#fresh.push(term);
    const stem = this.stemOf(word);
    const kin = this.#byStem.get(stem);
    if (kin) kin.push(term);
    else {
      this.#byStem.set(stem, [term]);
      this.#stemNumbers.set(stem, this.#stemNumbers.size);
    }
    this.#stems.push(this.#stemNumbers.get(stem)!);
    return term;
  }

  wordOf(term: number): string {
    return this.#words[term]!;
  }

  /** The term of a word that some standing document holds. */
  term(word: string): number | undefined {
    const term = this.#terms.get(word);
    return term !== undefined && this.#postings[term]!.live > 0 ? term : undefined;
  }

  /** Documents that hold a term. */
  frequency(term: number): number {
    return this.#postings[term]!.live;
  }

  /** Other words with the same stem, in the index, the commonest first. */
  kin(word: string): number[] {
    return (this.#byStem.get(this.stemOf(word)) ?? [])
      .filter((term) => this.#postings[term]!.live > 0 && this.#words[term] !== word)
      .sort((a, b) => this.#postings[b]!.live - this.#postings[a]!.live || this.#byWord(a, b));
  }

  /** Terms are numbered as they come, words are the same whatever came first. */
  #byWord(a: number, b: number): number {
    return this.#words[a]! < this.#words[b]! ? -1 : 1;
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
    return found
      .filter((term) => this.#postings[term]!.live > 0 && this.#words[term] !== prefix)
      .sort((a, b) => this.#postings[b]!.live - this.#postings[a]!.live || this.#byWord(a, b))
      .slice(0, limit);
  }

  /** Words at most `slips` slips away (one letter more, fewer, other, or two changed places), nearest first. */
  near(word: string, slips: number, limit: number): number[] {
    const mask = letterMask(word);
    const found: { term: number; distance: number }[] = [];
    for (let term = 0; term < this.#words.length; term++) {
      const other = this.#words[term]!;
      if (
        Math.abs(other.length - word.length) > slips ||
        bits(mask ^ this.#masks[term]!) > 2 * slips
      )
        continue;
      if (this.#postings[term]!.live === 0 || other === word) continue;
      const distance = slipsBetween(word, other, slips);
      if (distance <= slips) found.push({ term, distance });
    }
    return found
      .sort(
        (a, b) =>
          a.distance - b.distance ||
          this.#postings[b.term]!.live - this.#postings[a.term]!.live ||
          this.#byWord(a.term, b.term),
      )
      .slice(0, limit)
      .map(({ term }) => term);
  }

  /** Hands each standing document of a term its BM25F score and the fields that hold it, as bits in the order of `FIELDS`. */
  score(term: number, each: (doc: number, score: number, fields: number) => void): void {
    const { docs, counts, fields, length, live } = this.#postings[term]!;
    const idf = this.#idfOf(live);
    const mean = this.#liveLength / Math.max(1, this.size);
    for (let at = 0; at < length; at++) {
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
      const { docs: holders, counts, length } = this.#postings[term]!;
      for (let at = 0; at < length; at++) {
        const doc = holders[at]!;
        if (dead?.[doc]) continue;
        if (scores[doc] === 0) docs[pool.count++] = doc;
        scores[doc]! += (weight * counts[at]!) / 4;
      }
    }
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
    const known = words.map((word) => {
      const stem = this.stemOf(word);
      const live = Math.max(
        0,
        ...(this.#byStem.get(stem) ?? []).map((term) => this.#postings[term]!.live),
      );
      return { stem: live > 0 ? this.#stemNumbers.get(stem)! : GAP, idf: this.#idfOf(live) };
    });
    return known.slice(1).flatMap((right, at): WordPair[] => {
      const left = known[at]!;
      if (left.stem === GAP || right.stem === GAP) return [];
      return [{ left: left.stem, right: right.stem, gain: left.idf + right.idf }];
    });
  }

  /** What a document gains by holding pairs of words side by side in one field, in any form. */
  pairScore(doc: number, pairs: readonly WordPair[]): number {
    const run = this.#runs[doc]!;
    const times = new Float64Array(pairs.length);
    for (let at = 0; at + 1 < run.length; at++) {
      if (run[at] === GAP || run[at + 1] === GAP) continue;
      const left = this.#stems[run[at]!]!;
      const right = this.#stems[run[at + 1]!]!;
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

  #sort(): void {
    // A few new words are looked through one by one; many are sorted in.
    if (this.#fresh.length < 500 && this.#sorted.length > 0) return;
    if (this.#fresh.length === 0) return;
    this.#sorted = [...this.#sorted, ...this.#fresh].sort((a, b) =>
      this.#words[a]! < this.#words[b]! ? -1 : 1,
    );
    this.#fresh = [];
  }
}

/** Optimal string alignment distance, or more than `most` where it is larger. */
export function slipsBetween(a: string, b: string, most: number): number {
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, at) => at);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    let least = i;
    for (let j = 1; j <= b.length; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      let cost = Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + change);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        cost = Math.min(cost, before[j - 2]! + 1);
      next.push(cost);
      least = Math.min(least, cost);
    }
    if (least > most) return most + 1;
    before = row;
    row = next;
  }
  return row[b.length]!;
}
