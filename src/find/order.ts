/** The orders found entries can stand in. Each is whole: no two entries are equal in it. */
import { compareKeys, placeKey, type PlaceKey } from '../journal/place-order';
import type { Heading, HeadingId } from '../journal/records';
import type { Facts } from './documents';
import type { Order } from './query';
import type { Matches } from './word-scores';

/** What orders look at, by document. */
interface Ordered {
  factsOf: (doc: number) => Facts;
  /** ISO day an entry was written, or nothing. */
  whens: readonly string[];
  headingOf: (book: HeadingId) => Heading | undefined;
  /** Books that were chosen to narrow by: an entry of several stands in the first of these, or else in its own first. */
  chosen: readonly HeadingId[];
}

/** Less than 0 where the first document stands before the second. */
export function orderOf(
  order: Order,
  { tier, score }: Matches,
  ordered: Ordered,
): (a: number, b: number) => number {
  const { factsOf, whens } = ordered;
  const later = (a: string, b: string, one: number, other: number): number =>
    a === b ? (factsOf(one).id < factsOf(other).id ? 1 : -1) : a < b ? 1 : -1;
  const newest = (a: number, b: number): number => later(whens[a]!, whens[b]!, a, b);
  switch (order) {
    case 'written':
      return newest;
    case 'added':
      return (a, b) => later(factsOf(a).added, factsOf(b).added, a, b);
    case 'place':
      return byPlace(ordered);
    default:
      return (a, b) => tier[a]! - tier[b]! || score[b]! - score[a]! || newest(a, b);
  }
}

/** By the names of books, and in each as it goes; what is in no book last. */
function byPlace({ factsOf, headingOf, chosen }: Ordered): (a: number, b: number) => number {
  const chosenOf = ({ books }: Facts): number =>
    Math.max(
      0,
      books.findIndex((id) => chosen.includes(id)),
    );
  const titleOf = (id: HeadingId | undefined): string => (id && headingOf(id)?.name) || '\uffff';
  return (a, b) => {
    const [x, y] = [factsOf(a), factsOf(b)];
    const [i, j] = [chosenOf(x), chosenOf(y)];
    const [one, other] = [x.books[i], y.books[j]];
    if (one !== other) {
      const [p, q] = [titleOf(one), titleOf(other)];
      if (p !== q) return p < q ? -1 : 1;
      // Two books may have one name.
      return (one ?? '') < (other ?? '') ? -1 : 1;
    }
    const book = one && headingOf(one);
    const keyOf = (facts: Facts, at: number): PlaceKey => placeKeyOf(facts, at, book);
    return compareKeys(keyOf(x, i), keyOf(y, j)) || (x.id < y.id ? -1 : 1);
  };
}

function placeKeyOf({ places, placeKeys }: Facts, at: number, book: Heading | undefined): PlaceKey {
  return (placeKeys[at] ??= placeKey(places[at], book?.kind === 'book' ? book : undefined));
}
