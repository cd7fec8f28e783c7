import type { EntryId, EntryKind } from '../journal/records';
import { isEveryday } from '../language/everyday';
import { tokens, type Token } from '../language/tokens';
import { wordsOf } from './shown';
import type { WeaveIndex } from './weave-index';
import { tellingStem } from './words';

const WORDS_TOLD = 6;
/** A word of fewer of a strand's entries, or of a smaller share of them, tells nothing of the strand. */
const LEAST_ENTRIES = 2;
const LEAST_SHARE = 0.03;
/** A word of one book tells of that book, where the strand has others. */
const LEAST_BOOKS = 2;
/** What an activity is made of (scissors, a list, a card) is not what it is about. */
const DOING: ReadonlySet<EntryKind> = new Set(['lesson', 'assignment']);
/** Stems looked at in their forms, the most telling first: some of them are names or everyday words. */
const LOOKED_AT = 60;
/** Entries read to see in which forms a word stands. */
const FORMS_FROM = 40;

/** For each group of entries the words that tell it from the other groups, the most telling first, as they stand in its entries. */
export function tellingWords(
  index: WeaveIndex,
  groups: readonly (readonly EntryId[])[],
): string[][] {
  const { entries: rows } = index.journal.tables;
  const read = groups.map((ids) => ids.filter((id) => !DOING.has(rows.get(id)?.kind ?? 'note')));
  const held = read.map((ids) => holders(index, ids));
  const all = new Map<string, number>();
  for (const stems of held) {
    for (const [stem, { entries }] of stems) all.set(stem, (all.get(stem) ?? 0) + entries.length);
  }
  const total = read.reduce((sum, ids) => sum + ids.length, 0);
  return held.map((stems, at) => {
    const scored = scoredStems(stems, all, { size: read[at]!.length, total });
    return formsTold(index, scored.slice(0, LOOKED_AT), stems);
  });
}

interface Held {
  entries: EntryId[];
  books: Set<string>;
}

/** The entries of each stem, and how many books they are tied to. */
function holders(index: WeaveIndex, entries: readonly EntryId[]): Map<string, Held> {
  const { entries: rows, headings } = index.journal.tables;
  const found = new Map<string, Held>();
  for (const id of entries) {
    const books = (rows.get(id)?.ties ?? []).filter(
      ({ heading }) => headings.get(heading)?.kind === 'book',
    );
    for (const stem of index.words.stemsIn(id).keys()) {
      const held = found.get(stem) ?? { entries: [], books: new Set() };
      found.set(stem, held);
      held.entries.push(id);
      for (const { heading } of books) held.books.add(heading);
    }
  }
  return found;
}

/**
 * The stems of a group, the most telling first, by class-based tf-idf (after Grootendorst 2022, arXiv 2203.05794) over entries: an entry has
 * a stem or not, so that one long poem does not speak for all, and a stem's rarity is held against the group's size: times × ln(times /
 * (all + 1) ÷ size / total). Stems of more than one book go first; what is no more common here than in all is left out. A group alone has nothing to be told from: there the times count.
 */
function scoredStems(
  stems: ReadonlyMap<string, Held>,
  all: ReadonlyMap<string, number>,
  { size, total }: { size: number; total: number },
): string[] {
  const wide = Math.min(
    LEAST_BOOKS,
    new Set([...stems.values()].flatMap(({ books }) => [...books])).size,
  );
  const scored = [...stems].flatMap(([stem, { entries, books }]) => {
    const times = entries.length;
    const more = size < total ? ((times / (all.get(stem)! + 1)) * total) / size : Math.E;
    if (times < Math.max(LEAST_ENTRIES, size * LEAST_SHARE) || more <= 1) return [];
    return [{ stem, oneBook: books.size < wide ? 1 : 0, score: times * Math.log(more) }];
  });
  scored.sort((a, b) => a.oneBook - b.oneBook || b.score - a.score || (a.stem < b.stem ? -1 : 1));
  return scored.map(({ stem }) => stem);
}

/** The first stems that have a form worth telling, each in its commonest one. */
function formsTold(
  index: WeaveIndex,
  stems: readonly string[],
  held: ReadonlyMap<string, Held>,
): string[] {
  const told: string[] = [];
  for (const stem of stems) {
    if (told.length === WORDS_TOLD) break;
    const form = formOf(index, stem, held.get(stem)!.entries.slice(0, FORMS_FROM));
    if (form !== undefined) told.push(form);
  }
  return told;
}

/** The commonest form of a stem in some entries that is neither everyday nor, as it stands inside sentences, a name. */
function formOf(index: WeaveIndex, stem: string, entries: readonly EntryId[]): string | undefined {
  const forms = new Map<string, number>();
  let [inside, capital, initial] = [0, 0, 0];
  for (const id of entries) {
    const entry = index.journal.tables.entries.get(id);
    const text = entry ? wordsOf(entry) : '';
    for (const token of tokens(text)) {
      if (tellingStem(token.folded) !== stem) continue;
      const form = token.text.toLowerCase().replace(/['’]s?$/, '');
      forms.set(form, (forms.get(form) ?? 0) + 1);
      const upper = /^\p{Lu}/u.test(token.text);
      if (upper && beginsSentence(text, token)) initial += 1;
      else {
        inside += 1;
        if (upper) capital += 1;
      }
    }
  }
  if (inside === 0 ? initial > 1 : capital > inside / 2) return undefined;
  const [best] = [...forms]
    .filter(([form]) => !isEveryday(form))
    .sort(([a, left], [b, right]) => right - left || (a < b ? -1 : 1));
  return best?.[0];
}

const beginsSentence = (text: string, { start }: Token): boolean =>
  /(?:^|[.!?:;\n]["'”’)\]*_]*\s*)["'“‘(\[*_—–-]*$/u.test(text.slice(Math.max(0, start - 8), start));
