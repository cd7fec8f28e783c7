/**
 * Which document a row lives in, told from its id alone, so that every device puts it in the same one.
 * Entries go by the month of their id; a busy month rolls over into further documents by the number that
 * {@link rolledId} writes into the id. Ids of another make go by their year. Every other table has a document of its own.
 */
import type { TableName } from '../journal/records';

/** A month rolls over when its newest document holds about this many entries. */
export const ROLL_AT = 500;
/** Documents a month at the most, and for ids of another make a year. */
export const ROLLS = 16;
/** Ids that tell no time, or one no reader can have written in, share {@link ROLLS} documents in all. */
const NO_TIME = 'entries-0000-xx';
const [FIRST_YEAR, LAST_YEAR] = [1970, 2199];

const UUID_V7 = /^([0-9a-f]{8})-([0-9a-f]{4})-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;
/** The last digits of an id that names its document: two that check the others, and the number. */
const TAIL = 3;

/** Milliseconds since 1970 in a UUIDv7 (RFC 9562, the first 48 bits), or undefined for another id. */
export function idTime(id: string): number | undefined {
  const found = UUID_V7.exec(id);
  return found ? Number.parseInt(found[1]! + found[2]!, 16) : undefined;
}

/** The documents an id may go to, but for their number: "entries-2026-11", of another make "entries-2026-xx". */
export function monthOf(id: string): string {
  const time = idTime(id);
  if (time === undefined) return NO_TIME;
  const at = new Date(time);
  const year = at.getUTCFullYear();
  if (year < FIRST_YEAR || year > LAST_YEAR) return NO_TIME;
  return `entries-${namesDocument(id) ? at.toISOString().slice(0, 7) : `${year}-xx`}`;
}

export const rolled = (month: string, roll: number): string =>
  `${month}-${String(roll).padStart(2, '0')}`;

export function shardOf(table: TableName, id: string): string {
  if (table !== 'entries') return `base-${table}`;
  const month = monthOf(id);
  const own = month !== NO_TIME && namesDocument(id);
  return rolled(month, own ? Number.parseInt(id.slice(-1), 16) : sumOf(id) % ROLLS);
}

/** A sum of an id's characters that spreads ids evenly, the same everywhere. */
function sumOf(id: string): number {
  let sum = 0;
  for (let at = 0; at < id.length; at++) sum = (Math.imul(sum, 31) + id.charCodeAt(at)) >>> 0;
  return (sum ^ (sum >>> 16)) >>> 0;
}

const check = (id: string): string =>
  (sumOf(id.slice(0, -TAIL)) % 256).toString(16).padStart(2, '0');
/** Whether an id was made by {@link rolledId}; one in 256 of another make looks so, which does no harm. */
const namesDocument = (id: string): boolean => id.slice(-TAIL, -1) === check(id);

/**
 * The same id with the number of its document, 0 to 15, in the last digits. The last bits of a UUIDv7 are random (RFC 9562,
 * section 5.7), so ids still rise in the order they were made.
 */
export function rolledId(id: string, roll: number): string {
  if (!UUID_V7.test(id)) return id;
  return id.slice(0, -TAIL) + check(id) + (roll % ROLLS).toString(16);
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

/** Whether a name is that of a document, and not of something else that lies aside. */
export const isShard = (name: string): boolean => /^(base|entries)-/.test(name);

/** A document whose first part cannot be read goes on in a part beside it: "base-guides", "base-guides~", … */
export const besides = (part: string): string => `${part}~`;
export const shardOfPart = (part: string): string => part.replace(/~+$/, '');
