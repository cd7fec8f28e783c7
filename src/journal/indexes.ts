/**
 * Who names whom in a journal, and what headings are called: built once for each journal when first asked for, and kept up
 * by `apply`. Rows put into the tables by other means are noticed when the number of rows changes; otherwise say
 * so with {@link forgetIndexes}.
 */
import { nameKey } from '../language/filing';
import {
  TABLES,
  type Heading,
  type HeadingId,
  type Journal,
  type Records,
  type TableName,
} from './records';
import { eachReference } from './references';

interface Indexes {
  /** "table id" of the row named, to the ids of the rows that name it, by table. */
  naming: Map<string, Map<TableName, Set<string>>>;
  /** Name keys, to the headings that have them as a name or an alternate. */
  names: Map<string, Set<HeadingId>>;
  rows: number;
}

const held = new WeakMap<Journal, Indexes>();
const NOBODY: ReadonlySet<string> = new Set();

export const forgetIndexes = (journal: Journal): void => void held.delete(journal);

const countRows = (journal: Journal): number =>
  TABLES.reduce((sum, table) => sum + journal.tables[table].size, 0);

function indexesOf(journal: Journal): Indexes {
  const known = held.get(journal);
  const rows = countRows(journal);
  if (known && known.rows === rows) return known;
  const indexes: Indexes = { naming: new Map(), names: new Map(), rows };
  for (const table of TABLES) {
    for (const row of journal.tables[table].values()) enter(indexes, table, row);
  }
  held.set(journal, indexes);
  return indexes;
}

function enter<T extends TableName>(indexes: Indexes, table: T, row: Records[T]): void {
  eachReference(table, row, ({ to, id }) => {
    const key = `${to} ${id}`;
    let tables = indexes.naming.get(key);
    if (!tables) indexes.naming.set(key, (tables = new Map()));
    const ids = tables.get(table);
    if (ids) ids.add(row.id);
    else tables.set(table, new Set([row.id]));
  });
  if (table !== 'headings') return;
  for (const key of nameKeys(row as Heading)) {
    const ids = indexes.names.get(key);
    if (ids) ids.add(row.id as HeadingId);
    else indexes.names.set(key, new Set([row.id as HeadingId]));
  }
}

function leave<T extends TableName>(indexes: Indexes, table: T, row: Records[T]): void {
  eachReference(table, row, ({ to, id }) => {
    const key = `${to} ${id}`;
    const tables = indexes.naming.get(key);
    const ids = tables?.get(table);
    ids?.delete(row.id);
    if (ids?.size === 0) tables?.delete(table);
    if (tables?.size === 0) indexes.naming.delete(key);
  });
  if (table !== 'headings') return;
  for (const key of nameKeys(row as Heading)) {
    const ids = indexes.names.get(key);
    ids?.delete(row.id as HeadingId);
    if (ids?.size === 0) indexes.names.delete(key);
  }
}

const nameKeys = ({ kind, name, alternates }: Heading): string[] =>
  [name, ...alternates].map((called) => `${kind} ${nameKey(called, kind)}`);

/** The rows about to be replaced leave the index (call before the tables change), and `enterRows` brings the new ones in. */
export function replaceRows(
  journal: Journal,
  changes: readonly { table: TableName; before?: Records[TableName]; after?: Records[TableName] }[],
  write: () => void,
): void {
  const indexes = held.get(journal);
  const current = indexes && indexes.rows === countRows(journal) ? indexes : undefined;
  if (!current) held.delete(journal);
  else for (const { table, before } of changes) if (before) leave(current, table, before as never);
  write();
  if (!current) return;
  for (const { table, after } of changes) if (after) enter(current, table, after as never);
  current.rows = countRows(journal);
}

/** The ids of the rows of `table` that name the row `id` of `to`, for reading only; it changes as the journal does. */
export function rowsNaming(
  journal: Journal,
  to: TableName,
  id: string,
  table: TableName,
): ReadonlySet<string> {
  return indexesOf(journal).naming.get(`${to} ${id}`)?.get(table) ?? NOBODY;
}

/** Every row that names the row `id` of `to`. */
export function allNaming(journal: Journal, to: TableName, id: string): [TableName, string][] {
  const tables = indexesOf(journal).naming.get(`${to} ${id}`);
  return [...(tables ?? [])].flatMap(([table, ids]) =>
    [...ids].map((row): [TableName, string] => [table, row]),
  );
}

/** The headings of a kind whose name or alternate has this key. */
export function headingsCalled(
  journal: Journal,
  kind: Heading['kind'],
  name: string,
): ReadonlySet<HeadingId> {
  const found = indexesOf(journal).names.get(`${kind} ${nameKey(name, kind)}`);
  return found ?? (NOBODY as ReadonlySet<HeadingId>);
}
