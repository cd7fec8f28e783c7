/** What of a journal is on this device alone until a copy is saved. */
import type { Journal } from '../journal/records';
import type { CopyAge } from './desk';
import { lineageOf } from './head';

export function copyAge(journal: Journal): CopyAge {
  const opened = lineageOf(journal)?.begun?.at;
  const entries = [...journal.tables.entries.values()];
  const own = entries.filter(({ added }) => opened === undefined || added > opened).length;
  return { begun: opened ?? journal.made, own };
}
