/**
 * One row out of several: what was set apart on two devices for one field, and what stands in a document as two rows
 * under one id. Prose and lists keep both sides; of what can only be one thing one side is chosen, the
 * same on every device.
 */
import { setOwn } from '../journal/rebase';
import type { TableName } from '../journal/records';
import { stableText } from '../language/fingerprint';
import { saysWhole } from './text-merge';

export type Row = Record<string, unknown> & { id: string };

/** Fields in which a reader writes sentences: two wordings are both kept, one under the other. */
const PROSE: ReadonlySet<string> = new Set(
  ['text', 'title', 'answer', 'note', 'objective', 'hint'].concat([
    'preparation',
    'object',
    'idea',
  ]),
);
/** Records whose fields are prose and lists, joined field by field. */
const JOINED: ReadonlySet<string> = new Set(['lesson']);
type Fields = Record<string, unknown>;

/** Lists of records that are joined one by one, and by what each is known again: items of a meeting by their entry or their words. */
const PAIRED: ReadonlyMap<string, (member: Fields) => unknown> = new Map([
  ['items', ({ entry, text }: Fields) => (entry === undefined ? { text } : { entry })],
  ['prompts', ({ id }: Fields) => id],
  ['chapters', ({ name, page }: Fields) => ({ name, page })],
]);

const isRecord = (value: unknown): value is Fields =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const isRecords = (value: unknown): value is Fields[] =>
  Array.isArray(value) && value.every(isRecord);
const isList = (value: unknown): value is unknown[] =>
  Array.isArray(value) && value.every((member) => typeof member !== 'object');

/** The value of a field that has several, given in an order that is the same everywhere. */
export function settle(name: string, values: readonly unknown[]): unknown {
  const [first, ...others] = values;
  return others.reduce((kept, other) => settleTwo(name, kept, other), first);
}

function settleTwo(name: string, one: unknown, other: unknown): unknown {
  if (typeof one === 'string' && typeof other === 'string') {
    if (name === 'changed') return one > other ? one : other;
    if (name === 'added' || name === 'made') return one < other ? one : other;
    return PROSE.has(name) ? bothWordings(one, other, name === 'title' ? ' / ' : '\n\n') : other;
  }
  const known = PAIRED.get(name);
  if (known && isRecords(one) && isRecords(other)) return inOrder(joinMembers(one, other, known));
  if (isList(one) && isList(other))
    return [...one, ...other.filter((member) => !one.includes(member))];
  if (JOINED.has(name) && isRecord(one) && isRecord(other)) return joinRecords(one, other);
  // A mark set on either device stands.
  return name === 'used' && one === true ? one : (other ?? one);
}

function bothWordings(one: string, other: string, between: string): string {
  if (saysWhole(one, other)) return one;
  if (saysWhole(other, one)) return other;
  // In the same order whichever device joins them, or each exchange would put them beside each other anew.
  return one < other ? one + between + other : other + between + one;
}

/** Each member with its like on the other side; those that have none stand at the end. */
function joinMembers(
  one: readonly Fields[],
  other: readonly Fields[],
  known: (member: Fields) => unknown,
): Fields[] {
  const left = membersByKey(one, known);
  const joined = [...membersByKey(other, known)].map(([key, member]) => {
    const like = left.get(key);
    left.delete(key);
    return like ? joinRecords(like, member) : member;
  });
  return [...joined, ...left.values()];
}

/** Of several alike, each by its turn. */
function membersByKey(
  members: readonly Fields[],
  known: (member: Fields) => unknown,
): Map<string, Fields> {
  const out = new Map<string, Fields>();
  for (const member of members) {
    let key = stableText(known(member) ?? null);
    while (out.has(key)) key += '+';
    out.set(key, member);
  }
  return out;
}

/** Members that all stand on a page, as chapters do, by their pages. */
const inOrder = (members: Fields[]): Fields[] =>
  members.every(({ page }) => typeof page === 'number')
    ? members.sort((a, b) => (a['page'] as number) - (b['page'] as number))
    : members;

function joinRecords(one: Fields, other: Fields): Fields {
  const out = { ...one };
  for (const [name, value] of Object.entries(other)) {
    setOwn(out, name, Object.hasOwn(one, name) ? settleTwo(name, one[name], value) : value);
  }
  return out;
}

/** Rows that stand for the same thing made one, field by field. */
export function joinRows(rows: readonly [Row, ...Row[]], table: TableName): Row {
  const [first] = rows;
  const out: Row = { id: first.id };
  for (const name of new Set(rows.flatMap((row) => Object.keys(row)))) {
    if (name === 'id' || name === 'ties') continue;
    const values = rows.flatMap((row) => (Object.hasOwn(row, name) ? [row[name]] : []));
    setOwn(out, name, settle(name, values));
  }
  if (table === 'entries') out['ties'] = joinTies(rows);
  if (table === 'headings')
    keepNames(
      out,
      rows.map((row) => row['name']),
    );
  return out;
}

function joinTies(rows: readonly Row[]): unknown[] {
  const ties = new Map<string, unknown>();
  for (const row of rows) {
    for (const tie of row['ties'] as { heading: string; role: string; place?: unknown }[]) {
      const key = stableText([tie.heading, tie.role, tie.place ?? null]);
      if (!ties.has(key)) ties.set(key, tie);
    }
  }
  return [...ties.values()];
}

/** A heading that was given several names keeps those that did not win as alternates. */
export function keepNames(heading: Row, names: readonly unknown[]): void {
  const known = (heading['alternates'] ?? []) as unknown[];
  const lost = names.filter(
    (name) => name !== undefined && name !== heading['name'] && !known.includes(name),
  );
  if (lost.length > 0) heading['alternates'] = [...known, ...new Set(lost)];
}
