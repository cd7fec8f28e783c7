import { syllable } from 'syllable';
import { plainText } from './markdown';
import { tokens } from './tokens';

/** Whole numbers; `words` and `sentences` at least 1 for a score to mean anything. */
export interface TextCounts {
  words: number;
  sentences: number;
  syllables: number;
}

/**
 * Flesch reading ease: 206.835 − 1.015 words a sentence − 84.6 syllables a word; higher is easier, 60 to 70 is standard.
 * Not held to 0 to 100. NaN without words or sentences. Source: Flesch 1948, J. Applied Psychology 32:221-233.
 */
export function fleschEase({ words, sentences, syllables }: TextCounts): number {
  return 206.835 - 1.015 * (words / sentences) - 84.6 * (syllables / words);
}

/**
 * Kincaid grade: 0.39 words a sentence + 11.8 syllables a word − 15.59, a US school grade; the least possible is −3.40. It
 * was fitted to adult Navy trainees, not to children's books. NaN without words or sentences. Source: Kincaid, Fishburne,
 * Rogers & Chissom 1975, Research Branch Report 8-75.
 */
export function kincaidGrade({ words, sentences, syllables }: TextCounts): number {
  return 0.39 * (words / sentences) + 11.8 * (syllables / words) - 15.59;
}

/** Full stops after these do not end a sentence (common practice). */
const SHORTENED = /\b(?:Mr|Mrs|Ms|Dr|St|Rev|Prof|Capt|Col|Sgt|Jr|Sr|vs|etc|[A-Z])\.(?=\s)/g;
const SENTENCE_END = /(?:[.!?…]+["'”’)\]]*(?=\s|$))|\n+/;

/**
 * Counts of a CommonMark text. Contractions and figures are one word, figures one syllable, as Flesch counts them; a
 * sentence ends with . ! ? or … or with its block. Syllables are found by rule from the spelling and are approximate.
 */
export function countText(text: string): TextCounts {
  const plain = plainText(text);
  const words = tokens(plain);
  const sentences = plain
    .replace(SHORTENED, (short) => short.slice(0, -1))
    .split(SENTENCE_END)
    .filter((stretch) => /[\p{L}\p{N}]/u.test(stretch)).length;
  const syllables = words.reduce((sum, { text: word }) => sum + syllablesOf(word), 0);
  return { words: words.length, sentences, syllables };
}

/** Syllables of one English word, by rule; at least 1. */
export function syllablesOf(word: string): number {
  return /\d/.test(word) ? 1 : Math.max(1, syllable(word));
}
