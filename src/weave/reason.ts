import type { HeadingId } from '../journal/records';

type ReasonCode =
  | 'shares-heading'
  | 'shares-words'
  | 'asked-together'
  | 'same-chapter'
  | 'by-same'
  | 'narrower'
  | 'linked'
  | 'common';

/** Why something is near or proposed. `text` is a finished fragment of a sentence, and true of the journal as it stands. */
export interface Reason {
  code: ReasonCode;
  text: string;
  headings?: HeadingId[];
  words?: string[];
  /** EDTF date of a meeting. */
  on?: string;
}

/** "storm", "storm and tide", "storm, tide and lamp". */
export function sayList(parts: readonly string[], joiner = 'and'): string {
  const last = parts.at(-1) ?? '';
  return parts.length < 2 ? last : `${parts.slice(0, -1).join(', ')} ${joiner} ${last}`;
}

export const quoted = (words: readonly string[], joiner = 'and'): string =>
  sayList(
    words.map((word) => `“${word}”`),
    joiner,
  );

export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;

/** "5 entries". */
export const sayEntries = (count: number): string => counted(count, 'entry', 'entries');

/** "chapter 13", "chapter xii", or the name of a chapter in quotation marks. */
export const sayChapter = (chapter: string): string =>
  /^\s*(?:\d+|[ivxlc]+)\s*$/i.test(chapter) ? `chapter ${chapter.trim()}` : `“${chapter.trim()}”`;
