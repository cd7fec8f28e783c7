/** How well documents answer the typed words: by the words themselves, and by what is only related. */
import type { EntryId, Journal } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import type { Asked } from './explain';
import type { PassageIndex } from './passage-index';

export interface Match {
  doc: number;
  /** 0 where the entry itself holds as many of the typed words as are asked for, in some form; 1 where some are only related. */
  tier: number;
  score: number;
}

export interface Reach {
  everything: readonly number[];
  docOf: (id: EntryId) => number | undefined;
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

/** What has been found for each document so far. */
class Tally {
  readonly direct: Uint8Array;
  readonly near: Uint8Array;
  readonly total: Float64Array;
  readonly directShare: Float64Array;
  readonly nearShare: Float64Array;
  readonly touched: number[] = [];

  constructor(span: number) {
    this.direct = new Uint8Array(span);
    this.near = new Uint8Array(span);
    this.total = new Float64Array(span);
    this.directShare = new Float64Array(span);
    this.nearShare = new Float64Array(span);
  }

  touch(doc: number): void {
    if (this.direct[doc] === 0 && this.near[doc] === 0) this.touched.push(doc);
  }
}

export function byWords(
  journal: Journal,
  index: PassageIndex,
  asked: Asked,
  reach: Reach,
): Match[] {
  const { read } = asked;
  const tally = new Tally(index.span);
  let rarity = 0;
  for (const word of read.words) rarity += ofWord(journal, index, asked, reach, word, tally);
  const { direct, near, total, directShare, nearShare, touched } = tally;
  const count = read.words.length;
  const least = LEAST_SHARE * rarity;
  const matches = touched.flatMap((doc): Match[] => {
    const score = total[doc]!;
    if (read.sentence) {
      if (directShare[doc]! >= least) return [{ doc, tier: 0, score }];
      return directShare[doc]! + nearShare[doc]! >= least ? [{ doc, tier: 1, score }] : [];
    }
    if (direct[doc]! + near[doc]! < count) return [];
    return [{ doc, tier: direct[doc]! < count ? 1 : 0, score }];
  });
  raisePairs(index, asked, matches);
  return matches;
}

/** Scores every document for one typed word and answers the word's rarity. */
function ofWord(
  journal: Journal,
  index: PassageIndex,
  { expansions, related, relatedWords }: Asked,
  reach: Reach,
  word: string,
  tally: Tally,
): number {
  const near = new Map<number, number>();
  for (const one of related) {
    if (!one.words.includes(word)) continue;
    for (const id of entriesTiedTo(journal, one.heading)) {
      const doc = reach.docOf(id);
      if (doc !== undefined) near.set(doc, Math.max(near.get(doc) ?? 0, one.weight));
    }
  }
  const here: number[] = [];
  const terms = expansions.get(word) ?? [];
  const rarity = index.scoreTogether(terms, (doc, score) => {
    tally.touch(doc);
    here.push(doc);
    tally.direct[doc]! += 1;
    tally.total[doc]! += score + (near.get(doc) ?? 0);
    near.delete(doc);
  });
  for (const doc of here) tally.directShare[doc]! += rarity;
  const exact = terms.find(({ how }) => how === 'word');
  if (exact && terms.length > 1)
    index.score(exact.term, (doc, score) => void (tally.total[doc]! += VERY_FORM * score));
  const held = new Set(here);
  for (const { term, weight } of relatedWords.get(word) ?? []) {
    index.score(term, (doc, score) => {
      if (held.has(doc)) return;
      const [one, other] = [near.get(doc) ?? 0, weight * score];
      near.set(doc, Math.max(one, other) + SECOND_RELATED * Math.min(one, other));
    });
  }
  for (const [doc, weight] of near) {
    tally.touch(doc);
    tally.near[doc]! += 1;
    tally.nearShare[doc]! += rarity;
    tally.total[doc]! += weight;
  }
  return rarity;
}

/** Raises those of the best that hold words side by side as they are typed. */
function raisePairs(index: PassageIndex, { read }: Asked, matches: Match[]): void {
  const typed = read.prefix === undefined ? read.typed : read.typed.slice(0, -1);
  if (typed.length < 2) return;
  const pairs = index.pairsOf(typed);
  if (pairs.length === 0) return;
  const best = firstOf(
    matches,
    PAIRS_LOOKED_AT,
    (a, b) => a.tier - b.tier || b.score - a.score || a.doc - b.doc,
  );
  for (const match of best) match.score += PAIRS * index.pairScore(match.doc, pairs);
}

/** The first of a list in an order, without sorting all of it. */
export function firstOf<Item>(
  list: readonly Item[],
  most: number,
  order: (a: Item, b: Item) => number,
): Item[] {
  if (list.length <= 2 * most) return [...list].sort(order).slice(0, most);
  let held: Item[] = [];
  let last: Item | undefined;
  for (const item of list) {
    if (last !== undefined && order(item, last) >= 0) continue;
    held.push(item);
    if (held.length < 4 * most) continue;
    held = held.sort(order).slice(0, most);
    last = held.at(-1);
  }
  return held.sort(order).slice(0, most);
}
