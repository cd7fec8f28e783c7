import { withoutArticle } from './filing';
import { fold } from './tokens';

/** Letters Locke leaves out, and those that were one letter in Latin (I and J, U and V), with the letter that serves for them. */
const SERVED_BY: Readonly<Record<string, string>> = { k: 'c', y: 'i', w: 'u', j: 'i', v: 'u' };
const VOWELS = 'aeiou';

/**
 * The class of a head in a commonplace book by Locke's index: its first letter and the vowel that follows it, "E i" for
 * Epistola. K, Y and W are served by C, I and U; Q goes in the fifth space of Z, "Z u". A word with no further vowel takes
 * its own again (Ars is A a), or, having none, its letter alone. An initial article is passed over. Empty where the head
 * does not begin with a Latin letter.
 *
 * Source: Locke, "A New Method of a Common-Place-Book", Works (1823), vol. 3, pp. 336-338. That I serves for J and U for V
 * follows from its twenty letters; the doubled vowel is from memory.
 */
export function commonplaceClass(name: string): string {
  const word = /^[^a-z0-9]*([a-z]+)/.exec(fold(withoutArticle(name)))?.[1];
  const initial = word?.[0];
  if (!word || !initial) return '';
  if (initial === 'q') return 'Z u';
  const letter = SERVED_BY[initial] ?? initial;
  const vowel = [...word.slice(1)].map((each) => (each === 'y' ? 'i' : each)).find(isVowel);
  const following = vowel ?? (isVowel(letter) ? letter : undefined);
  return following ? `${letter.toUpperCase()} ${following}` : letter.toUpperCase();
}

function isVowel(letter: string): boolean {
  return VOWELS.includes(letter);
}
