/** Rows as the screen holds them, from one look at the bench to the next. */
import type { BenchRow } from '../../engine/bench-types';

/** The list as it is now, of what has not changed the very things that are on the screen: they are not drawn anew. */
export function asHeld<T>(held: readonly T[], now: readonly T[], key: (one: T) => unknown): T[] {
  const before = new Map(held.map((one) => [key(one), one]));
  return now.map((one) => {
    const same = before.get(key(one));
    return same && JSON.stringify(same) === JSON.stringify(one) ? same : one;
  });
}

/** The row that comes next when one is settled: the next one that is left, else the one before. The lingering one is settled already. */
export function nextOf(
  rows: readonly BenchRow[],
  id: string | undefined,
  linger: string | undefined,
): string | undefined {
  const at = rows.findIndex((row) => row.id === id);
  const open = (row: BenchRow): boolean => row.id !== linger && row.id !== id;
  const after = rows.slice(at + 1).find(open);
  return (after ?? rows.slice(0, Math.max(at, 0)).reverse().find(open))?.id;
}
