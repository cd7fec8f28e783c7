import type { EntryId, HeadingId } from '../journal/records';
import { usesOf } from '../journal/uses';
import { tiedTerms } from './evidence-for-heading';
import { chapterKey, NODE } from './links';
import { nearRank } from './pagerank';
import { best, highest, type Scored } from './ranking';
import type { Reason } from './reason';
import { reasonsForEntry } from './reasons-for-entry';
import { reasonsForHeading } from './reasons-for-heading';
import { seedView, type Seeds } from './seeds';
import type { WeaveIndex } from './weave-index';
import { stemsOf } from './words';

export type { Seeds } from './seeds';

interface NearOptions {
  limit: number;
  /** Scores of entries for a text from another search, to be fused with the rest; 0 or more, any scale. */
  words?: (text: string) => ReadonlyMap<string, number>;
}

export interface Near {
  id: string;
  type: 'entry' | 'heading';
  /** 0 to 1; only to be compared within one answer. */
  score: number;
  /** At least one, strongest first. */
  reasons: Reason[];
}

/** Walks go on with this chance and this many rounds: near is a matter of a few steps. */
const DAMPING = 0.75;
const ROUNDS = 10;
/** Walks thinner than this for each link are not followed. */
const LEAST = 1e-6;
/** Source: Cormack, Clarke & Büttcher 2009, reciprocal rank fusion. */
const FUSION_K = 60;
/** Likeness below this share of the best is no likeness. */
const LEAST_LIKE = 0.12;
/** At most this share of an answer is headings, and they give way to entries that come about as near. */
const HEADINGS_SHARE = 0.25;
const HEADING_COUNTS = 0.8;
/** A second, third… entry of the same chapter and of the same book counts this much less each; past two of a chapter hardly at all. */
const SAME_CHAPTER = 0.85;
const SAME_BOOK = 0.96;
const CHAPTER_FULL = 2;
const PAST_FULL = 0.4;

/**
 * What is near to any mix of entries, headings and words, nearest first and varied: personalised PageRank over ties weighted by role and
 * by rarity of the heading, likeness of words, and meetings used together, fused by reciprocal rank. What was asked about is left out,
 * as are the headings that the asked entries are tied to, and whatever no true reason can be given for.
 */
export function nearTo(index: WeaveIndex, seeds: Seeds, options: NearOptions): Near[] {
  const { limit } = options;
  if (limit < 1) return [];
  const view = seedView(index, seeds);
  const seedIds = view.entries.map(({ id }) => id);
  const own = new Set<string>([...seedIds, ...view.headings, ...view.tied.keys()]);
  const pool = 4 * limit + 40;
  // What was asked about takes places in each list before it is left out.
  const most = pool + own.size;
  const [walkedEntries, walkedHeadings] = walk(
    index,
    seedIds,
    [...view.headings, ...view.named],
    most,
  );
  const lists: Scored[][] = [
    walkedEntries,
    alike(index, seeds, seedIds, view.headings, most),
    [...usedTogether(index, seedIds)],
    seeds.text === undefined ? [] : [...(options.words?.(seeds.text) ?? [])],
  ];
  const entries = fused(lists, own, pool);
  const named = view.named.map((id): Scored => [id, 1]);
  const headings = fused([walkedHeadings, named], own, pool);
  const told: Near[] = [];
  const mostHeadings = Math.floor(limit * HEADINGS_SHARE);
  for (const [id, score] of headings) {
    if (told.length === mostHeadings) break;
    const reasons = reasonsForHeading(index, view, id as HeadingId);
    if (reasons.length > 0)
      told.push({ id, type: 'heading', score: score * HEADING_COUNTS, reasons });
  }
  for (const { id, score } of varied(index, entries)) {
    if (told.length === limit) break;
    const reasons = reasonsForEntry(index, view, id as EntryId);
    if (reasons.length > 0) told.push({ id, type: 'entry', score, reasons });
  }
  return told.sort((a, b) => b.score - a.score || (a.id < b.id ? -1 : 1));
}

/** Entries and headings by how often walks from the seeds come to them. */
function walk(
  index: WeaveIndex,
  entries: readonly EntryId[],
  headings: readonly HeadingId[],
  most: number,
): [Scored[], Scored[]] {
  const { links } = index;
  const from = [...entries, ...headings].flatMap((id) => links.nodeOf(id) ?? []);
  if (from.length === 0) return [[], []];
  const { rank, reached } = nearRank(links, from, {
    damping: DAMPING,
    rounds: ROUNDS,
    least: LEAST,
  });
  const kind = (type: number) => (node: number) =>
    links.typeOf(node) === type ? links.idOf(node) : undefined;
  const found = highest(rank, most, kind(NODE.entry));
  // A heading with many entries is come to often from anywhere: how often for its size is what tells.
  const forSize = new Float64Array(links.size);
  for (const node of reached) forSize[node] = rank[node]! / Math.sqrt(1 + links.spreadOf(node));
  return [found, highest(forSize, most, kind(NODE.heading))];
}

