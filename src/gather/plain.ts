import { plainText } from '../language/markdown';

/** The words of a CommonMark text. Long runs of spaces, which say nothing and cost much, are shortened first. */
export function plainOf(text: string): string {
  return plainText(text.replace(/[ \t]{3,}/gu, '  '));
}
