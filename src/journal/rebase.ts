/** An edit made from an older row brought onto the row as it stands now, so that neither change is lost. */
import type { Records, TableName, Tie } from './records';
import { ownValue, same } from './same';
import { tieKey } from './ties';

/** Fields that are sets of things: each member that was added or taken out is followed by itself. */
const SETS: ReadonlySet<string> = new Set(
  ['ties', 'alternates', 'authors', 'broader', 'related', 'books', 'roles', 'flags'].concat([
    'cautions',
    'days',
    'refused',
  ]),
);

/** Records within a row that are followed field by field like the row itself. */
const JOINED: ReadonlySet<string> = new Set(['lesson']);

/** `current` with what changed from `before` to `after`: only fields that differ between those two are touched. */
export function rebase<T extends TableName>(
  current: Records[T],
  before: Records[T] | undefined,
  after: Records[T],
): Records[T] {
  return current === before ? after : (fieldsOnto(current, before ?? {}, after) as Records[T]);
}

function fieldsOnto(current: object, earlier: object, after: object): object {
  const result = { ...current } as Record<string, unknown>;
  for (const key of new Set([...Object.keys(earlier), ...Object.keys(after)])) {
    const was = ownValue(earlier, key);
    const becomes = ownValue(after, key);
    if (same(was, becomes)) continue;
    const now = ownValue(current, key);
    if (SETS.has(key) && !same(now, was) && Array.isArray(now)) {
      setOwn(result, key, mergedSet(key, now, listOf(was), listOf(becomes)));
    } else if (JOINED.has(key) && isRecord(was) && isRecord(now) && isRecord(becomes)) {
      setOwn(result, key, fieldsOnto(now, was, becomes));
    } else if (becomes === undefined) delete result[key];
    else setOwn(result, key, becomes);
  }
  return result;
}

const isRecord = (value: unknown): value is object => typeof value === 'object' && value !== null;
const listOf = (value: unknown): unknown[] => (Array.isArray(value) ? value : []);

/** Sets a field of the record itself whatever its name, even one that means something to the language. */
export function setOwn(row: object, key: string, value: unknown): void {
  Object.defineProperty(row, key, { value, writable: true, enumerable: true, configurable: true });
}

function mergedSet(field: string, now: unknown[], was: unknown[], becomes: unknown[]): unknown[] {
  const keyOf = (member: unknown): string =>
    field === 'ties' ? tieKey(member as Tie) : JSON.stringify(member);
  const before = new Set(was.map(keyOf));
  const after = new Map(becomes.map((member) => [keyOf(member), member]));
  const kept = now.flatMap((member) => {
    const key = keyOf(member);
    if (after.has(key)) {
      const wanted = after.get(key);
      return [was.some((old) => same(old, wanted)) ? member : wanted];
    }
    return before.has(key) ? [] : [member];
  });
  const here = new Set(kept.map(keyOf));
  const added = becomes.filter((member) => !before.has(keyOf(member)) && !here.has(keyOf(member)));
  const merged = [...kept, ...added];
  return field === 'books' ? laidInOrder(merged, was, becomes) : merged;
}

/** Members of both earlier lists in the places that they hold, in the order they were laid in, where that was altered. */
function laidInOrder(members: unknown[], was: unknown[], becomes: unknown[]): unknown[] {
  const held = (lists: unknown[][], list: unknown[]): unknown[] =>
    list.filter((member) => lists.every((each) => each.includes(member)));
  const [before, after] = [held([becomes, members], was), held([was, members], becomes)];
  if (same(before, after)) return members;
  const moved = new Set(after);
  let at = 0;
  return members.map((member) => (moved.has(member) ? after[at++] : member));
}
