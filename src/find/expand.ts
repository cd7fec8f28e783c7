import type { RelatedWords } from '../language/related-words';
import type { PassageIndex } from './passage-index';

export type How = 'word' | 'form' | 'start' | 'typo' | 'related';

/** A word of the index that may stand for a typed one. */
export interface Expansion {
  term: number;
  how: How;
  weight: number;
}

/** What a stand-in counts beside the word itself; a form of it nearly as much, a slip half. */
const WEIGHT: Record<Exclude<How, 'related'>, number> = {
  word: 1,
  form: 1,
  start: 0.75,
  typo: 0.5,
};
/** A beginning is completed to its commonest words, at most so many. */
const COMPLETIONS = 60;
/** Slips of the pen are looked for only where a word is found in fewer entries than this; in a sentence, in none. */
const FEW = 3;
const MOST_SLIPPED = 8;

/**
 * The words that a typed word may mean: itself, other forms of it, what it begins when it is still being typed, and
 * near spellings where it is hardly found. `onlyTyped` leaves the word and its beginning.
 */
export function expansionsOf(
  index: PassageIndex,
  word: string,
  isPrefix: boolean,
  onlyTyped: boolean,
  inSentence = false,
): Expansion[] {
  const out: Expansion[] = [];
  const seen = new Set<number>();
  const add = (term: number, how: keyof typeof WEIGHT): void => {
    if (seen.has(term)) return;
    seen.add(term);
    out.push({ term, how, weight: WEIGHT[how] });
  };
  const exact = index.term(word);
  if (exact !== undefined) add(exact, 'word');
  if (!onlyTyped) for (const term of index.words.kin(word)) add(term, 'form');
  if (isPrefix) for (const term of index.words.beginning(word, COMPLETIONS)) add(term, 'start');
  const found = out.reduce((sum, { term }) => sum + index.frequency(term), 0);
  if (!onlyTyped && found < (inSentence ? 1 : FEW) && word.length >= 4) {
    const one = index.words.near(word, 1, MOST_SLIPPED);
    for (const term of one) add(term, 'typo');
    if (one.length === 0 && word.length >= 8)
      for (const term of index.words.near(word, 2, MOST_SLIPPED)) add(term, 'typo');
  }
  return out;
}

/** Related words of one typed word at most, nearest first. */
const MOST_RELATED = 26;

/**
 * Words of the index that are near a typed word in meaning, in any form, nearest first. A word that the thesaurus does not know in the form
 * typed is looked for in the commonest form that it knows.
 */
export function relatedTerms(
  index: PassageIndex,
  word: string,
  thesaurus: RelatedWords,
): Expansion[] {
  const own = new Set([word, ...index.words.kin(word).map((term) => index.words.wordOf(term))]);
  const known = [...own].find((form) => thesaurus.of(form).length > 0);
  if (known === undefined) return [];
  const found = new Map<number, number>();
  for (const { word: near, weight } of thesaurus.of(known).slice(0, MOST_RELATED)) {
    const exact = index.term(near);
    for (const term of [...(exact === undefined ? [] : [exact]), ...index.words.kin(near)]) {
      if (!own.has(index.words.wordOf(term)) && (found.get(term) ?? 0) < weight)
        found.set(term, weight);
    }
  }
  return [...found].map(([term, weight]) => ({ term, how: 'related', weight }));
}
