/**
 * How a row lies in a Yjs document, so that devices can change it apart and lose nothing when they meet.
 *
 * A document holds one map, `rows`. A row is a map in it under "tag id": the tag is unlike any other, so two devices that
 * make a row of one id (both opened the same copy, say) stand side by side instead of one in place of the
 * other. In a row's map:
 *
 * - `f:name` is a field as the row was made with; `m:tag:name` as it was set later, in place of what was seen then. Where
 *   two devices set one field both values stand, and {@link settle} makes one of them.
 * - `e:…` is one tie each, with its place in the order.
 * - `text` is an entry's body, a `Y.Text`.
 * - `seed` is the fingerprint of what the row was made with. A row that is still what another began from is its
 *   ancestor, and gives way to it.
 * - `gone` marks a row removed, with the fingerprint of the words it had: where another device has changed them meanwhile,
 *   the mark holds no longer and the row stands.
 */
import * as Y from 'yjs';
import { rebase, setOwn } from '../journal/rebase';
import type { TableName, Tie } from '../journal/records';
import { same } from '../journal/same';
import { fingerprint, stableText } from '../language/fingerprint';
import { changeText, mergeTexts, wellFormed } from './text-merge';
import { joinRows, keepNames, settle, type Row } from './versions';

export type { Row } from './versions';
type RowMap = Y.Map<unknown>;

const ROWS = 'rows';
const GONE = 'gone';
const SEED = 'seed';
const TEXT = 'text';
const FIRST = 'f:';
const LATER = 'm:';
const TIE = 'e:';

type KeptTie = Tie & {
  /** Order among the entry's ties. */
  n: number;
};

export const rowsOf = (doc: Y.Doc): Y.Map<RowMap> => doc.getMap(ROWS);

/** Unlike any other in any document: the device's number in this document and how much it had written. */
const newTag = (doc: Y.Doc): string =>
  `${doc.clientID.toString(36)}.${Y.getState(doc.store, doc.clientID).toString(36)}`;

/**
 * A value as it lies in a document: a copy in a list of one. Yjs looks at a value's `constructor` to tell what it is, which a
 * reader's record may well have as a field; a list is always a list.
 */
const boxed = (value: unknown): unknown[] => [structuredClone(value)];

function unboxed(value: unknown): unknown {
  if (!Array.isArray(value)) throw new Error('a field in it is not a field');
  return value[0];
}

/** Keys of the rows under each id, kept up with the document. */
const keysById = new WeakMap<Y.Doc, Map<string, Set<string>>>();

const idOfKey = (key: string): string => key.slice(key.indexOf(' ') + 1);

function keysOf(doc: Y.Doc, id: string): string[] {
  let byId = keysById.get(doc);
  if (!byId) {
    const held = new Map<string, Set<string>>();
    const rows = rowsOf(doc);
    for (const key of rows.keys()) enter(held, key);
    rows.observe(({ keysChanged }) => {
      for (const key of keysChanged) enter(held, key as string);
    });
    keysById.set(doc, (byId = held));
  }
  return [...(byId.get(id) ?? [])].sort();
}

function enter(byId: Map<string, Set<string>>, key: string): void {
  const keys = byId.get(idOfKey(key));
  if (keys) keys.add(key);
  else byId.set(idOfKey(key), new Set([key]));
}

/** Brings a row from `before` to `after`, touching only what differs. Call inside a transaction. */
export function putRowInDoc(
  doc: Y.Doc,
  table: TableName,
  id: string,
  before: Row | undefined,
  after: Row | undefined,
): void {
  const maps = keysOf(doc, id).flatMap((key) => rowsOf(doc).get(key) ?? []);
  const standing = maps.filter((held) => stands(id, held, table));
  if (!after) {
    for (const held of standing) held.set(GONE, wordsPrint(readMap(id, held, table)));
    return;
  }
  const wanted = target(readRow(id, standing, table), sound(before), sound(after)!, table);
  const first = standing[0] ?? maps[0];
  if (!first) {
    makeRow(doc, table, wanted);
    return;
  }
  if (first.has(GONE)) first.delete(GONE);
  changeRow(doc, first, table, readMap(id, first, table), wanted);
  for (const other of standing)
    if (other !== first) other.set(GONE, wordsPrint(readMap(id, other, table)));
}

