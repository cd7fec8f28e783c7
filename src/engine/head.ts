/** What is said of a journal as a whole, apart from its rows: what it is called, which it is, and what it has in it of others. */
import type { Journal } from '../journal/records';
import type { Head } from './history';
import type { Lineage } from './lineage';

const lineages = new WeakMap<Journal, Lineage>();

/** The lineage of an open journal; undefined before {@link takeHead} has given it one. */
export const lineageOf = (journal: Journal): Lineage | undefined => lineages.get(journal);

export function headOf(journal: Journal): Head {
  const { id, name, made, unknown } = journal;
  const lineage = lineageOf(journal);
  return { id, name, made, ...(unknown ? { unknown } : {}), ...(lineage ? { lineage } : {}) };
}

export function takeHead(journal: Journal, { id, name, made, unknown, lineage }: Head): void {
  Object.assign(journal, { id, name, made });
  if (unknown) journal.unknown = unknown;
  else delete journal.unknown;
  if (lineage) lineages.set(journal, lineage);
  else lineages.delete(journal);
}