/** Entries by likeness of words to the seeds: to their own words, and to what is tied to the seed headings. */
function alike(
  index: WeaveIndex,
  seeds: Seeds,
  entries: readonly EntryId[],
  headings: readonly HeadingId[],
  most: number,
): Scored[] {
  const stems = stemsOf(seeds.text ?? '');
  const add = (more: ReadonlyMap<string, number>): void => {
    for (const [word, times] of more) stems.set(word, (stems.get(word) ?? 0) + times);
  };
  for (const id of entries) add(index.words.stemsIn(id));
  const question = index.words.question(stems);
  const place = index.meaning?.placeOf(stems);
  for (const id of headings) {
    const terms = tiedTerms(index, id);
    const most = Math.max(0, ...terms.values());
    // Each heading's terms together weigh as much as a text of one telling word.
    for (const [word, weight] of terms) {
      question.set(word, (question.get(word) ?? 0) + (0.3 * weight) / most);
    }
  }
  const found = withMeaning(index, index.words.mostLike(question, most), place, most);
  const top = found.reduce((high, [, score]) => Math.max(high, score), 0);
  return found.filter(([, score]) => score >= LEAST_LIKE * top);
}

/** What likeness of meaning counts beside likeness of words; best on sections of stories, see `npm run judge`. */
const MEANING_COUNTS = 0.6;

/** Likeness of words and of meaning added up, over what is foremost in either. */
function withMeaning(
  { words, meaning }: WeaveIndex,
  found: Scored[],
  place: Float32Array | undefined,
  most: number,
): Scored[] {
  if (!meaning || !place) return found;
  const sums = new Map(found);
  const cosines = meaning.cosines(place);
  for (const [id] of meaning.nearest(cosines, most)) if (!sums.has(id)) sums.set(id, 0);
  for (const [id, score] of sums) {
    // Entries of no known word have no place, and no meaning to add.
    sums.set(id, score + MEANING_COUNTS * Math.max(0, meaning.cosineOf(id, cosines)));
  }
  return [...sums].filter(([id, score]) => score > 0 && words.holds(id as EntryId));
}

/** Entries used in the same meetings as the seeds, by how often. */
function usedTogether(index: WeaveIndex, seeds: readonly EntryId[]): Map<EntryId, number> {
  const { meetings, entries } = index.journal.tables;
  const found = new Map<EntryId, number>();
  const seen = new Set<string>();
  for (const id of seeds) {
    for (const { meeting } of usesOf(index.journal, id).meetings) {
      if (seen.has(meeting)) continue;
      seen.add(meeting);
      const used = meetings.get(meeting)?.items.filter((item) => item.used) ?? [];
      for (const entry of new Set(used.map((item) => item.entry))) {
        if (entry && entries.has(entry)) found.set(entry, (found.get(entry) ?? 0) + 1);
      }
    }
  }
  return found;
}

/** Reciprocal rank fusion, scaled so that first in every list is 1. Things that score the same in a list share a rank. */
function fused(lists: readonly Scored[][], without: ReadonlySet<string>, most: number): Scored[] {
  const used = lists.filter((list) => list.length > 0);
  const sums = new Map<string, number>();
  for (const list of used) {
    let rank = 0;
    let last = NaN;
    const kept = list.filter(([id]) => !without.has(id));
    best(kept, most).forEach(([id, score], at) => {
      if (score !== last) [rank, last] = [at, score];
      const share = (FUSION_K + 1) / (FUSION_K + 1 + rank) / used.length;
      sums.set(id, (sums.get(id) ?? 0) + share);
    });
  }
  return best([...sums], most);
}

/** Takes the best again and again, each time lowering what is from the same book and chapter as what was taken. */
function* varied(
  index: WeaveIndex,
  entries: readonly Scored[],
): Generator<{ id: string; score: number }> {
  const left = entries.map(([id, score]) => ({ id, score, ...placesOf(index, id) }));
  const taken = new Map<string, number>();
  const times = (keys: readonly string[]): number =>
    keys.reduce((most, key) => Math.max(most, taken.get(key) ?? 0), 0);
  const worth = (row: (typeof left)[number]): number => {
    const [chapter, book] = [times(row.chapters), times(row.books)];
    const past = chapter >= CHAPTER_FULL ? PAST_FULL : 1;
    return row.score * SAME_CHAPTER ** chapter * SAME_BOOK ** book * past;
  };
  while (left.length > 0) {
    let [at, most] = [0, -1];
    for (let each = 0; each < left.length; each++) {
      const row = left[each]!;
      if (row.score <= most) break; // sorted, and nothing is ever raised
      const found = worth(row);
      if (found > most) [at, most] = [each, found];
    }
    const [row] = left.splice(at, 1);
    if (!row) return;
    for (const key of [...row.chapters, ...row.books]) taken.set(key, (taken.get(key) ?? 0) + 1);
    yield { id: row.id, score: most };
  }
}

function placesOf(index: WeaveIndex, id: string): { books: string[]; chapters: string[] } {
  const { entries, headings } = index.journal.tables;
  const ties = entries.get(id as EntryId)?.ties ?? [];
  const books = ties.filter((tie) => headings.get(tie.heading)?.kind === 'book');
  return {
    books: [...new Set(books.map((tie): string => tie.heading))],
    chapters: [...new Set(ties.flatMap((tie) => chapterKey(tie) ?? []))],
  };
}
