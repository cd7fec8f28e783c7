import type { TieSaid } from '../../engine/answers';
import { comparePlaces } from '../../journal/place-order';
import type { HeadingId } from '../../journal/records';
import { placeSaid } from '../say';

/**
 * What a row says of its books: the name of one, of those chosen to narrow by where it is in any, its first place there,
 * and how many other books there are. As entries are ordered by place in the same book.
 */
export function shownBook(
  ties: readonly TieSaid[],
  chosen: readonly HeadingId[],
): { name?: string; place: string } {
  const books = ties.filter(({ kind }) => kind === 'book');
  const shown = books.find(({ heading }) => chosen.includes(heading)) ?? books[0];
  if (!shown) return { place: '' };
  const [first] = books
    .filter(({ heading }) => heading === shown.heading)
    .map(({ place }) => place)
    .sort((a, b) => comparePlaces(a, b));
  const more = new Set(books.map(({ heading }) => heading)).size - 1;
  const place = [placeSaid(first), more > 0 ? `and ${more} more` : ''].filter(Boolean).join(', ');
  return { name: shown.name, place };
}
