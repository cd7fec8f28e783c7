import { TABLES, type Entry, type EntryId, type Journal } from './records';

/** An empty journal. `id` is a UUIDv7 and `made` an ISO time, both handed in. */
export function emptyJournal(id: string, name: string, made: string): Journal {
  const tables = Object.fromEntries(TABLES.map((table) => [table, new Map()]));
  return { id, name, made, tables: tables as unknown as Journal['tables'] };
}

export const entryOf = (journal: Journal, id: EntryId): Entry | undefined =>
  journal.tables.entries.get(id);