/** The row as it should be: an edit made from an older one is brought onto what the document holds. */
function target(held: Row | undefined, before: Row | undefined, after: Row, table: TableName): Row {
  if (!held || !before || same(held, before)) return after;
  const merged = rebase(held as never, before as never, after as never) as unknown as Row;
  const texts = [before['text'], after['text'], held['text']];
  if (table === 'entries') merged['text'] = mergeTexts(...(texts as [string, string, string]));
  return merged;
}

/** UTF-8 has no halves of surrogate pairs: they become U+FFFD here, so that what is read again is what was kept. */
function sound(row: Row | undefined): Row | undefined {
  // JSON spells lone halves as escapes, so that one look tells whether there are any.
  return row && /\\ud[89a-f]/.test(JSON.stringify(row)) ? (soundValue(row) as Row) : row;
}

function soundValue(value: unknown): unknown {
  if (typeof value === 'string') return wellFormed(value);
  if (Array.isArray(value)) return value.map(soundValue);
  if (typeof value !== 'object' || value === null) return value;
  const out = {};
  for (const [name, member] of Object.entries(value))
    setOwn(out, wellFormed(name), soundValue(member));
  return out;
}

function makeRow(doc: Y.Doc, table: TableName, row: Row): void {
  const held: RowMap = new Y.Map();
  const key = `${newTag(doc)} ${row.id}`;
  rowsOf(doc).set(key, held);
  const byId = keysById.get(doc);
  if (byId) enter(byId, key);
  held.set(SEED, wholePrint(row));
  for (const [name, value] of Object.entries(row)) {
    if (name !== 'id' && value !== undefined && !apart(table, name))
      held.set(FIRST + name, boxed(value));
  }
  if (table !== 'entries') return;
  held.set(TEXT, new Y.Text(String(row['text'] ?? '')));
  for (const [tieKey, tie] of tiesByKey(row)) held.set(tieKey, boxed(tie));
}

/** Fields of an entry that do not lie under a key of their own name. */
const apart = (table: TableName, name: string): boolean =>
  table === 'entries' && (name === 'text' || name === 'ties');

function changeRow(doc: Y.Doc, held: RowMap, table: TableName, from: Row, to: Row): void {
  for (const name of new Set([...Object.keys(from), ...Object.keys(to)])) {
    if (name === 'id' || apart(table, name)) continue;
    const value = Object.hasOwn(to, name) ? to[name] : undefined;
    if (same(Object.hasOwn(from, name) ? from[name] : undefined, value)) continue;
    for (const key of [...held.keys()]) if (fieldOf(key) === name) held.delete(key);
    if (value !== undefined) held.set(`${LATER}${newTag(doc)}:${name}`, boxed(value));
  }
  if (table !== 'entries') return;
  const text = held.get(TEXT);
  if (text instanceof Y.Text) changeText(text, String(to['text'] ?? ''));
  else held.set(TEXT, new Y.Text(String(to['text'] ?? '')));
  const [old, ties] = [tiesByKey(from), tiesByKey(to)];
  for (const key of old.keys()) if (!ties.has(key)) held.delete(key);
  for (const [key, tie] of ties) if (!same(old.get(key), tie)) held.set(key, boxed(tie));
}

/** The field a key holds, or undefined for another key. */
function fieldOf(key: string): string | undefined {
  if (key.startsWith(FIRST)) return key.slice(FIRST.length);
  return key.startsWith(LATER) ? key.slice(key.indexOf(':', LATER.length) + 1) : undefined;
}

/** Each tie under its own key; one said twice is held twice. */
function tiesByKey(row: Row): Map<string, KeptTie> {
  const out = new Map<string, KeptTie>();
  for (const [n, tie] of ((row['ties'] ?? []) as Tie[]).entries()) {
    const { page, chapter, note } = tie.place ?? {};
    let key = TIE + JSON.stringify([tie.heading, tie.role, page, chapter, note]);
    while (out.has(key)) key += '+';
    out.set(key, { ...tie, n });
  }
  return out;
}

