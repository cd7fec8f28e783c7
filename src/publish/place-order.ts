/** The order of places in a book, by figures in either script. */
import type { BookHeading, Place } from '../journal/records';

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

type Key = readonly (number | string)[];

/**
 * Negative where `a` comes first. Chapters by number, a chapter of a name by where the book lists it;
 * then chapters of other names, together; then what has a page alone; what has no place last. In a
 * chapter pages rise, those in roman figures first.
 */
export function comparePlaces(
  a: Place | undefined,
  b: Place | undefined,
  book?: Pick<BookHeading, 'chapters'>,
): number {
  const [left, right] = [keyOf(a, book), keyOf(b, book)];
  for (let at = 0; at < left.length; at += 1) {
    const [one, other] = [left[at]!, right[at]!];
    if (one !== other) return one < other ? -1 : 1;
  }
  return 0;
}

function keyOf(place: Place | undefined, book: Pick<BookHeading, 'chapters'> | undefined): Key {
  const chapter = place?.chapter?.trim();
  const page = figureOf(place?.page);
  const within = page ? [page.roman ? 0 : 1, page.value] : [2, 0];
  if (!chapter) return [place?.page ? 2 : 3, 0, '', ...within];
  const listed = book?.chapters?.findIndex(({ name }) => name?.trim() === chapter) ?? -1;
  const counted = isNumbered(chapter) ? figureOf(chapter)?.value : undefined;
  const number = listed >= 0 ? listed + 1 : counted;
  return number === undefined ? [1, 0, chapter, ...within] : [0, number, '', ...within];
}
