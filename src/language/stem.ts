import porter2 from 'wink-porter2-stemmer';
import { fold } from './tokens';

/** Enough for the words of a lifetime's journal; past it the memory is begun again rather than grown. */
const REMEMBERED = 100_000;

/** No English word is as long; the library takes time by the square of the length. */
const LONGEST = 64;

const remembered = new Map<string, string>();

/**
 * The stem of an English word by the Snowball English algorithm (Porter 2), of its folded form: "Narration" → "narrat".
 * Of what is longer than any word, the folded form. A stem is for comparing, not for showing: it joins `universe` to `university` and parts `argue` from `argument`.
 */
export function stem(word: string): string {
  const known = remembered.get(word);
  if (known !== undefined) return known;
  if (word.length > LONGEST) return fold(word);
  // The algorithm's own first step takes possessives off; the library leaves some of their apostrophes on.
  const found = porter2(fold(word).replace(/^'+|(?:'s)?'*$/g, ''));
  if (remembered.size >= REMEMBERED) remembered.clear();
  remembered.set(word, found);
  return found;
}
