/** Headings by their names: making one where none has the name, and giving one another. Each answers an edit. */
import { putHeading, renameHeading } from '../journal/make-edits';
import type { Heading, HeadingId, HeadingKind, Journal } from '../journal/records';
import { nameKey } from '../language/filing';
import type { Asked } from './core';

/** The heading of this kind and name (an alternate will do): the one there is, unchanged, or a new one under an id from `newId`. */
export function headingNamed(
  journal: Journal,
  kind: HeadingKind,
  name: string,
  newId: () => string,
): Asked {
  const key = nameKey(name, kind);
  for (const heading of journal.tables.headings.values()) {
    const names = [heading.name, ...heading.alternates];
    if (heading.kind === kind && names.some((one) => nameKey(one, kind) === key)) {
      return { ok: true, edit: { does: heading.name, changes: [] }, id: heading.id };
    }
  }
  const base = { id: newId() as HeadingId, name: name.trim(), alternates: [] };
  const heading: Heading =
    kind === 'book'
      ? { ...base, kind, authors: [] }
      : kind === 'theme'
        ? { ...base, kind, broader: [], related: [] }
        : { ...base, kind, roles: [] };
  return { ok: true, edit: putHeading(journal, heading), id: heading.id };
}

/** A new name, without the space around it. Codes: gone, no-name. */
export function renamed(journal: Journal, id: HeadingId, name: string): Asked {
  if (!journal.tables.headings.has(id))
    return { ok: false, said: 'That heading is no longer there.', code: 'gone' };
  const to = name.trim();
  if (to === '') return { ok: false, said: 'A heading needs a name.', code: 'no-name' };
  return { ok: true, edit: renameHeading(journal, id, to), id };
}
