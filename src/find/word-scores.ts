/** How well documents answer the typed words: by the words themselves, and by what is only related. */
import type { EntryId, HeadingId } from '../journal/records';
import type { Asked } from './explain';
import type { PassageIndex } from './passage-index';

/** What answers a query. It is used again and again: what it holds is good until the next query. */
export interface Matches {
  /** In no order. */
  docs: Int32Array;
  /** By document: 0 where the entry itself holds as many of the typed words as are asked for, in some form; 1 where some are only related. */
  tier: Uint8Array;
  /** By document. */
  score: Float64Array;
}

export interface Reach {
  everything: readonly number[];
  /** Documents of the entries tied to a heading. */
  tiedTo: (heading: HeadingId) => ArrayLike<number>;
  idOf: (doc: number) => EntryId | undefined;
}

/** A word in the very form typed counts so much more than in another. */
const VERY_FORM = 0.4;
/** A sentence is answered by what holds this share of its words, each by its rarity. */
const LEAST_SHARE = 0.1;
/** What words side by side as typed add, and for how many of the best it is looked at. */
const PAIRS = 0.2;
const PAIRS_LOOKED_AT = 100;
/** A second related word in an entry tells this much beside the first. */
const SECOND_RELATED = 0.5;

/** What has been found for each document so far; cleared and used again, so that a keystroke leaves nothing to be swept up. */
export class Tally {
  direct = new Uint8Array(0);
  near = new Uint8Array(0);
  directShare = new Float64Array(0);
  nearShare = new Float64Array(0);
  tier = new Uint8Array(0);
  score = new Float64Array(0);
  /** Documents that anything speaks for, `count` of them, and of these the ones that answer. */
  touched = new Int32Array(0);
  answers = new Int32Array(0);
  count = 0;
  /** Of the word at hand: documents that hold it, and what is only related to it weighs. */
  holds = new Uint8Array(0);
  related = new Float64Array(0);

  begin(span: number): void {
    if (this.direct.length < span) {
      const size = Math.ceil(span * 1.3);
      for (const field of ['direct', 'near', 'tier', 'holds'] as const)
        this[field] = new Uint8Array(size);
      for (const field of ['directShare', 'nearShare', 'score', 'related'] as const)
        this[field] = new Float64Array(size);
      this.touched = new Int32Array(size);
      this.answers = new Int32Array(size);
    } else {
      for (let at = 0; at < this.count; at++) {
        const doc = this.touched[at]!;
        this.direct[doc] = this.near[doc] = this.tier[doc] = 0;
        this.directShare[doc] = this.nearShare[doc] = this.score[doc] = 0;
      }
    }
    this.count = 0;
  }

  /** Takes documents as they are, none better than another. */
  all(docs: Iterable<number>): Matches {
    for (const doc of docs) this.touched[this.count++] = doc;
    return { docs: this.touched.subarray(0, this.count), tier: this.tier, score: this.score };
  }

  touch(doc: number): void {
    if (this.direct[doc] === 0 && this.near[doc] === 0) this.touched[this.count++] = doc;
  }
}

export function byWords(index: PassageIndex, asked: Asked, reach: Reach, tally: Tally): Matches {
  const { read } = asked;
  let rarity = 0;
  for (const word of read.words) rarity += ofWord(index, asked, reach, word, tally);
  const { direct, near, directShare, nearShare, touched, answers, tier, score } = tally;
  const count = read.words.length;
  const least = LEAST_SHARE * rarity;
  let answering = 0;
  for (let at = 0; at < tally.count; at++) {
    const doc = touched[at]!;
    if (read.sentence) {
      if (directShare[doc]! < least) {
        if (directShare[doc]! + nearShare[doc]! < least) continue;
        tier[doc] = 1;
      }
    } else {
      if (direct[doc]! + near[doc]! < count) continue;
      tier[doc] = direct[doc]! < count ? 1 : 0;
    }
    answers[answering++] = doc;
  }
  const matches = { docs: answers.subarray(0, answering), tier, score };
  raisePairs(index, asked, matches);
  return matches;
}

/** Scores every document for one typed word and answers the word's rarity. */
function ofWord(
  index: PassageIndex,
  { expansions, related, relatedWords }: Asked,
  reach: Reach,
  word: string,
  tally: Tally,
): number {
  const { direct, directShare, score: total, holds, related: weighs } = tally;
  const beside: number[] = [];
  const lead = (doc: number, weight: number): void => {
    if (weighs[doc] === 0) beside.push(doc);
    weighs[doc] = weight;
  };
  for (const one of related) {
    if (!one.words.includes(word)) continue;
    const tied = reach.tiedTo(one.heading);
    for (let at = 0; at < tied.length; at++)
      lead(tied[at]!, Math.max(weighs[tied[at]!]!, one.weight));
  }
  const terms = expansions.get(word) ?? [];
  const { docs, count, scores, idf } = index.pool(terms);
  for (let at = 0; at < count; at++) {
    const doc = docs[at]!;
    tally.touch(doc);
    holds[doc] = 1;
    direct[doc]! += 1;
    directShare[doc]! += idf;
    total[doc]! += scores[doc]! + weighs[doc]!;
  }
  const exact = terms.find(({ how }) => how === 'word');
  if (exact && terms.length > 1)
    index.score(exact.term, (doc, score) => void (total[doc]! += VERY_FORM * score));
  for (const { term, weight } of relatedWords.get(word) ?? []) {
    index.score(term, (doc, score) => {
      if (holds[doc]) return;
      const [one, other] = [weighs[doc]!, weight * score];
      lead(doc, Math.max(one, other) + SECOND_RELATED * Math.min(one, other));
    });
  }
  for (const doc of beside) {
    if (!holds[doc]) {
      tally.touch(doc);
      tally.near[doc]! += 1;
      tally.nearShare[doc]! += idf;
      total[doc]! += weighs[doc]!;
    }
    weighs[doc] = 0;
  }
  for (let at = 0; at < count; at++) holds[docs[at]!] = 0;
  return idf;
}

/** Raises those of the best that hold words side by side as they are typed. */
function raisePairs(index: PassageIndex, { read }: Asked, { docs, tier, score }: Matches): void {
  const typed = read.prefix === undefined ? read.typed : read.typed.slice(0, -1);
  if (typed.length < 2) return;
  const pairs = index.pairsOf(typed);
  if (pairs.length === 0) return;
  const best = firstOf(
    docs,
    PAIRS_LOOKED_AT,
    (a, b) => tier[a]! - tier[b]! || score[b]! - score[a]! || a - b,
  );
  for (const doc of best) score[doc]! += PAIRS * index.pairScore(doc, pairs);
}

/** The first of a list in an order, without sorting all of it. */
export function firstOf(
  list: ArrayLike<number>,
  most: number,
  order: (a: number, b: number) => number,
): number[] {
  if (list.length <= 2 * most) return Array.from(list).sort(order).slice(0, most);
  let held: number[] = [];
  let last: number | undefined;
  for (let at = 0; at < list.length; at++) {
    const item = list[at]!;
    if (last !== undefined && order(item, last) >= 0) continue;
    held.push(item);
    if (held.length < 4 * most) continue;
    held = held.sort(order).slice(0, most);
    last = held.at(-1);
  }
  return held.sort(order).slice(0, most);
}
