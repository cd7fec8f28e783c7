import type { PassageIndex } from './passage-index';

export type How = 'word' | 'form' | 'start' | 'typo' | 'related';

/** A word of the index that may stand for a typed one. */
export interface Expansion {
  term: number;
  how: How;
  weight: number;
}

/** What a stand-in counts beside the word itself; a form of it nearly as much, a slip half. */
const WEIGHT: Record<How, number> = { word: 1, form: 0.7, start: 0.75, typo: 0.5, related: 0.3 };
/** A beginning is completed to its commonest words, at most so many. */
const COMPLETIONS = 60;
/** Slips of the pen are looked for only where a word is found in fewer entries than this. */
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
): Expansion[] {
  const out: Expansion[] = [];
  const seen = new Set<number>();
  const add = (term: number, how: How): void => {
    if (seen.has(term)) return;
    seen.add(term);
    out.push({ term, how, weight: WEIGHT[how] });
  };
  const exact = index.term(word);
  if (exact !== undefined) add(exact, 'word');
  if (!onlyTyped) for (const term of index.kin(word)) add(term, 'form');
  if (isPrefix) for (const term of index.beginning(word, COMPLETIONS)) add(term, 'start');
  const found = out.reduce((sum, { term }) => sum + index.frequency(term), 0);
  if (!onlyTyped && found < FEW && word.length >= 4) {
    const one = index.near(word, 1, MOST_SLIPPED);
    for (const term of one) add(term, 'typo');
    if (one.length === 0 && word.length >= 8)
      for (const term of index.near(word, 2, MOST_SLIPPED)) add(term, 'typo');
  }
  return out;
}
