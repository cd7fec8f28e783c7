import type { HeadingKind } from '../journal/records';
import initialArticles from '../../shared/initial-articles.json';
import { fold } from './tokens';

export interface FilingOptions {
  /** BCP 47 tag of the title's language, "en" if not given. Articles are dropped only in that language. */
  language?: string;
  /** Titles lose an initial article; names of people and places keep theirs (El Paso under E). A title if not given. */
  kind?: 'title' | 'name';
  /** What the reader files it under, taken as it is. */
  filing?: string;
}

/** Digits a number is padded to, so that 9 files before 12. */
const NUMBER_WIDTH = 15;
const ARTICLES: Readonly<Record<string, readonly string[]>> = initialArticles.articles;

/**
 * The key a heading files by; compare keys with `compareFiling`.
 *
 * Word by word, nothing before something; hyphens as spaces; diacritics ignored; abbreviations as written; digits before
 * letters, numbers by value. Source: Library of Congress, Subject Cataloging Manual: Shelflisting G 100 and Classification
 * F 60; initial articles: US Copyright Office, Compendium (3rd), 2309.13(A)(1).
 */
export function filingKey(name: string, options: FilingOptions = {}): string {
  const { language = 'en', kind = 'title', filing } = options;
  const filed = filing?.trim() || (kind === 'title' ? withoutArticle(name, language) : name);
  const words = filingWords(filed);
  return words ? words.replace(/\d+/g, paddedNumber) : fold(filed).trim();
}

/** Order of two filing keys: negative when `a` files first. */
export function compareFiling(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/**
 * A key by which two names are the same heading: folded, without punctuation, `&` as "and", without the initial article of
 * a title or theme, and with a person's inverted name turned round ("Lewis, C. S." is "C.S. Lewis").
 */
export function nameKey(name: string, kind: HeadingKind, language = 'en'): string {
  const plain = kind === 'person' ? turnedRound(name) : withoutArticle(name, language);
  const words = filingWords(plain.replace(/&/g, ' and '));
  return words || fold(name).trim();
}

/** A title without its initial article in `language`; a title that is nothing but an article stays whole. */
export function withoutArticle(title: string, language = 'en'): string {
  const trimmed = title.trim().replace(/^[\p{Ps}\p{Pi}"'\s]+(?=\p{L})/u, '');
  const primary = language.toLowerCase().split('-')[0] ?? '';
  const lower = trimmed.toLowerCase().replace(/[’ʼ]/g, "'");
  for (const article of Object.hasOwn(ARTICLES, primary) ? (ARTICLES[primary] ?? []) : []) {
    if (!lower.startsWith(article)) continue;
    const rest = trimmed.slice(article.length);
    // An elided article (l') touches its noun; any other is a word of its own, so "A-Z" and "A. A." keep their A.
    const parted = article.endsWith("'") ? /^\s*[\p{L}\p{N}]/u : /^\s+[^\s]/u;
    if (parted.test(rest)) return rest.trim();
  }
  return title.trim();
}

/** Folded words parted by single spaces; apostrophes vanish, every other mark parts words. */
function filingWords(text: string): string {
  return fold(text)
    .replace(/'/g, '')
    .replace(/(?<=\d),(?=\d{3}(?!\d))/g, '')
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
}

function paddedNumber(digits: string): string {
  return digits.replace(/^0+(?=\d)/, '').padStart(NUMBER_WIDTH, '0');
}

/** "Lewis, C. S." → "C. S. Lewis"; a name with no comma, or with a title or suffix after it, stays. */
function turnedRound(name: string): string {
  const parts = name.split(',');
  const [family, given] = parts;
  if (parts.length !== 2 || !family?.trim() || !given?.trim()) return name;
  if (/^\s*(?:jr|sr|junior|senior|esq|phd|md|[ivx]+)\.?\s*$/i.test(given)) return name;
  return `${given.trim()} ${family.trim()}`;
}
