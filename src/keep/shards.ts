/**
 * Which document a row lives in, told from its id alone, so that every device puts it in the same one.
 * Entries go by the month of their id; a busy month rolls over into further documents by the number that
 * {@link rolledId} writes into the id. Every other table has a document of its own.
 */
import type { TableName } from '../journal/records';

/** A month rolls over when its newest document holds about this many entries. */
export const ROLL_AT = 500;
/** Ids made elsewhere may carry any number here; this many documents a month at the most. */
const ROLLS = 16;

const UUID_V7 = /^([0-9a-f]{8})-([0-9a-f]{4})-7([0-9a-f]{3})-/i;

/** Milliseconds since 1970 in a UUIDv7 (RFC 9562, the first 48 bits), or undefined for another id. */
export function idTime(id: string): number | undefined {
  const found = UUID_V7.exec(id);
  return found ? Number.parseInt(found[1]! + found[2]!, 16) : undefined;
}

export function shardOf(table: TableName, id: string): string {
  if (table !== 'entries') return `base-${table}`;
  const time = idTime(id);
  if (time === undefined) return 'entries-0000-00-00';
  const month = new Date(time).toISOString().slice(0, 7);
  const roll = Number.parseInt(UUID_V7.exec(id)![3]!, 16) % ROLLS;
  return `entries-${month}-${String(roll).padStart(2, '0')}`;
}

/** The same id with the roll-over number in the 12 bits after the version (free for a counter, RFC 9562 6.2). */
export function rolledId(id: string, roll: number): string {
  return id.replace(
    UUID_V7,
    (_, a: string, b: string) => `${a}-${b}-7${(roll % ROLLS).toString(16).padStart(3, '0')}-`,
  );
}

/** Small tables first (headings before all), then entries with the newest month first. */
export function loadingOrder(shards: string[]): string[] {
  const base = (shard: string): boolean => shard.startsWith('base-');
  const first = (shard: string): number =>
    shard.startsWith('base-headings') ? 0 : base(shard) ? 1 : 2;
  return [...shards].sort(
    (a, b) => first(a) - first(b) || (base(a) ? (a < b ? -1 : 1) : a < b ? 1 : -1),
  );
}

export const tableOf = (shard: string): TableName =>
  (shard.startsWith('base-') ? shard.slice(5).replace(/~+$/, '') : 'entries') as TableName;
