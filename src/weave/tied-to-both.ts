import type { HeadingId, Journal } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';

/** How many entries are tied to both of two headings. */
export function tiedToBoth(journal: Journal, one: HeadingId, other: HeadingId): number {
  const [a, b] = [entriesTiedTo(journal, one), entriesTiedTo(journal, other)];
  const [few, many] = a.size < b.size ? [a, b] : [b, a];
  let both = 0;
  for (const id of few) if (many.has(id)) both += 1;
  return both;
}
