/** The orders found entries can stand in. Each is whole: no two entries are equal in it. */
import type { HeadingId } from '../journal/records';
import type { Facts } from './documents';
import type { Order } from './query';
import type { Matches } from './word-scores';

/** What orders look at, by document. */
interface Ordered {
  factsOf: (doc: number) => Facts;
  /** ISO day an entry was written, or nothing. */
  whens: readonly string[];
  titleOf: (book: HeadingId) => string | undefined;
  /** Books that were chosen to narrow by: an entry of several stands in the first of these, or else in its own first. */
  chosen: readonly HeadingId[];
}

/** Less than 0 where the first document stands before the second. */
export function orderOf(
  order: Order,
  { tier, score }: Matches,
  { factsOf, whens, titleOf, chosen }: Ordered,
): (a: number, b: number) => number {
  const later = (a: string, b: string, one: number, other: number): number =>
    a === b ? (factsOf(one).id < factsOf(other).id ? 1 : -1) : a < b ? 1 : -1;
  const newest = (a: number, b: number): number => later(whens[a]!, whens[b]!, a, b);
  switch (order) {
    case 'written':
      return newest;
    case 'added':
      return (a, b) => later(factsOf(a).added, factsOf(b).added, a, b);
    case 'place':
      return byPlace(factsOf, (id) => (id && titleOf(id)) || '\uffff', chosen);
    default:
      return (a, b) => tier[a]! - tier[b]! || score[b]! - score[a]! || newest(a, b);
  }
}

function byPlace(
  factsOf: Ordered['factsOf'],
  titleOf: (id: HeadingId | undefined) => string,
  chosen: readonly HeadingId[],
): (a: number, b: number) => number {
  const bookOf = ({ books }: Facts): number =>
    Math.max(
      0,
      books.findIndex((id) => chosen.includes(id)),
    );
  return (a, b) => {
    const [x, y] = [factsOf(a), factsOf(b)];
    const [i, j] = [bookOf(x), bookOf(y)];
    const [p, q] = [titleOf(x.books[i]), titleOf(y.books[j])];
    if (p !== q) return p < q ? -1 : 1;
    const [m, n] = [x.places[i] ?? Infinity, y.places[j] ?? Infinity];
    return m === n ? (x.id < y.id ? -1 : 1) : m - n;
  };
}
