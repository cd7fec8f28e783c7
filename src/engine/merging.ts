/** The edits that take a copy: in place of the journal, or merged into it. */
import { apply, type Change, type Edit } from '../journal/edits';
import { removeEntries } from '../journal/make-edits';
import {
  TABLES,
  type EntryId,
  type Guide,
  type GuideId,
  type Heading,
  type Journal,
  type Records,
  type TableName,
} from '../journal/records';
import { same, saysSame, untimed } from '../journal/same';
import { stableText } from '../language/fingerprint';
import { isShard, shardOf, shardOfPart } from '../keep/shards';
import { joinRows, type Row } from '../keep/versions';
import { changedSince, type Parted } from './lineage';
import { mendThemes } from './merged-themes';

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
  /** Entries that {@link removedHere} tells. */
  removed: ReadonlySet<EntryId>;
}

interface Merged {
  edit: Edit;
  /** Rows changed on both sides, or nobody knows where, of which nothing came over. */
  left: number;
}

/**
 * Adds what is only in the copy and loses no words of either side. A row changed on one side alone since they parted is taken from
 * there. Where both were changed both wordings and lists are kept, and of what can be only one thing the later, or
 * where there is no time, ours; a guide composed differently on both sides stands twice. What was removed here stays
 * removed.
 */
export function mergeIn(copy: Journal, here: Journal, ask: MergeAsk): Merged {
  const there = without(copy, ask.removed);
  const changes = new Map<string, Change>();
  const differing: string[] = [];
  const apart: Guide[] = [];
  let left = 0;
  const put = (table: TableName, id: string, after: unknown): void => {
    const ours = here.tables[table].get(id);
    const key = `${table} ${id}`;
    // What was not here tells a time only where it must.
    const now = ours || table === 'entries' ? { changed: ask.now } : {};
    if (ours && saysSame(ours, after as object)) changes.delete(key);
    else changes.set(key, changeOf(table, id, ours, { ...(after as object), ...now }));
  };
  for (const table of TABLES) {
    for (const [id, theirs] of there.tables[table]) {
      const ours = here.tables[table].get(id);
      if (!ours) put(table, id, theirs);
      if (!ours || saysSame(ours, theirs)) continue;
      if (table === 'headings') differing.push(id);
      const newer = newerOf(ours, theirs, ask.parted);
      const after = newer ?? joined(table, ours, theirs);
      put(table, id, after);
      const twice =
        !newer && table === 'guides' && !same((ours as Guide).parts, (theirs as Guide).parts);
      if (twice) apart.push(theirs as Guide);
      else if (!newer && saysSame(ours, after)) left += 1;
    }
  }
  const headings = new Map(here.tables.headings);
  for (const { table, id, after } of changes.values())
    if (table === 'headings' && after) headings.set(id, after as Heading);
  for (const { id, after } of mendThemes(here, headings, differing)) put('headings', id, after);
  for (const guide of twins(apart, here, ask.newId)) put('guides', guide.id, guide);
  return { edit: { does: `Merge “${there.name}”`, changes: [...changes.values()] }, left };
}

/**
 * Entries of a copy that were removed here since it was saved: known here, and not here any more. One whose part of the store lies
 * `aside` has not been removed; where it cannot be told what lies aside, none has.
 */
export function removedHere(
  there: Journal,
  here: Journal,
  known: Parted['theirs'],
  aside: readonly string[],
): Set<EntryId> {
  const parts = new Set(aside.map(shardOfPart));
  const told = [...parts].every(isShard);
  const removed = new Set<EntryId>();
  for (const [id, { changed }] of there.tables.entries) {
    const gone = told && !here.tables.entries.has(id) && changed <= known.until;
    if (gone && !parts.has(shardOf('entries', id))) removed.add(id as EntryId);
  }
  return removed;
}

/** A journal as it is after these entries are removed from it. */
function without(journal: Journal, removed: ReadonlySet<EntryId>): Journal {
  if (removed.size === 0) return journal;
  const tables = Object.fromEntries(
    TABLES.map((table) => [table, new Map<string, unknown>(journal.tables[table])]),
  ) as Journal['tables'];
  const rest = { ...journal, tables };
  apply(rest, removeEntries(rest, [...removed]), { unchecked: true });
  return rest;
}

const changeOf = (table: TableName, id: string, before?: unknown, after?: unknown): Change =>
  ({ table, id, ...(before ? { before } : {}), ...(after ? { after } : {}) }) as Change;

/** The row of the side that alone has changed it since they parted. */
function newerOf<R extends object>(ours: R, theirs: R, parted: Parted): R | undefined {
  const [oursNew, theirsNew] = [
    changedSince(ours, parted.ours),
    changedSince(theirs, parted.theirs),
  ];
  if (oursNew === undefined || theirsNew === undefined || oursNew === theirsNew) return undefined;
  return oursNew ? ours : theirs;
}

/** The same from whichever side it is done, but for guides and for rows that tell no time: of these ours has the last word. */
function joined<T extends TableName>(table: T, ours: Records[T], theirs: Records[T]): Records[T] {
  const last = lastWord(table, ours, theirs);
  const pair = (last === ours ? [theirs, ours] : [ours, theirs]) as unknown as [Row, Row];
  return joinRows(pair, table) as unknown as Records[T];
}

function lastWord<R extends { changed?: string }>(table: TableName, ours: R, theirs: R): R {
  const [here, there] = [ours.changed ?? '', theirs.changed ?? ''];
  if (table === 'guides' || (here === '' && there === '')) return ours;
  // Entries that come of a merge are as old as it: what they say tells more.
  if (table !== 'entries' && here !== there) return here > there ? ours : theirs;
  return stableText(untimed(ours)) < stableText(untimed(theirs)) ? theirs : ours;
}

/** Guides composed otherwise in the copy, as guides of their own; none that came over before. */
function twins(theirs: readonly Guide[], here: Journal, newId: () => string): Guide[] {
  const content = ({ id: _id, title: _title, changed: _changed, ...rest }: Guide): string =>
    stableText(rest);
  const known = new Set([...here.tables.guides.values()].map(content));
  return theirs
    .filter((guide) => !known.has(content(guide)))
    .map((guide) => ({
      ...guide,
      id: newId() as GuideId,
      title: `${guide.title} (from the copy)`,
    }));
}
