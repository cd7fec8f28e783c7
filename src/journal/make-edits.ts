/**
 * Builders of edits: what a reader means to do, as the rows it changes. They look at the journal and change nothing; what they answer goes
 * through `apply`. An id that names nothing is passed over, so an edit may come out with no changes.
 */
import { Draft, type TakeOutOptions } from './draft';
import type { Edit } from './edits';
import { rowsNaming } from './indexes';
import { counted, labelOf, nounOf, nounOfKind, oneOf, shortened } from './labels';
import { joinInto } from './merge-headings';
import type {
  Entry,
  EntryId,
  EntryKind,
  Heading,
  HeadingId,
  Journal,
  Records,
  TableName,
  ThemeHeading,
} from './records';
import { meantTie, withTie, type TieAsked } from './ties';

/** A new entry, or one that is there as it should now be. */
export function putEntry(journal: Journal, entry: Entry): Edit {
  const draft = new Draft(journal);
  const verb = journal.tables.entries.has(entry.id) ? 'Change' : 'Write';
  draft.put('entries', entry);
  return draft.edit(`${verb} ${oneOf(nounOf('entries', entry))}`);
}

/** Removes entries, and every mention of them; see {@link TakeOutOptions} for guides and meetings that used them. */
export function removeEntries(
  journal: Journal,
  ids: readonly EntryId[],
  options: TakeOutOptions = {},
): Edit {
  const draft = new Draft(journal);
  for (const id of ids) draft.takeOut('entries', id, options);
  return draft.edit(`Remove ${countedEntries(journal, ids)}`);
}

/** "a quote" for one, "3 entries" for more. */
function countedEntries(journal: Journal, ids: readonly EntryId[]): string {
  const there = [...new Set(ids)].flatMap((id) => journal.tables.entries.get(id) ?? []);
  const [only] = there;
  return there.length === 1 ? oneOf(nounOf('entries', only)) : counted(there.length, 'entry');
}

/** Ties entries to a heading, never twice; see {@link withTie}. A tie made by the reader forgets that it was declined. */
export function tieEntries(
  journal: Journal,
  ids: readonly EntryId[],
  tie: TieAsked,
  now: string,
): Edit {
  const draft = new Draft(journal);
  const kind = draft.get('headings', tie.heading)?.kind;
  for (const id of ids) {
    const entry = draft.get('entries', id);
    if (!entry) continue;
    const ties = withTie(entry.ties, meantTie(entry.ties, tie, kind));
    if (ties !== entry.ties) draft.put('entries', { ...entry, ties, changed: now });
    if (tie.by !== 'reader') continue;
    for (const declined of rowsNaming(journal, 'entries', id, 'declined')) {
      const row = draft.get('declined', declined);
      if (row?.heading === tie.heading) draft.remove('declined', declined);
    }
  }
  return draft.edit(`Tie ${countedEntries(journal, ids)} to ${nameOf(journal, tie.heading)}`);
}

/** Takes every tie to a heading off these entries, whatever its role and place. */
export function untieEntries(
  journal: Journal,
  ids: readonly EntryId[],
  headingId: HeadingId,
  now: string,
): Edit {
  const draft = new Draft(journal);
  const tied: EntryId[] = [];
  for (const id of ids) {
    const entry = draft.get('entries', id);
    const ties = entry?.ties.filter(({ heading }) => heading !== headingId);
    if (!entry || !ties || ties.length === entry.ties.length) continue;
    draft.put('entries', { ...entry, ties, changed: now });
    tied.push(id);
  }
  return draft.edit(`Untie ${countedEntries(journal, tied)} from ${nameOf(journal, headingId)}`);
}

export function changeKind(
  journal: Journal,
  ids: readonly EntryId[],
  kind: EntryKind,
  now: string,
): Edit {
  const draft = new Draft(journal);
  for (const id of ids) {
    const entry = draft.get('entries', id);
    if (entry && entry.kind !== kind) draft.put('entries', { ...entry, kind, changed: now });
  }
  const noun = nounOfKind(kind);
  const becomes = new Set(ids).size === 1 ? oneOf(noun) : `${noun}s`;
  return draft.edit(`Change ${countedEntries(journal, ids)} to ${becomes}`);
}

/** A new heading, or one as it should now be. Where a theme gains or loses a related theme, the other follows. */
export function putHeading(journal: Journal, heading: Heading): Edit {
  const draft = new Draft(journal);
  const before = journal.tables.headings.get(heading.id);
  draft.put('headings', heading);
  if (heading.kind === 'theme') {
    relateBothWays(draft, heading, before?.kind === 'theme' ? before.related : []);
  }
  return draft.edit(`${before ? 'Change' : 'Add'} ${labelOf('headings', heading)}`);
}

