/** Making two headings one, in a draft. */
import { touched, type Draft } from './draft';
import { allNaming, rowsNaming } from './indexes';
import type { Focus, Heading, HeadingId, Records, TableName, ThemeHeading } from './records';
import { rewriteReferences } from './references';
import { ownValue } from './same';
import { setOwn } from './rebase';
import { withoutDoubles } from './ties';

/** Moves all that names `gone` to `keep` and takes `gone` out; `now` (ISO) marks the entries whose ties move. */
export function joinInto(draft: Draft, keep: Heading, gone: Heading, now: string): void {
  for (const [table, id] of allNaming(draft.journal, 'headings', gone.id)) {
    if (table !== 'headings' || (id !== keep.id && id !== gone.id)) {
      moveReferences(draft, table, id, keep.id, gone.id, now);
    }
  }
  dropDoubledDeclined(draft, keep.id, gone.id);
  draft.put('headings', joined(keep, gone));
  draft.remove('headings', gone.id);
  if (keep.kind === 'theme') mendRelations(draft, keep.id);
}

function moveReferences<T extends TableName>(
  draft: Draft,
  table: T,
  id: string,
  keep: HeadingId,
  gone: HeadingId,
  now: string,
): void {
  const row = draft.get(table, id);
  if (!row) return;
  const moved = rewriteReferences(table, row, (reference) =>
    reference.to === 'headings' && reference.id === gone ? keep : reference.id,
  );
  if (!moved || moved === row) return;
  if (table === 'entries') {
    const entry = moved as Records['entries'];
    draft.put('entries', touched({ ...entry, ties: withoutDoubles(entry.ties) }, now));
  } else if (table === 'guides') {
    const guide = moved as Records['guides'];
    const focus = { ...guide.focus, headings: withoutSame(guide.focus.headings) };
    draft.put('guides', { ...guide, focus });
  } else draft.put(table, moved);
}

function withoutSame(headings: Focus['headings']): Focus['headings'] {
  const seen = new Set<string>();
  return headings.filter(({ heading, from, to }) => {
    const key = JSON.stringify([heading, from, to]);
    return !seen.has(key) && seen.add(key);
  });
}

/** An entry that had both headings declined keeps one record of it. */
function dropDoubledDeclined(draft: Draft, keep: HeadingId, gone: HeadingId): void {
  const kept = rowsNaming(draft.journal, 'headings', keep, 'declined');
  const entries = new Set([...kept].map((id) => draft.get('declined', id)?.entry));
  for (const id of rowsNaming(draft.journal, 'headings', gone, 'declined')) {
    const row = draft.get('declined', id);
    if (!row) continue;
    if (entries.has(row.entry)) draft.remove('declined', id);
    entries.add(row.entry);
  }
}

/** Lists of ids and words that hold what either heading held. */
const UNITED: ReadonlySet<string> = new Set([
  'authors',
  'broader',
  'related',
  'roles',
  'books',
  'flags',
]);
/** Fields that stay with their heading: what it is, and how its own name is filed. */
const OWN: ReadonlySet<string> = new Set(['id', 'kind', 'name', 'alternates', 'filing', 'note']);

function joined(keep: Heading, gone: Heading): Heading {
  const result = { ...keep } as Record<string, unknown>;
  const names = [...keep.alternates, gone.name, ...gone.alternates];
  // A name that differs from one before it in its capitals alone says nothing more.
  const alike = (a: string, b: string): boolean => a.toLowerCase() === b.toLowerCase();
  result.alternates = names.filter(
    (name, at) => ![keep.name, ...names.slice(0, at)].some((one) => alike(one, name)),
  );
  const notes = new Set([keep.note, gone.note].filter((note) => note !== undefined && note !== ''));
  if (notes.size > 0) result.note = [...notes].join('\n\n');
  // What a heading of another kind holds would mean nothing here.
  const fields = keep.kind === gone.kind ? Object.keys(gone) : [];
  for (const field of fields) {
    const [own, other] = [ownValue(keep, field), ownValue(gone, field)];
    if (OWN.has(field) || other === undefined) continue;
    if (UNITED.has(field) && Array.isArray(own) && Array.isArray(other)) {
      result[field] = [...new Set<unknown>([...own, ...other])];
    } else if (own === undefined) setOwn(result, field, other);
  }
  for (const field of ['broader', 'related']) {
    const ids = result[field];
    if (Array.isArray(ids)) result[field] = ids.filter((id) => id !== keep.id && id !== gone.id);
  }
  return result as unknown as Heading;
}

/** Drops the broader themes that would lead back, then related ones that are broader or narrower as well. */
export function mendRelations(draft: Draft, id: HeadingId): void {
  const theme = draft.get('headings', id) as ThemeHeading;
  const broader = theme.broader.filter((up) => !leadsTo(draft, up, id));
  const doubled = theme.related.filter((other) => {
    const row = draft.get('headings', other);
    return broader.includes(other) || (row?.kind === 'theme' && row.broader.includes(id));
  });
  const related = theme.related.filter((other) => !doubled.includes(other));
  draft.put('headings', { ...theme, broader, related });
  for (const other of doubled) {
    const row = draft.get('headings', other);
    if (row?.kind !== 'theme') continue;
    draft.put('headings', { ...row, related: row.related.filter((each) => each !== id) });
  }
}

function leadsTo(draft: Draft, from: HeadingId, target: HeadingId): boolean {
  const seen = new Set<HeadingId>();
  const waiting = [from];
  for (let id = waiting.pop(); id !== undefined; id = waiting.pop()) {
    if (id === target) return true;
    if (seen.has(id)) continue;
    seen.add(id);
    const row = draft.get('headings', id);
    if (row?.kind === 'theme') for (const up of row.broader) waiting.push(up);
  }
  return false;
}
