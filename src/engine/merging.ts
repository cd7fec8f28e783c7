/** The edits that take a copy: in place of the journal, or merged into it. */
import type { Change, Edit } from '../journal/edits';
import {
  TABLES,
  type Entry,
  type Guide,
  type GuideId,
  type Journal,
  type Records,
  type TableName,
} from '../journal/records';
import { same } from '../journal/same';
import { stableText } from '../language/fingerprint';
import { joinRows, type Row } from '../keep/versions';
import { saidBy, type Parted } from './lineage';

/** Makes the journal equal to the copy. */
export function replaceWith(there: Journal, here: Journal): Edit {
  const changes: Change[] = [];
  for (const table of TABLES) {
    for (const [id, after] of there.tables[table]) {
      const before = here.tables[table].get(id);
      if (!before || !same(before, after)) changes.push(changeOf(table, id, before, after));
    }
  }
  for (const table of [...TABLES].reverse()) {
    for (const [id, before] of here.tables[table]) {
      if (!there.tables[table].has(id)) changes.push(changeOf(table, id, before));
    }
  }
  return { does: `Put “${there.name}” in place`, changes };
}

interface MergeAsk {
  parted: Parted;
  /** ISO time at which it is done: rows that come over or are joined came to be so here and now. */
  now: string;
  newId: () => string;
}

/**
 * Adds what is only in the copy and loses no words of either side. Of an entry that differs the wording changed since they
 * parted is taken, and where both were changed, both; headings and other rows keep what each side has; a guide
 * composed differently on both sides stands twice. An entry removed here since then stays removed.
 */
export function mergeIn(there: Journal, here: Journal, ask: MergeAsk): Edit {
  const changes: Change[] = [];
  for (const table of TABLES) {
    for (const [id, theirs] of there.tables[table]) {
      const ours = here.tables[table].get(id);
      // What was known here and is no longer there was removed here.
      const known = table === 'entries' && (changedAt(theirs) ?? '') <= ask.parted.theirs;
      if (!ours && known) continue;
      const after = ours ? joined(table, ours, theirs, ask.parted) : theirs;
      if (ours && sameBut(table, ours, after)) continue;
      const now = table === 'entries' ? { changed: ask.now } : {};
      changes.push(changeOf(table, id, ours, { ...after, ...now }));
    }
  }
  for (const guide of otherGuides(there, here, ask.newId)) {
    changes.push(changeOf('guides', guide.id, undefined, guide));
  }
  return { does: `Merge “${there.name}”`, changes };
}

/** Whether two rows say the same; of entries, whenever they came to say it. */
export const sameBut = (table: TableName, one: unknown, other: unknown): boolean =>
  table === 'entries' ? same(saidBy(one as Entry), saidBy(other as Entry)) : same(one, other);

const changeOf = (table: TableName, id: string, before?: unknown, after?: unknown): Change =>
  ({ table, id, ...(before ? { before } : {}), ...(after ? { after } : {}) }) as Change;

const changedAt = (row: unknown): string | undefined => (row as { changed?: string }).changed;

function joined<T extends TableName>(
  table: T,
  ours: Records[T],
  theirs: Records[T],
  parted: Parted,
): Records[T] {
  if (sameBut(table, ours, theirs)) return ours;
  const [here, there] = [changedAt(ours), changedAt(theirs)];
  if (here !== undefined && there !== undefined) {
    const [oursNew, theirsNew] = [here > parted.ours, there > parted.theirs];
    if (oursNew !== theirsNew) return oursNew ? ours : theirs;
  }
  // The same from whichever side it is done: by what they say. Of rows without a time, ours has the last word.
  const order = (row: unknown): string => stableText(saidBy(row as Entry));
  const swap = here !== undefined && order(ours) < order(theirs);
  const pair = (swap ? [ours, theirs] : [theirs, ours]) as unknown as [Row, Row];
  return joinRows(pair, table) as unknown as Records[T];
}

/** Guides of the copy whose parts are others than here, as guides of their own; none that came over before. */
function otherGuides(there: Journal, here: Journal, newId: () => string): Guide[] {
  const content = ({ id: _id, title: _title, ...rest }: Guide): string => stableText(rest);
  const known = new Set([...here.tables.guides.values()].map(content));
  return [...there.tables.guides.values()].flatMap((theirs) => {
    const ours = here.tables.guides.get(theirs.id);
    if (!ours || same(ours.parts, theirs.parts) || known.has(content(theirs))) return [];
    return [{ ...theirs, id: newId() as GuideId, title: `${theirs.title} (from the copy)` }];
  });
}
