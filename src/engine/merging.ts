/** The edits that take a copy: in place of the journal, or merged into it. */
import type { Change, Edit } from '../journal/edits';
import {
  TABLES,
  type Guide,
  type GuideId,
  type Journal,
  type Records,
  type TableName,
} from '../journal/records';
import { same } from '../journal/same';
import { stableText } from '../keep/fingerprint';
import { joinRows, type Row } from '../keep/versions';

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

export interface MergeAsk {
  /** ISO time at which the two were last the same, where that is known. */
  parted?: string;
  newId: () => string;
}

/**
 * Adds what is only in the copy and loses no words of either side. Of an entry that differs the wording changed since they
 * parted is taken, and where both were changed, both; headings and other rows keep what each side has; a guide
 * composed differently on both sides stands twice.
 */
export function mergeIn(there: Journal, here: Journal, { parted, newId }: MergeAsk): Edit {
  const changes: Change[] = [];
  for (const table of TABLES) {
    for (const [id, theirs] of there.tables[table]) {
      const ours = here.tables[table].get(id);
      if (ours && same(ours, theirs)) continue;
      const after = ours ? joined(table, ours, theirs, parted) : theirs;
      if (!same(ours, after)) changes.push(changeOf(table, id, ours, after));
    }
  }
  for (const guide of otherGuides(there, here, newId)) {
    changes.push(changeOf('guides', guide.id, undefined, guide));
  }
  return { does: `Merge “${there.name}”`, changes };
}

const changeOf = (table: TableName, id: string, before?: unknown, after?: unknown): Change =>
  ({ table, id, ...(before ? { before } : {}), ...(after ? { after } : {}) }) as Change;

const changedAt = (row: unknown): string | undefined => (row as { changed?: string }).changed;

function joined<T extends TableName>(
  table: T,
  ours: Records[T],
  theirs: Records[T],
  parted: string | undefined,
): Records[T] {
  const [here, there] = [changedAt(ours), changedAt(theirs)];
  if (parted !== undefined && here !== undefined && there !== undefined) {
    const [oursChanged, theirsChanged] = [here > parted, there > parted];
    if (oursChanged !== theirsChanged) return oursChanged ? ours : theirs;
  }
  // The same from whichever side it is done: by time, then by what they say. Of rows without a time, ours has the last word.
  const order = (row: unknown): string => `${changedAt(row)} ${stableText(row)}`;
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
