/**
 * Which copies a journal has in its past. Each copy saved out has an id, and goes on in every journal that was opened from
 * it or merged with it: the newest that two journals share tells what each has changed since they parted.
 */
import type { Journal } from '../journal/records';
import { idTime } from '../keep/shards';

/** A top-level field of the journal file; a version that does not know it keeps it all the same. */
const COPIES = 'copies';
/** So many are remembered, newest last. */
const REMEMBERED = 100;

/** Ids of the copies in the journal's past: UUIDv7, so that they sort by time. */
export function copiesOf({ unknown }: Pick<Journal, 'unknown'>): string[] {
  const copies = unknown?.[COPIES];
  if (!Array.isArray(copies)) return [];
  return copies.filter((id): id is string => typeof id === 'string' && idTime(id) !== undefined);
}

export function rememberCopies(journal: Journal, ids: readonly string[]): void {
  const copies = [...new Set([...copiesOf(journal), ...ids])].sort().slice(-REMEMBERED);
  if (copies.length > 0) journal.unknown = { ...journal.unknown, [COPIES]: copies };
}

/** ISO time at which two journals were last the same, or undefined where they share no copy. */
export function partedAt(one: Journal, other: Journal): string | undefined {
  const copies = new Set(copiesOf(one));
  const last = copiesOf(other)
    .filter((id) => copies.has(id))
    .sort()
    .at(-1);
  const time = last === undefined ? undefined : idTime(last);
  return time === undefined ? undefined : new Date(time).toISOString();
}