/** One of the maps under an id as a row, whether it is gone or not. */
function readMap(id: string, held: RowMap, table: TableName): Row {
  const row: Row = { id };
  let several: Set<string> | undefined;
  const ties: KeptTie[] = [];
  for (const [key, value] of held.entries()) {
    const name = fieldOf(key);
    if (name === undefined) {
      if (key.startsWith(TIE)) ties.push(unboxed(value) as KeptTie);
    } else if (Object.hasOwn(row, name)) {
      several ??= new Set();
      several.add(name);
    } else setOwn(row, name, unboxed(value));
  }
  if (several) settleFields(row, held, several, table);
  if (table !== 'entries') return row;
  const text = held.get(TEXT);
  row['text'] = text instanceof Y.Text ? text.toString() : '';
  row['ties'] = ties
    .sort((a, b) => a.n - b.n || (stableText(a) < stableText(b) ? -1 : 1))
    .map(({ n: _n, ...tie }) => tie);
  return row;
}

function settleFields(row: Row, held: RowMap, names: ReadonlySet<string>, table: TableName): void {
  const keys = [...held.keys()].sort();
  const valuesOf = (name: string): unknown[] =>
    keys.filter((key) => fieldOf(key) === name).map((key) => unboxed(held.get(key)));
  for (const name of names) setOwn(row, name, settle(name, valuesOf(name)));
  if (table === 'headings' && names.has('name')) keepNames(row, valuesOf('name'));
}

/** Fingerprint of the whole row. */
const wholePrint = (row: Row): string => fingerprint(stableText(row));

/** Fingerprint of what a reader says in a row: ties and times follow from other edits and do not bring it back. */
function wordsPrint(row: Row): string {
  const { ties: _ties, changed: _changed, ...words } = row;
  return fingerprint(stableText(words));
}

function stands(id: string, held: RowMap, table: TableName): boolean {
  const gone = held.get(GONE);
  return gone === undefined || gone !== wordsPrint(readMap(id, held, table));
}

/** The row that standing maps make together. */
function readRow(id: string, standing: readonly RowMap[], table: TableName): Row | undefined {
  const [only] = standing;
  if (!only) return undefined;
  if (standing.length === 1) return readMap(id, only, table);
  const read = standing.map((held) => ({ row: readMap(id, held, table), seed: held.get(SEED) }));
  const prints = read.map(({ row }) => wholePrint(row));
  const rows = read.flatMap(({ row }, at) => {
    const said = prints.indexOf(prints[at]!) < at;
    const ancestor = read.some(
      ({ seed }, other) => prints[other] !== prints[at] && seed === prints[at],
    );
    return said || ancestor ? [] : [row];
  });
  const [first, ...others] = rows.length > 0 ? rows : [read[0]!.row];
  return others.length === 0 ? first : joinRows([first!, ...others], table);
}

/** One row as it stands, or undefined when it is not there or gone. */
export function rowInDoc(doc: Y.Doc, table: TableName, id: string): Row | undefined {
  const maps = keysOf(doc, id).flatMap((key) => rowsOf(doc).get(key) ?? []);
  return readRow(
    id,
    maps.filter((held) => stands(id, held, table)),
    table,
  );
}

/** Every row that is not gone. */
export function allRowsInDoc(doc: Y.Doc, table: TableName): Row[] {
  const byId = new Map<string, [string, RowMap][]>();
  for (const [key, held] of rowsOf(doc).entries()) {
    if (!(held instanceof Y.Map)) throw new Error('a row in it is not a row');
    const id = idOfKey(key);
    const found = byId.get(id);
    if (found) found.push([key, held]);
    else byId.set(id, [[key, held]]);
  }
  const out: Row[] = [];
  for (const [id, found] of byId) {
    if (found.length > 1) found.sort(([a], [b]) => (a < b ? -1 : 1));
    const row = readRow(
      id,
      found.map(([, held]) => held).filter((held) => stands(id, held, table)),
      table,
    );
    if (row) out.push(row);
  }
  return out;
}
