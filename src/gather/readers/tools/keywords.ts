import type { BookFound } from '../../block';
import { oneLine } from './block-list';

export interface WithKeywords {
  book: BookFound;
  keywords: readonly string[];
}

/**
 * The books of a file, with what their keywords mean: where no book has more than one, that names the list it stands on; else they are
 * subjects, of which no reader wants a list each, and are kept in the note.
 */
export function settleKeywords(found: readonly WithKeywords[]): BookFound[] {
  const sorted = found.map(({ book, keywords }) => ({
    book,
    words: [...new Set(keywords.map(oneLine).filter(Boolean))],
  }));
  const lists = sorted.every(({ words }) => words.length < 2);
  return sorted.map(({ book, words }) => {
    if (words.length === 0) return book;
    if (lists) return { ...book, list: words[0] ?? '' };
    const said = `Keywords: ${words.join(', ')}.`;
    return { ...book, note: book.note ? `${book.note} ${said}` : said };
  });
}
