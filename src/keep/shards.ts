/**
 * Which document a row lives in, told from its id alone, so that every device puts it in the same one.
 * Entries go by the month of their id; a busy month rolls over into further documents by the number that
 * {@link rolledId} writes into the id. Every other table has a document of its own.
 */
import type { TableName } from '../journal/records';

/** A month rolls over when its newest document holds about this many entries. */
export const ROLL_AT = 500;
/** Documents a month at the most, whatever ids made elsewhere carry. */
export const ROLLS = 16;
/** Ids that tell no time, or one no reader can have written in, share this many documents in all. */
const NO_MONTH = 'entries-0000-00';
const [FIRST_YEAR, LAST_YEAR] = [1970, 2199];

const UUID_V7 =
  /^([0-9a-f]{8})-([0-9a-f]{4})-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{11}([0-9a-f])$/i;

/** Milliseconds since 1970 in a UUIDv7 (RFC 9562, the first 48 bits), or undefined for another id. */
export function idTime(id: string): number | undefined {
  const found = UUID_V7.exec(id);
  return found ? Number.parseInt(found[1]! + found[2]!, 16) : undefined;
}

/** "entries-2026-11", or one name for all ids without a month. */
export function monthOf(id: string): string {
  const time = idTime(id);
  if (time === undefined) return NO_MONTH;
  const at = new Date(time);
  const year = at.getUTCFullYear();
  return year >= FIRST_YEAR && year <= LAST_YEAR
    ? `entries-${at.toISOString().slice(0, 7)}`
    : NO_MONTH;
}

export const rolled = (month: string, roll: number): string =>
  `${month}-${String(roll).padStart(2, '0')}`;

export function shardOf(table: TableName, id: string): string {
  if (table !== 'entries') return `base-${table}`;
  const last = UUID_V7.exec(id)?.[3];
  return rolled(monthOf(id), last === undefined ? spread(id) : Number.parseInt(last, 16));
}

/** Any number of odd ids over {@link ROLLS} documents, the same everywhere. */
function spread(id: string): number {
  let sum = 0;
  for (let at = 0; at < id.length; at++) sum = (Math.imul(sum, 31) + id.charCodeAt(at)) >>> 0;
  return ((sum ^ (sum >>> 16)) >>> 0) % ROLLS;
}

/**
 * The same id with the number of its document, 0 to 15, in the last digit. The last bits of a UUIDv7 are random (RFC 9562,
 * section 5.7), so ids still rise in the order they were made.
 */
export function rolledId(id: string, roll: number): string {
  return UUID_V7.test(id) ? id.slice(0, -1) + (roll % ROLLS).toString(16) : id;
}

/** Small tables first (headings before all), then entries with the newest month first. */
export function loadingOrder(shards: readonly string[]): string[] {
  const base = (shard: string): boolean => shard.startsWith('base-');
  const first = (shard: string): number =>
    shard.startsWith('base-headings') ? 0 : base(shard) ? 1 : 2;
  return [...shards].sort(
    (a, b) => first(a) - first(b) || (base(a) ? (a < b ? -1 : 1) : a < b ? 1 : -1),
  );
}

export const tableOf = (shard: string): TableName =>
  (shard.startsWith('base-') ? shard.slice('base-'.length) : 'entries') as TableName;

/** A document whose first part cannot be read goes on in a part beside it: "base-guides", "base-guides~", … */
export const besides = (part: string): string => `${part}~`;
export const shardOfPart = (part: string): string => part.replace(/~+$/, '');
