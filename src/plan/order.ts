/**
 * The order of items inside a part: levels rise, places in a book go forward, a quotation stands before the
 * question about it (same book and place), and what was placed by hand keeps its position.
 */
import { LEVELS } from '../journal/records';
import type { Candidate } from './worth';

/** Where an item with no level stands among levels: a telling with understanding, an activity with applying. */
const WITHOUT_LEVEL = {
  note: 1,
  quote: 1,
  question: 1.5,
  lesson: 2,
  assignment: LEVELS.length,
} as const;

function heightOf({ kind, level }: Candidate): number {
  return level ? LEVELS.indexOf(level) : WITHOUT_LEVEL[kind];
}

const bookOf = (candidate: Candidate): string => candidate.books[0] ?? '';
const samePlace = (a: Candidate, b: Candidate): boolean =>
  a.place !== undefined && a.place === b.place && bookOf(a) !== '' && bookOf(a) === bookOf(b);

/** Lower levels first; then book by book, each from its beginning; then the more relevant; then by id. */
function compare(a: Candidate, b: Candidate): number {
  return (
    heightOf(a) - heightOf(b) ||
    (bookOf(a) < bookOf(b) ? -1 : bookOf(a) > bookOf(b) ? 1 : 0) ||
    (a.place ?? Infinity) - (b.place ?? Infinity) ||
    b.relevance - a.relevance ||
    (a.id < b.id ? -1 : 1)
  );
}

/** The items of one part in the order to use them. Pure, and the same whatever order they came in. */
export function inOrder(items: readonly Candidate[]): Candidate[] {
  const movable = items.filter(({ fixed }) => !fixed).sort(compare);
  const passages = movable.filter(({ kind, level }) => kind === 'quote' && level === undefined);
  const ordered = movable.filter((item) => !passages.includes(item));
  for (const passage of passages) ordered.splice(positionFor(passage, ordered), 0, passage);
  return withFixed(ordered, items);
}

/**
 * A passage goes before the first question about it; else before the first later place of its book; else after the
 * last place of its book; else to the front, since passages of a part come before talk beyond them.
 */
function positionFor(passage: Candidate, ordered: readonly Candidate[]): number {
  const about = ordered.findIndex((item) => item.kind === 'question' && samePlace(item, passage));
  if (about >= 0) return about;
  const ofBook = (item: Candidate): boolean =>
    bookOf(item) !== '' && bookOf(item) === bookOf(passage);
  const passed = ordered.filter((item) => item.kind === 'quote' && !ofBook(item)).length;
  if (passage.place === undefined) return Math.min(passed, ordered.length);
  const later = ordered.findIndex(
    (item) => ofBook(item) && item.place !== undefined && item.place > passage.place!,
  );
  if (later >= 0) return later;
  const last = ordered.findLastIndex((item) => ofBook(item) && item.place !== undefined);
  return last >= 0 ? last + 1 : Math.min(passed, ordered.length);
}

/** Puts items placed by hand back at their positions, or at the end where the part has become shorter. */
function withFixed(ordered: Candidate[], items: readonly Candidate[]): Candidate[] {
  const fixed = items
    .filter((item) => item.fixed)
    .sort((a, b) => a.fixed!.position - b.fixed!.position || (a.id < b.id ? -1 : 1));
  const all = [...ordered];
  for (const item of fixed) all.splice(Math.min(item.fixed!.position, all.length), 0, item);
  return moveQuotesForward(all);
}

/** A free quotation that a fixed item pushed behind the question about it is moved before that question. */
function moveQuotesForward(items: Candidate[]): Candidate[] {
  const hasFixed = items.some(({ fixed }) => fixed);
  if (!hasFixed) return items;
  const free = items.filter(({ fixed }) => !fixed);
  const slots = items.flatMap((item, index) => (item.fixed ? [] : [index]));
  for (let index = 0; index < free.length; index += 1) {
    const quote = free[index]!;
    if (quote.kind !== 'quote') continue;
    const about = items.findIndex((item) => item.kind === 'question' && samePlace(item, quote));
    if (about < 0) continue;
    const before = slots.findLastIndex((slot) => slot < about);
    if (before >= 0 && slots[index]! > about) free.splice(before, 0, ...free.splice(index, 1));
  }
  const result = [...items];
  slots.forEach((slot, index) => (result[slot] = free[index]!));
  return result;
}
