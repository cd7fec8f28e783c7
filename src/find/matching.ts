/** Which documents answer a query, and how well: words first, then what is only related. */
import type { EntryId, Journal } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { plainText } from '../language/markdown';
import type { Asked } from './explain';
import type { PassageIndex } from './passage-index';
import { foldedWords, holdsPhrase } from './query';

export interface Match {
  doc: number;
  /** 0 where every typed word is held by the entry in some form, 1 where one is only related. */
  tier: number;
  score: number;
}

interface Reach {
  everything: readonly number[];
  docOf: (id: EntryId) => number | undefined;
  idOf: (doc: number) => EntryId | undefined;
}

/** More words than this are a sentence: entries that hold most of them answer, not only those that hold all. */
const SENTENCE = 4;
const PHRASE_BONUS = 1.5;

export function matchesOf(
  journal: Journal,
  index: PassageIndex,
  asked: Asked,
  reach: Reach,
): Match[] {
  const { read } = asked;
  const scored =
    read.words.length === 0
      ? reach.everything.map((doc) => ({ doc, tier: 0, score: 0 }))
      : byWords(journal, index, asked, reach);
  const excluded = docsWith(index, read.excluded);
  const held = scored.filter(({ doc }) => !excluded.has(doc) && !index.isDead(doc));
  if (read.phrases.length === 0) return held;
  return held.flatMap((match) => {
    const id = reach.idOf(match.doc);
    const entry = id && journal.tables.entries.get(id);
    if (!entry) return [];
    const words = foldedWords(`${entry.title ?? ''}\n${plainText(entry.text)}`);
    return read.phrases.every((phrase) => holdsPhrase(words, phrase))
      ? [{ ...match, score: match.score + PHRASE_BONUS }]
      : [];
  });
}

function docsWith(index: PassageIndex, words: readonly string[]): ReadonlySet<number> {
  const out = new Set<number>();
  for (const word of words) {
    const term = index.term(word);
    if (term !== undefined) index.score(term, (doc) => out.add(doc));
  }
  return out;
}

function byWords(
  journal: Journal,
  index: PassageIndex,
  { read, expansions, related }: Asked,
  reach: Reach,
): Match[] {
  const span = index.span;
  const total = new Float32Array(span);
  const direct = new Uint8Array(span);
  const any = new Uint8Array(span);
  const touched: number[] = [];
  read.words.forEach((word) => {
    const best = new Float32Array(span);
    const here: number[] = [];
    const near = new Map<number, number>();
    for (const { term, weight } of expansions.get(word) ?? []) {
      index.score(term, (doc, score) => {
        if (best[doc] === 0) here.push(doc);
        // Two forms of one word in an entry tell little more than one.
        best[doc] =
          Math.max(best[doc]!, weight * score) + 0.15 * Math.min(best[doc]!, weight * score);
      });
    }
    for (const one of related) {
      if (one.near !== word) continue;
      for (const id of entriesTiedTo(journal, one.heading)) {
        const doc = reach.docOf(id);
        if (doc !== undefined) near.set(doc, Math.max(near.get(doc) ?? 0, one.weight));
      }
    }
    for (const doc of here) {
      if (any[doc] === 0) touched.push(doc);
      any[doc]! += 1;
      direct[doc]! += 1;
      total[doc]! += best[doc]! + (near.get(doc) ?? 0);
      near.delete(doc);
    }
    for (const [doc, weight] of near) {
      if (any[doc] === 0) touched.push(doc);
      any[doc]! += 1;
      total[doc]! += weight;
    }
  });
  const asked = read.words.length;
  const least = asked <= SENTENCE ? asked : Math.max(2, Math.ceil(asked * 0.25));
  return touched
    .filter((doc) => any[doc]! >= least)
    .map((doc) => ({
      doc,
      tier: asked <= SENTENCE && direct[doc]! < asked ? 1 : 0,
      score: total[doc]! * (any[doc]! / asked),
    }));
}
