/**
 * The room of finding. It owns full-text search: what a query means, the index, ranking, facets and why something was found.
 * It changes nothing, keeps no history, and knows ties only as names to be found by.
 */
import type { CircleId, EntryKind, HeadingId } from '../journal/records';
import { STOP_WORDS, tokens } from '../language/tokens';

export type Order = 'nearest' | 'written' | 'added' | 'place';

export interface FindQuery {
  /** What is typed: words, phrases in quotation marks, a minus before either for not. Empty finds all that passes the rest. */
  text: string;
  /** Any of these kinds. */
  kinds?: EntryKind[];
  /** All of these themes, each with its narrower ones. */
  themes?: HeadingId[];
  /** Any of these books. */
  books?: HeadingId[];
  /** All of these people. */
  people?: HeadingId[];
  /** EDTF, inclusive: entries whose `written` may lie in the span. */
  from?: string;
  to?: string;
  use?: {
    /** Never used with this circle. */
    unusedWith?: CircleId;
    never?: boolean;
    used?: boolean;
    /** Last used at least so many months ago, or never. */
    restedMonths?: number;
  };
  /** No other forms, spellings or related words. */
  onlyMyWords?: boolean;
  /** The usual is nearest, or newest written first where nothing is typed. */
  order?: Order;
  /** Entries to pass over, 0 or more; the usual is 0. */
  offset?: number;
  /** Entries to answer at most; the usual is 20. */
  limit?: number;
  /** Of each row of headings at most so many values, the most counted; usually all. */
  facetValues?: number;
  /** The last word is still being typed. */
  typing?: boolean;
  /** Only which entries there are: no hit tells why, and none is marked. */
  bare?: boolean;
}

/** What is typed, taken apart. All words are folded. */
export interface ReadQuery {
  words: string[];
  phrases: string[][];
  excluded: string[];
  /** Phrases, and words of several parts such as "well-worn", that are not wanted. */
  excludedPhrases?: string[][];
  /** The last word, when it may be only the beginning of one. */
  prefix?: string;
  /** All that is typed outside quotation marks and not after a minus, small words among it, in order. */
  typed: string[];
  /** A question or a sentence: entries answer it that hold the most telling of its words, not only those that hold all. */
  sentence: boolean;
  /** Something was typed, and nothing of it can be looked for: marks or pictures alone. */
  unread: boolean;
}

const PHRASE = /(?<![\p{L}\p{N}])((?<=^|\s)[-−–])?["“”„]([^"“”„]+)["“”„]/gu;
/** So many words, small ones among them, are a sentence. */
const SENTENCE = 6;
/** And so many telling ones, or three and a mark that ends a sentence. */
const TELLING = 5;
const ENDED = 3;

const NOT = /(?:^|\s)[-−–]([\p{L}\p{N}]\S*)/gu;
/** What only begins a phrase or something unwanted. */
const ONLY_BEGUN = /^[-−–"“”„\s]*$/u;

/** Takes a query apart. Stop words are left out unless there is nothing else; an unclosed quotation mark is no phrase. */
export function readQuery(text: string, typing = false): ReadQuery {
  const phrases: string[][] = [];
  const excluded: string[] = [];
  const excludedPhrases: string[][] = [];
  const exclude = (words: string[]): void => {
    if (words.length > 1) excludedPhrases.push(words);
    else excluded.push(...words);
  };
  let rest = text.replace(PHRASE, (_, minus: string | undefined, inside: string) => {
    const words = foldedWords(inside);
    if (minus) exclude(words);
    else if (words.length > 0) phrases.push(words);
    return ' ';
  });
  rest = rest.replace(NOT, (_, word: string) => {
    exclude(foldedWords(word));
    return ' ';
  });
  const typed = tokens(rest).map((token) => token.folded);
  const last = typed.at(-1);
  const open = typing && last !== undefined && /[\p{L}\p{N}'’]$/u.test(rest);
  const told = typed.filter(
    (word, at) => !STOP_WORDS.has(word) || (open && at === typed.length - 1),
  );
  const words = [...new Set(told.length > 0 || phrases.length > 0 ? told : typed)];
  return {
    words,
    phrases,
    excluded,
    ...(excludedPhrases.length > 0 ? { excludedPhrases } : {}),
    ...(open && words.includes(last) ? { prefix: last } : {}),
    typed,
    sentence:
      typed.length >= SENTENCE ||
      words.length >= TELLING ||
      (typed.length >= ENDED && /[.?!]\s*$/.test(rest)),
    unread:
      words.length + phrases.length + excluded.length + excludedPhrases.length === 0 &&
      !ONLY_BEGUN.test(text),
  };
}

/** What is typed without a folded word of it; phrases and what stands after a minus are left as they are. */
export function withoutWord(text: string, word: string): string {
  const blank = (part: string): string => ' '.repeat(part.length);
  const apart = text.replace(PHRASE, blank).replace(NOT, blank);
  const left = tokens(apart)
    .filter(({ folded }) => folded === word)
    .reduceRight((left, { start, end }) => {
      // Of a word in parts what follows is no word after a minus.
      const after = left.slice(end).replace(/^[-−–]+(?=[\p{L}\p{N}])/u, '');
      return `${left.slice(0, start)} ${after}`;
    }, text);
  return mended(left);
}

/** Folded words that stand side by side in what is typed, as they were typed. */
export function asTyped(text: string, words: readonly string[]): string {
  const all = tokens(text);
  const at = all.findIndex((_, from) =>
    words.every((word, step) => all[from + step]?.folded === word),
  );
  const [first, last] = [all[at], all[at + words.length - 1]];
  return first && last ? text.slice(first.start, last.end) : words.join(' ');
}

/** What is typed without a phrase, of folded words. */
export function withoutPhrase(text: string, phrase: readonly string[]): string {
  const gone = phrase.join(' ');
  return mended(
    text.replace(PHRASE, (whole, minus: string | undefined, inside: string) =>
      !minus && foldedWords(inside).join(' ') === gone ? ' ' : whole,
    ),
  );
}

/** Without the marks and blanks that stood round what was taken out. */
const mended = (text: string): string =>
  text
    .replace(/(?<=^|\s)[.,;:!?…]+(?=\s|$)/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();

/** Whether folded words hold a phrase, side by side. */
export function holdsPhrase(words: readonly string[], phrase: readonly string[]): boolean {
  const [first] = phrase;
  if (first === undefined) return true;
  for (let at = words.indexOf(first); at >= 0; at = words.indexOf(first, at + 1)) {
    if (phrase.every((word, step) => words[at + step] === word)) return true;
  }
  return false;
}

export const foldedWords = (text: string): string[] => tokens(text).map((token) => token.folded);
