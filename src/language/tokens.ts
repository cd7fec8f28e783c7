/**
 * The words of what is read and written: tokens, stems, dates, names in filing order, ISBNs, reading time and the
 * level a question asks for. This room owns no records and reads no journal; it takes strings and numbers and gives them back.
 */

import stopWords from '../../shared/stop-words.json';

/** A word in a text. `start` and `end` are UTF-16 offsets into the text, `end` exclusive. */
export interface Token {
  text: string;
  folded: string;
  start: number;
  end: number;
}

/** Common English words that say little of what an entry is about, folded. */
export const STOP_WORDS: ReadonlySet<string> = new Set(stopWords.words);

/** Letters that are not split by NFKD, yet are filed and looked for as their plain forms. */
const PLAIN_FORMS: Readonly<Record<string, string>> = {
  æ: 'ae',
  œ: 'oe',
  ß: 'ss',
  ø: 'o',
  đ: 'd',
  ð: 'd',
  þ: 'th',
  ł: 'l',
  ı: 'i',
  '’': "'",
  '‘': "'",
  ʼ: "'",
  '＇': "'",
};
const PLAIN_FORM = new RegExp(`[${Object.keys(PLAIN_FORMS).join('')}]`, 'g');
const ASCII = /^[\x00-\x7f]*$/;

/** A text as it is compared: NFKD, lower case, without marks, curly apostrophes made straight. Folding twice changes nothing. */
export function fold(text: string): string {
  if (ASCII.test(text)) return text.toLowerCase();
  return text
    .normalize('NFKD')
    .toLowerCase()
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(PLAIN_FORM, (letter) => PLAIN_FORMS[letter] ?? letter);
}

/**
 * Texts made of these characters only are cut by one expression, which gives what the segmenter gives at a fraction of the
 * cost; a property test holds the two together. Any other text goes to the segmenter.
 */
const PLAIN_LATIN =
  /^[\t\n\r -~\u00a0\u00a1\u00a3\u00a7\u00ab\u00bb\u00bf-\u00d6\u00d8-\u00f6\u00f8-\u024f–—‘’“”…]*$/;
const LETTER = 'A-Za-z\\u00c0-\\u00d6\\u00d8-\\u00f6\\u00f8-\\u024f';
const PLAIN_WORD = new RegExp(
  // From the first of a run of underscores alone, so that a long run is gone over once.
  `(?<!_)_*[${LETTER}0-9](?:[${LETTER}0-9_]|(?<=[${LETTER}])['‘’.:](?=[${LETTER}])|(?<=[0-9])['‘’.,;](?=[0-9]))*`,
  'g',
);

const HAS_LETTER_OR_DIGIT = /[\p{L}\p{N}]/u;

let segmenter: Intl.Segmenter | undefined;

/** Words of a text by UAX #29 (Unicode text segmentation), in order: `can't`, `can’t` and `32.3` are one word each. */
export function tokens(text: string): Token[] {
  return PLAIN_LATIN.test(text) ? plainTokens(text) : segmentedTokens(text);
}

function plainTokens(text: string): Token[] {
  const found: Token[] = [];
  for (const match of text.matchAll(PLAIN_WORD)) {
    const word = match[0];
    found.push({
      text: word,
      folded: fold(word),
      start: match.index,
      end: match.index + word.length,
    });
  }
  return found;
}

/** The same by `Intl.Segmenter`, for every script. */
export function segmentedTokens(text: string): Token[] {
  segmenter ??= new Intl.Segmenter('en', { granularity: 'word' });
  const found: Token[] = [];
  for (const { segment, index, isWordLike } of segmenter.segment(text)) {
    if (!isWordLike || !HAS_LETTER_OR_DIGIT.test(segment)) continue; // a run of underscores is no word
    found.push({ text: segment, folded: fold(segment), start: index, end: index + segment.length });
  }
  return found;
}

/** How many words a text has, by UAX #29. */
export function countWords(text: string): number {
  return tokens(text).length;
}
