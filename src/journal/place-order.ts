/** The order of places in a book, by figures in either script. */
import type { BookHeading, Place } from './records';

const ROMAN: Readonly<Record<string, number>> = {
  i: 1,
  v: 5,
  x: 10,
  l: 50,
  c: 100,
  d: 500,
  m: 1000,
};

/** The number a text begins with, in arabic or roman figures: "61-63" is 61, "xii" is 12. */
export function figureOf(text: string | undefined): { value: number; roman: boolean } | undefined {
  // Figures alone are the most of them, and far sooner told.
  if (text && /^\d{1,9}$/.test(text)) return { value: Number(text), roman: false };
  const first = /^\s*(\d{1,9}|[ivxlcdm]+)(?![\p{L}\d])/iu.exec(text ?? '')?.[1];
  if (first === undefined) return undefined;
  if (/^\d/.test(first)) return { value: Number(first), roman: false };
  const letters = [...first.toLowerCase()].map((letter) => ROMAN[letter] ?? 0);
  const value = letters.reduce(
    (sum, each, at) => sum + (each < (letters[at + 1] ?? 0) ? -each : each),
    0,
  );
  return { value, roman: true };
}

/** Whether a chapter is told by its number, or a run of numbers, and not by a name that may begin with one. */
export const isNumbered = (chapter: string): boolean =>
  /^\s*(?:\d+|[ivxlcdm]+)(?:\s*[–-]\s*(?:\d+|[ivxlcdm]+))?\.?\s*$/i.test(chapter);

/** A word for what the figures count: "ch. 3" and "Chapter 3: The Moor" are told by the number. */
const CHAPTER_WORD = /^ch(?:ap(?:ter)?)?s?(?![\p{L}])\.?\s*/iu;
const PAGE_WORD = /^\s*(?:pp?|pages?)(?![\p{L}])\.?\s*/iu;
/** As wide as figures are filled up with noughts, so that 2 stands before 10. */
const WIDEST = 9;

/** Figures have nine digits at most: a number times this and figures are told apart in one. */
const FIGURES = 1e10;

/** Where a place stands in its book: its chapter, its page, and a name where these do not tell; see {@link placeKey}. */
export interface PlaceKey {
  chapter: number;
  page: number;
  name: string;
}

/**
 * Chapters by number, a chapter of a name by where the book lists it; in a chapter pages rise, those in roman figures
 * first. Then what only the page tells: chapters no list knows, and pages alone. Then such chapters without a page by
 * their names, pages without figures, and last what has no place.
 */
export function placeKey(place: Place | undefined, book?: Pick<BookHeading, 'chapters'>): PlaceKey {
  const chapter = place?.chapter?.trim();
  const figures = pageOf(place?.page);
  const page = figures ? (figures.roman ? 0 : FIGURES) + figures.value : 2 * FIGURES;
  const number = chapter ? chapterNumber(chapter, book) : undefined;
  if (number !== undefined) return { chapter: number, page, name: '' };
  const name = chapter?.replace(/\d+/g, (digits) => digits.padStart(WIDEST, '0')) ?? '';
  const after = figures ? 1 : chapter ? 2 : place?.page ? 3 : 4;
  return { chapter: after * FIGURES, page, name };
}

/** Negative where `a` comes first, 0 where the two are as good as one. */
export function compareKeys(a: PlaceKey, b: PlaceKey): number {
  if (a.chapter !== b.chapter) return a.chapter - b.chapter;
  if (a.page !== b.page) return a.page - b.page;
  return a.name === b.name ? 0 : a.name < b.name ? -1 : 1;
}

/** Negative where `a` comes first in the book; see {@link placeKey}. */
export const comparePlaces = (
  a: Place | undefined,
  b: Place | undefined,
  book?: Pick<BookHeading, 'chapters'>,
): number => compareKeys(placeKey(a, book), placeKey(b, book));

/** From 1 in the book's own list; otherwise as it is counted, where it is. */
function chapterNumber(
  chapter: string,
  book: Pick<BookHeading, 'chapters'> | undefined,
): number | undefined {
  const listed = book?.chapters?.findIndex(({ name }) => name?.trim() === chapter) ?? -1;
  if (listed >= 0) return listed + 1;
  const counted = chapter.replace(CHAPTER_WORD, '');
  return counted !== chapter || isNumbered(chapter) ? figureOf(counted)?.value : undefined;
}

/** "p. xii" is 12 and "31v" is 31. */
function pageOf(page: string | undefined): ReturnType<typeof figureOf> {
  if (!page) return undefined;
  const begun = figureOf(page) ?? figureOf(page.replace(PAGE_WORD, ''));
  if (begun) return begun;
  const digits = /\d{1,9}/.exec(page);
  return digits ? { value: Number(digits[0]), roman: false } : undefined;
}
