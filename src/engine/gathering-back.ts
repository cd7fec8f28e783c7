/** Taking a gathering back whole: its entries, and what it brought besides that nothing else uses and nobody has changed. */
import { Draft } from '../journal/draft';
import type { Change, Edit } from '../journal/edits';
import { allNaming, rowsNaming } from '../journal/indexes';
import { counted } from '../journal/labels';
import type { EntryId, GatheringId, Journal, Records, TableName } from '../journal/records';
import { eachReference } from '../journal/references';
import { saysSame } from '../journal/same';
import type { GatheringLooked, GatheringSaid } from './bench-types';
import type { Core } from './core';
import { rowOf } from './rows';

/** A row that a gathering made or changed, besides its own entries. */
export type MadeRow = Change;

export function gatheringsSaid(journal: Journal): GatheringSaid[] {
  return [...journal.tables.gatherings.values()]
    .map(({ id, on, name, files }) => ({
      id,
      on,
      name: name ?? (files.length === 1 ? (files[0]?.path ?? '') : ''),
      files: files.length,
      entries: rowsNaming(journal, 'gatherings', id, 'entries').size,
    }))
    .sort((a, b) => (a.on < b.on ? 1 : -1));
}

export function lookAt(journal: Journal, id: GatheringId): GatheringLooked | undefined {
  const said = gatheringsSaid(journal).find((one) => one.id === id);
  if (!said) return undefined;
  const entries = entriesOf(journal, id);
  return {
    name: said.name,
    entries: entries.length,
    altered: entries
      .filter(({ added, changed }) => added !== changed)
      .flatMap((entry) => rowOf(journal, entry.id) ?? []),
    used: entries.filter(
      ({ id: entry }) =>
        rowsNaming(journal, 'entries', entry, 'guides').size > 0 ||
        rowsNaming(journal, 'entries', entry, 'meetings').size > 0,
    ).length,
  };
}

const entriesOf = (journal: Journal, id: GatheringId): Records['entries'][] =>
  [...rowsNaming(journal, 'gatherings', id, 'entries')].flatMap(
    (entry) => journal.tables.entries.get(entry) ?? [],
  );

/**
 * The edit that takes it back. Entries in `keep` stay, and with them the record of the gathering. Of the rows it made, those still as it
 * left them go; headings only where nothing names them any more. Wording it put in place of another is put back.
 */
export function takeBackEdit(
  { journal }: Core,
  id: GatheringId,
  made: readonly MadeRow[],
  keep: ReadonlySet<EntryId>,
): Edit {
  const draft = new Draft(journal);
  const entries = entriesOf(journal, id).filter((entry) => !keep.has(entry.id));
  for (const entry of entries) draft.takeOut('entries', entry.id);
  if (keep.size === 0) draft.takeOut('gatherings', id);
  takeOutMade(draft, [...made].reverse());
  return draft.edit(`Take back a gathering of ${counted(entries.length, 'entry')}`);
}

/** Puts rows back to what they were before they were made or changed, newest first: those in use or changed since stay. */
export function takeOutMade(draft: Draft, newest: readonly MadeRow[]): void {
  const [headings, others] = [
    newest.filter(({ table }) => table === 'headings'),
    newest.filter(({ table }) => table !== 'headings'),
  ];
  for (const change of others) takeOne(draft, change);
  // A book goes before the person who wrote it can: again until nothing more goes.
  for (let left = headings, before = -1; left.length !== before;) {
    before = left.length;
    left = left.filter((change) => !takeOne(draft, change));
  }
}

/** Puts a row back to what it was; false where it has changed since, or is in use. */
function takeOne(draft: Draft, { table, id, before, after }: MadeRow): boolean {
  const now = draft.get(table, id);
  if (!now || !saysSame(now, after)) return false;
  if (before) draft.put(table, before as never);
  else if (table === 'headings' && isNamed(draft, table, id)) return false;
  else draft.takeOut(table, id);
  return true;
}

function isNamed(draft: Draft, table: TableName, id: string): boolean {
  return allNaming(draft.journal, table, id).some(([naming, rowId]) => {
    const row = draft.get(naming, rowId);
    let named = false;
    if (row) {
      eachReference(naming, row as never, (reference) => {
        if (reference.to === table && reference.id === id) named = true;
      });
    }
    return named;
  });
}
