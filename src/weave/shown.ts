import type { Entry } from '../journal/records';
import { plainText } from '../language/markdown';

/** What of an entry is compared by its words: what everybody may see of it, never the leader's answers. */
export const wordsOf = (entry: Pick<Entry, 'text' | 'title'>): string =>
  entry.title ? `${plainText(entry.title)}\n${plainText(entry.text)}` : plainText(entry.text);
