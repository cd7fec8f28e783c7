import type { EntryId, EntryKind, Journal } from '../journal/records';
import { isEveryday } from '../language/everyday';
import { tokens, type Token } from '../language/tokens';
import { wordsOf } from './shown';
import type { WeaveIndex } from './weave-index';
import { tellingStem, type WordTable } from './words';

const WORDS_TOLD = 6;
/** A word of fewer of a strand's entries, or of a smaller share of them, tells nothing of the strand. */
const LEAST_ENTRIES = 2;
const LEAST_SHARE = 0.03;
/** A word of one book tells of that book, where the strand has others. */
const LEAST_BOOKS = 2;
/** What an activity is made of (scissors, a list, a card) is not what it is about. */
const DOING: ReadonlySet<EntryKind> = new Set(['lesson', 'assignment']);
/** Stems looked at in their forms, the most telling first: some of them are names or everyday words. */
const LOOKED_AT = 200;
/** Entries read to see in which forms a word stands. */
const FORMS_FROM = 40;

/** For each group of entries the words that tell it from the other groups, the most telling first, as they stand in its entries. */
export function tellingWords(
  index: WeaveIndex,
  groups: readonly (readonly EntryId[])[],
): string[][] {
  const { words, journal } = index;
  const { entries } = journal.tables;
  const all = new Uint32Array(words.stems);
  const read = groups.map((ids) => {
    const own = ids.filter((id) => !DOING.has(entries.get(id)?.kind ?? 'note'));
    const times = new Uint32Array(words.stems);
    for (const id of own) words.eachStem(id, (stem) => void (times[stem]! += 1));
    times.forEach((count, stem) => void (all[stem]! += count));
    return { own, times };
  });
  const total = read.reduce((sum, { own }) => sum + own.length, 0);
  return read.map(({ own, times }) => {
    const scored = scoredStems(words, times, all, { size: own.length, total });
    const held = holders(index, own, scored);
    const books = Math.min(LEAST_BOOKS, booksOf(journal, own, LEAST_BOOKS).size);
    const wide = (stem: number): boolean => held.get(stem)!.books.size >= books;
    return formsTold(index, held, [
      ...scored.filter(wide),
      ...scored.filter((stem) => !wide(stem)),
    ]);
  });
}

/**
 * The stems of a group, the most telling first, by class-based tf-idf (after Grootendorst 2022, arXiv 2203.05794) over entries: an entry has
 * a stem or not, so that one long poem does not speak for all, and a stem's rarity is held against the group's size: times × ln(times /
 * (all + 1) ÷ size / total). What is no more common here than in all is left out. A group alone has nothing to be told from: there the
 * times count.
 */
function scoredStems(
  words: WordTable,
  times: Uint32Array,
  all: Uint32Array,
  { size, total }: { size: number; total: number },
): number[] {
  const least = Math.max(LEAST_ENTRIES, size * LEAST_SHARE);
  const scored: { stem: number; word: string; score: number }[] = [];
  times.forEach((count, stem) => {
    if (count < least) return;
    const more = size < total ? ((count / (all[stem]! + 1)) * total) / size : Math.E;
    if (more > 1) {
      scored.push({ stem, word: words.stemAt(stem), score: count * Math.log(more) });
    }
  });
  scored.sort((a, b) => b.score - a.score || (a.word < b.word ? -1 : 1));
  return scored.slice(0, LOOKED_AT).map(({ stem }) => stem);
}

interface Held {
  /** Some of the entries that have it. */
  entries: EntryId[];
  books: Set<string>;
}

/** Where stems stand: the first entries that have them, and some of the books these are tied to. */
function holders(
  index: WeaveIndex,
  entries: readonly EntryId[],
  stems: readonly number[],
): Map<number, Held> {
  const found = new Map(
    stems.map((stem): [number, Held] => [stem, { entries: [], books: new Set() }]),
  );
  for (const id of entries) {
    index.words.eachStem(id, (stem) => {
      const held = found.get(stem);
      if (!held) return;
      if (held.entries.length < FORMS_FROM) held.entries.push(id);
      if (held.books.size >= LEAST_BOOKS) return;
      for (const book of booksOf(index.journal, [id], LEAST_BOOKS)) held.books.add(book);
    });
  }
  return found;
}

/** Books that some entries are tied to, until there are enough. */
function booksOf(journal: Journal, ids: readonly EntryId[], enough: number): Set<string> {
  const { entries, headings } = journal.tables;
  const books = new Set<string>();
  for (const id of ids) {
    for (const { heading } of entries.get(id)?.ties ?? []) {
      if (headings.get(heading)?.kind === 'book') books.add(heading);
    }
    if (books.size >= enough) break;
  }
  return books;
}

/** The first stems that have a form worth telling, each in its commonest one. */
function formsTold(
  index: WeaveIndex,
  held: ReadonlyMap<number, Held>,
  stems: readonly number[],
): string[] {
  const read = new Map<EntryId, Read>();
  const readOnce = (id: EntryId): Read => {
    const known = read.get(id);
    if (known) return known;
    const entry = index.journal.tables.entries.get(id);
    const text = entry ? wordsOf(entry) : '';
    const made = { text, tokens: tokens(text) };
    read.set(id, made);
    return made;
  };
  const told: string[] = [];
  for (const stem of stems) {
    if (told.length === WORDS_TOLD) break;
    const form = formOf(index.words.stemAt(stem), held.get(stem)!.entries.map(readOnce));
    if (form !== undefined) told.push(form);
  }
  return told;
}

interface Read {
  text: string;
  tokens: Token[];
}

/** The commonest form of a stem in some texts that is neither everyday nor, as it stands inside sentences, a name. */
function formOf(stem: string, texts: readonly Read[]): string | undefined {
  const forms = new Map<string, number>();
  let [inside, capital, initial] = [0, 0, 0];
  for (const { text, tokens: all } of texts) {
    for (const token of all) {
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