function relateBothWays(draft: Draft, theme: ThemeHeading, before: readonly HeadingId[]): void {
  const { id, related } = theme;
  for (const otherId of new Set([...before, ...related])) {
    const other = draft.get('headings', otherId);
    if (other?.kind !== 'theme' || otherId === id) continue;
    const rest = other.related.filter((each) => each !== id);
    const wanted = related.includes(otherId);
    if (wanted === other.related.includes(id)) continue;
    draft.put('headings', { ...other, related: wanted ? [...rest, id] : rest });
  }
}

/**
 * Removes a heading with every tie and relation to it. Readings of a book go with it; a challenge's prompt
 * that asked for it keeps its name in words.
 */
export function removeHeading(journal: Journal, id: HeadingId, now?: string): Edit {
  const draft = new Draft(journal);
  const heading = draft.get('headings', id);
  const tied = rowsNaming(journal, 'headings', id, 'entries').size;
  draft.takeOut('headings', id, { now });
  const readings = draft.removed('readings');
  const along = [
    ...(tied > 0 ? [`its ties to ${counted(tied, 'entry')}`] : []),
    ...(readings > 0 ? [counted(readings, 'reading')] : []),
  ];
  const label = heading ? labelOf('headings', heading) : 'a heading';
  return draft.edit(`Remove ${label}${along.length > 0 ? `, with ${along.join(' and ')}` : ''}`);
}

/**
 * Makes two headings one: everything that names `gone` names `keep` instead, without doubling, and its name and alternates
 * become alternates of `keep`, which also takes what it lacks (ISBN, pages, dates…). Relations that would make
 * a theme broader than itself fall away. No changes where either is missing or they are the same.
 */
export function mergeHeadings(
  journal: Journal,
  keep: HeadingId,
  gone: HeadingId,
  now: string,
): Edit {
  const draft = new Draft(journal);
  const [kept, other] = [draft.get('headings', keep), draft.get('headings', gone)];
  if (!kept || !other || keep === gone) return draft.edit('Merge two headings');
  joinInto(draft, kept, other, now);
  return draft.edit(`Merge ${labelOf('headings', other)} into ${labelOf('headings', kept)}`);
}

/** Another name for a heading; the old one stays findable as an alternate. No changes where it is missing or called so already. */
export function renameHeading(journal: Journal, id: HeadingId, name: string): Edit {
  const draft = new Draft(journal);
  const heading = draft.get('headings', id);
  if (!heading) return draft.edit('Rename a heading');
  if (name === heading.name) return draft.edit(`It is called ${name} already`);
  const rest = heading.alternates.filter((each) => each !== name && each !== heading.name);
  draft.put('headings', { ...heading, name, alternates: [...rest, heading.name] });
  return draft.edit(`Rename ${heading.name} to ${name}`);
}

/** A new row of any table, or one as it should now be. */
export function putRow<T extends TableName>(journal: Journal, table: T, row: Records[T]): Edit {
  if (table === 'entries') return putEntry(journal, row as Entry);
  if (table === 'headings') return putHeading(journal, row as Heading);
  const draft = new Draft(journal);
  const verb = journal.tables[table].has(row.id) ? 'Change' : 'Add';
  draft.put(table, row);
  return draft.edit(`${verb} ${sayRow(table, row)}`);
}

/** Removes a row of any table, and every mention of it. A circle's meetings go with it. */
export function removeRow(journal: Journal, table: TableName, id: string): Edit {
  if (table === 'entries') return removeEntries(journal, [id as EntryId]);
  if (table === 'headings') return removeHeading(journal, id as HeadingId);
  const draft = new Draft(journal);
  const row = draft.get(table, id);
  draft.takeOut(table, id);
  const meetings = table === 'circles' ? draft.removed('meetings') : 0;
  const along = meetings > 0 ? `, with ${counted(meetings, 'meeting')}` : '';
  return draft.edit(`Remove ${row ? sayRow(table, row) : oneOf(nounOf(table))}${along}`);
}

const nameOf = (journal: Journal, id: HeadingId): string =>
  shortened(journal.tables.headings.get(id)?.name ?? 'a heading');

/** Rows with a name or title by it, the others by what they are: ids mean nothing to a reader. */
function sayRow<T extends TableName>(table: T, row: Records[T]): string {
  return 'name' in row || 'title' in row ? labelOf(table, row) : oneOf(nounOf(table, row));
}
