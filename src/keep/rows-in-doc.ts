/**
 * How a row lies in a Yjs document: one map a row, one key a field, so that edits of different fields on different
 * devices both stay. Texts are Y.Text, each tie has its own key, and a removed row is marked gone, not deleted:
 * another device's edit of it is not lost.
 */
import * as Y from 'yjs';
import type { TableName, Tie } from '../journal/records';

type Row = Record<string, unknown> & { id: string };
type RowMap = Y.Map<unknown>;

const ROWS = 'rows';
const GONE = 'gone';
/** Field names are prefixed, so that a row's own field can never be taken for a mark of ours. */
const FIELD = 'f:';
const TEXT = 't:text';
const TIES = 't:ties';

interface KeptTie extends Tie {
  /** Order among the entry's ties. */
  n: number;
}

const same = (a: unknown, b: unknown): boolean =>
  a === b || JSON.stringify(a) === JSON.stringify(b);
const tieKey = (tie: Tie): string => `${tie.heading} ${tie.role}`;

export const rowsOf = (doc: Y.Doc): Y.Map<RowMap> => doc.getMap(ROWS);

/** Brings a row from `before` to `after`, touching only what differs. Call inside a transaction. */
export function putRowInDoc(
  doc: Y.Doc,
  table: TableName,
  id: string,
  before: Row | undefined,
  after: Row | undefined,
): void {
  const rows = rowsOf(doc);
  let held = rows.get(id);
  if (!after) {
    held?.set(GONE, true);
    return;
  }
  if (!held) {
    held = new Y.Map();
    rows.set(id, held);
  } else if (held.get(GONE)) held.delete(GONE);
  // A row that comes anew over an old one is compared with what the document holds.
  const from = before ?? rowFromMap(id, held, table) ?? ({ id } as Row);
  for (const name of new Set([...Object.keys(from), ...Object.keys(after)])) {
    if (name === 'id' || same(from[name], after[name])) continue;
    if (table === 'entries' && name === 'text') putText(held, String(after['text'] ?? ''));
    else if (table === 'entries' && name === 'ties')
      putTies(held, after['ties'] as Tie[] | undefined);
    else if (after[name] === undefined) held.delete(FIELD + name);
    else held.set(FIELD + name, after[name]);
  }
  if (table === 'entries' && !held.has(TEXT)) putText(held, String(after['text'] ?? ''));
}

/** Changes only the stretch between the common beginning and end, never inside a surrogate pair. */
function putText(held: RowMap, to: string): void {
  const found = held.get(TEXT);
  if (!(found instanceof Y.Text)) {
    held.set(TEXT, new Y.Text(to));
    return;
  }
  const from = found.toString();
  if (from === to) return;
  let start = 0;
  const shorter = Math.min(from.length, to.length);
  while (start < shorter && from[start] === to[start]) start++;
  let end = 0;
  while (end < shorter - start && from[from.length - 1 - end] === to[to.length - 1 - end]) end++;
  const high = (text: string, at: number): boolean => (text.charCodeAt(at) & 0xfc00) === 0xd800;
  const low = (text: string, at: number): boolean => (text.charCodeAt(at) & 0xfc00) === 0xdc00;
  if (start > 0 && high(from, start - 1)) start--;
  if (end > 0 && low(from, from.length - end)) end--;
  if (from.length - start - end > 0) found.delete(start, from.length - start - end);
  if (to.length - start - end > 0) found.insert(start, to.slice(start, to.length - end));
}

function putTies(held: RowMap, ties: Tie[] = []): void {
  let map = held.get(TIES) as Y.Map<KeptTie> | undefined;
  if (!map) {
    map = new Y.Map();
    held.set(TIES, map);
  }
  const wanted = new Map(ties.map((tie, n) => [tieKey(tie), { ...tie, n }]));
  for (const key of [...map.keys()]) if (!wanted.has(key)) map.delete(key);
  for (const [key, tie] of wanted) if (!same(map.get(key), tie)) map.set(key, tie);
}

function rowFromMap(id: string, held: RowMap, table: TableName): Row | undefined {
  if (held.get(GONE)) return undefined;
  const row: Row = { id };
  for (const [key, value] of held.entries()) {
    if (key.startsWith(FIELD)) row[key.slice(FIELD.length)] = value;
  }
  if (table === 'entries') {
    const text = held.get(TEXT);
    row['text'] = text instanceof Y.Text ? text.toString() : '';
    const ties = held.get(TIES) as Y.Map<KeptTie> | undefined;
    row['ties'] = [...(ties?.values() ?? [])]
      .sort((a, b) => a.n - b.n || (tieKey(a) < tieKey(b) ? -1 : 1))
      .map(({ n: _n, ...tie }) => tie);
  }
  return row;
}

/** One row as it stands, or undefined when it is not there or gone. */
export function rowInDoc(doc: Y.Doc, table: TableName, id: string): Row | undefined {
  const held = rowsOf(doc).get(id);
  return held && rowFromMap(id, held, table);
}

/** Every row that is not gone. */
export function allRowsInDoc(doc: Y.Doc, table: TableName): Row[] {
  const out: Row[] = [];
  for (const [id, held] of rowsOf(doc).entries()) {
    if (!(held instanceof Y.Map)) throw new Error('a row is not a map');
    const row = rowFromMap(id, held, table);
    if (row) out.push(row);
  }
  return out;
}
