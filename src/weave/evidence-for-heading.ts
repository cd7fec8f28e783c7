import { rowsNaming } from '../journal/indexes';
import type { EntryId, Heading, HeadingId } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { tokens } from '../language/tokens';
import {
  DOUBT,
  goesWith,
  inBook,
  nameShare,
  nameEvidence,
  wordReason,
  type Evidence,
} from './evidence';
import { callings, findName, type Named } from './heading-names';
import { wordsOf } from './shown';
import type { WeaveIndex } from './weave-index';
import { tellingStem } from './words';

export type Grounds = Map<EntryId, Evidence[]>;

/** Everything that speaks for tying entries to a heading, tied ones included. */
export function evidenceForHeading(index: WeaveIndex, id: HeadingId): Grounds {
  const heading = index.journal.tables.headings.get(id);
  const grounds: Grounds = new Map();
  if (!heading) return grounds;
  byName(index, heading, grounds);
  byWords(index, heading, grounds);
  byNeighbours(index, heading, grounds);
  if (heading.kind === 'book') byCharacters(index, heading, grounds);
  return grounds;
}

function add(grounds: Grounds, id: EntryId, evidence: Evidence): void {
  const held = grounds.get(id);
  if (held) held.push(evidence);
  else grounds.set(id, [evidence]);
}

function byName(index: WeaveIndex, heading: Heading, grounds: Grounds): void {
  const found = new Map<EntryId, Named>();
  const tied = entriesTiedTo(index.journal, heading.id);
  for (const called of callings(heading)) {
    const stems = called.words.flatMap((word) => tellingStem(word) ?? []);
    const [rarest] = stems.sort((a, b) => index.words.count(a) - index.words.count(b));
    for (const id of rarest === undefined ? [] : index.words.entriesWith(rarest)) {
      const entry = tied.has(id) ? undefined : index.journal.tables.entries.get(id);
      if (!entry || found.get(id)?.how === 'name') continue;
      const text = wordsOf(entry);
      const named = findName(called, text, tokens(text));
      if (named) found.set(id, named);
    }
  }
  // One name is as telling in every entry, so its experience is gone through once.
  const shares = new Map<string, number>();
  for (const [id, named] of found) {
    const key = `${named.how} ${named.called.name}`;
    const share = shares.get(key) ?? nameShare(index, named);
    shares.set(key, share);
    add(grounds, id, nameEvidence(named, heading, share));
  }
}

/** Terms kept of what is tied. */
const TERMS = 25;
/** Fewer tied entries have no words of their own yet. */
const LEAST_TIED = 3;
/** Of a great many tied entries this many, evenly spread, are measured. */
const MEASURED = 300;

/** At most so many of a list, evenly spread. */
function spread<Item>(list: readonly Item[], most: number): readonly Item[] {
  if (list.length <= most) return list;
  return Array.from({ length: most }, (_, at) => list[Math.floor((at * list.length) / most)]!);
}

/** The weightiest stems of what is tied to a heading: the mean of its entries' weights × idf (Rocchio 1971, without negatives). */
export function tiedTerms(index: WeaveIndex, id: HeadingId): Map<string, number> {
  const tied = spread([...entriesTiedTo(index.journal, id)].sort(), MEASURED);
  const sums = new Map<string, { weight: number; entries: number }>();
  for (const entry of tied) {
    for (const [word, weight] of index.words.vectorOf(entry)) {
      const held = sums.get(word);
      if (held) {
        held.weight += weight;
        held.entries += 1;
      } else sums.set(word, { weight, entries: 1 });
    }
  }
  const terms = [...sums].flatMap(([word, { weight, entries }]): [string, number][] => {
    const mean = (weight / tied.length) * index.words.idf(word);
    return entries > 1 && mean > 0 ? [[word, mean]] : [];
  });
  terms.sort(([a, left], [b, right]) => right - left || (a < b ? -1 : 1));
  return new Map(terms.slice(0, TERMS));
}

/**
 * An entry is as likely to belong as entries at least as like what is tied have turned out to: of those, the share that are tied. A tied
 * entry's own words are taken out before it is measured, or each would be most like itself.
 */
function byWords(index: WeaveIndex, heading: Heading, grounds: Grounds): void {
  const tied = [...entriesTiedTo(index.journal, heading.id)].sort();
  if (tied.length < LEAST_TIED) return;
  const terms = tiedTerms(index, heading.id);
  const scores = index.words.likeness(terms);
  const known: number[] = [];
  const measured = spread(tied, MEASURED);
  for (const id of measured) {
    let own = 0;
    for (const [word, weight] of index.words.vectorOf(id)) {
      if (terms.has(word)) own += index.words.idf(word) * weight * weight;
    }
    known.push((measured.length * (scores.get(id) ?? 0) - own) / (measured.length - 1));
  }
  const scale = tied.length / known.length;
  known.sort((a, b) => b - a);
  const own = new Set(tied);
  const others = [...scores].filter(([id]) => !own.has(id));
  others.sort(([a, left], [b, right]) => right - left || (a < b ? -1 : 1));
  let above = 0;
  others.forEach(([id, score], rank) => {
    while (above < known.length && known[above]! >= score) above += 1;
    const held = above * scale;
    const share = (WORDS_COUNT * held) / (held + rank + DOUBT);
    if (share < LEAST_SHARE) return;
    const entry = index.journal.tables.entries.get(id);
    const shared = [...terms.keys()].filter((word) => index.words.has(id, word));
    // One word in common is no likeness.
    if (!entry || shared.length < 2) return;
    add(grounds, id, { share, reason: () => wordReason(index, wordsOf(entry), shared, heading) });
  });
}

/** The terms were chosen to suit what is tied, so likeness to them flatters. Our own setting. */
const WORDS_COUNT = 0.6;

/** Grounds weaker than this are not kept. */
const LEAST_SHARE = 0.08;

/** What is tied beside this heading, and how often; entries tied to such a heading may want this one. */
function byNeighbours(index: WeaveIndex, heading: Heading, grounds: Grounds): void {
  const { entries } = index.journal.tables;
  const tied = entriesTiedTo(index.journal, heading.id);
  const beside = new Map<HeadingId, number>();
  for (const id of tied) {
    for (const other of new Set(entries.get(id)?.ties.map((tie) => tie.heading))) {
      beside.set(other, (beside.get(other) ?? 0) + 1);
    }
  }
  beside.delete(heading.id);
  const best = new Map<EntryId, Evidence>();
  for (const [other, both] of [...beside].sort(([a], [b]) => (a < b ? -1 : 1))) {
    const evidence = goesWith(index, other, heading.id, both);
    if (!evidence || evidence.share < LEAST_SHARE) continue;
    for (const id of entriesTiedTo(index.journal, other)) {
      const held = best.get(id);
      if (!tied.has(id) && (!held || held.share < evidence.share)) best.set(id, evidence);
    }
  }
  for (const [id, evidence] of best) add(grounds, id, evidence);
}

function byCharacters(index: WeaveIndex, book: Heading, grounds: Grounds): void {
  for (const id of rowsNaming(index.journal, 'headings', book.id, 'headings')) {
    const person = index.journal.tables.headings.get(id);
    if (person?.kind !== 'person' || !person.books?.includes(book.id)) continue;
    const evidence = inBook(index, person, book);
    for (const entry of entriesTiedTo(index.journal, person.id)) add(grounds, entry, evidence);
  }
}
