/** Which documents answer a query, and how well: words first, then what is only related. */
import type { Entry, EntryId, Journal } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { plainText } from '../language/markdown';
import type { Asked } from './explain';
import { wordsByField } from './documents';
import { FIELDS, type PassageIndex } from './passage-index';
import { foldedWords, holdsPhrase } from './query';

export interface Match {
  doc: number;
  /** 0 where the entry itself holds as many of the typed words as are asked for, in some form; 1 where some are only related. */
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
const ANY_FIELD = (1 << FIELDS.length) - 1;
/** A phrase is looked for in the text and in the title, each by itself. */
const IN_PHRASES = (1 << FIELDS.indexOf('text')) | (1 << FIELDS.indexOf('title'));

export function matchesOf(
  journal: Journal,
  index: PassageIndex,
  asked: Asked,
  reach: Reach,
): Match[] {
  const { read } = asked;
  const phrased = read.phrases.map((phrase) => docsWithAll(index, phrase, IN_PHRASES));
  const inPhrases = (doc: number): boolean => phrased.every((docs) => docs.has(doc));
  const scored =
    read.words.length > 0
      ? byWords(journal, index, asked, reach)
      : [...(phrased[0] ?? reach.everything)].map((doc) => ({ doc, tier: 0, score: 0 }));
  const excluded = docsExcluded(journal, index, asked, reach);
  const held = scored.filter(
    ({ doc }) => inPhrases(doc) && !excluded.has(doc) && !index.isDead(doc),
  );
  if (read.phrases.length === 0) return held;
  return held.flatMap((match) => {
    const entry = entryAt(journal, reach, match.doc);
    if (!entry) return [];
    const runs = [foldedWords(entry.title ?? ''), foldedWords(plainText(entry.text))];
    return read.phrases.every((phrase) => runs.some((words) => holdsPhrase(words, phrase)))
      ? [{ ...match, score: match.score + PHRASE_BONUS }]
      : [];
  });
}

function entryAt(journal: Journal, reach: Reach, doc: number): Entry | undefined {
  const id = reach.idOf(doc);
  return id && journal.tables.entries.get(id);
}

/** Documents that hold each of some words in any of the fields given as bits. */
function docsWithAll(
  index: PassageIndex,
  words: readonly string[],
  inFields = ANY_FIELD,
): ReadonlySet<number> {
  let out: Set<number> | undefined;
  for (const word of new Set(words)) {
    const term = index.term(word);
    const next = new Set<number>();
    if (term !== undefined)
      index.score(term, (doc, _, fields) => {
        if ((fields & inFields) !== 0 && (!out || out.has(doc))) next.add(doc);
      });
    out = next;
  }
  return out ?? new Set();
}

function docsExcluded(
  journal: Journal,
  index: PassageIndex,
  { read }: Asked,
  reach: Reach,
): ReadonlySet<number> {
  const out = new Set<number>();
  for (const word of read.excluded) docsWithAll(index, [word]).forEach((doc) => out.add(doc));
  for (const phrase of read.excludedPhrases ?? []) {
    for (const doc of docsWithAll(index, phrase)) {
      const entry = out.has(doc) ? undefined : entryAt(journal, reach, doc);
      if (!entry) continue;
      const fields = Object.values(wordsByField(journal, entry));
      if (fields.some((words) => holdsPhrase(words, phrase))) out.add(doc);
    }
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
      if (!one.words.includes(word)) continue;
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
      tier: direct[doc]! < least ? 1 : 0,
      score: total[doc]! * (any[doc]! / asked),
    }));
}
