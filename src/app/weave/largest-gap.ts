import type { ClothView } from '../../engine/weave-answers';
import { KINDS, QUARTERS, quartersOf, type Quarter } from './cloth-lay';

/** The crossing with most entries, of those that lack what is looked for where there are any; by the ids of its threads. Where nothing crosses, the first two threads; none where there are no two. */
export function largestGap(
  cloth: ClothView,
  mark: Quarter | undefined,
): { what: 'knot'; book: string; theme: string } | undefined {
  let [best, most] = [-1, -1];
  let [theme, found] = [0, 0];
  for (let knot = 0; knot < cloth.at.length; knot++) {
    while (knot >= cloth.starts[theme + 1]!) theme += 1;
    const quarters = quartersOf(cloth.counts, knot * KINDS);
    const total = quarters.reduce((sum, count) => sum + count, 0);
    const lacks = !mark || quarters[QUARTERS.indexOf(mark)] === 0;
    const worth = lacks ? total + 1_000_000 : total;
    if (worth > most) [best, most, found] = [knot, worth, theme];
  }
  const book = best < 0 ? cloth.books[0] : cloth.books[cloth.at[best]!];
  const flat = best < 0 ? cloth.themes[0] : cloth.themes[found];
  return book && flat && { what: 'knot', book: book.id, theme: flat.id };
}
