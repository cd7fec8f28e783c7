/** Making a theme out of what was found together: a new heading and its ties as one edit, taken back as one. */
import type { Edit } from '../journal/edits';
import { putHeading, tieEntries } from '../journal/make-edits';
import type { EntryId, HeadingId, ThemeHeading } from '../journal/records';
import { nameKey } from '../language/filing';
import type { Core } from './core';
import { strandMembers } from './strands-held';

export type ThemeMade =
  | { ok: true; edit: Edit; id: HeadingId }
  | { ok: false; code: 'no-name' | 'no-entries'; said: string };

/** Ties entries to the theme of that name, which is made where there is none. */
export function themeOf(core: Core, name: string, entries: readonly EntryId[]): ThemeMade {
  const { journal } = core;
  const called = name.trim();
  if (called === '') return { ok: false, code: 'no-name', said: 'A theme needs a name.' };
  const there = entries.filter((id) => journal.tables.entries.has(id));
  if (there.length === 0) {
    return { ok: false, code: 'no-entries', said: 'There is no entry to tie to it.' };
  }
  const key = nameKey(called, 'theme');
  const same = [...journal.tables.headings.values()].find(
    (one) =>
      one.kind === 'theme' &&
      [one.name, ...one.alternates].some((also) => nameKey(also, 'theme') === key),
  );
  const id = same?.id ?? (core.around.newId() as HeadingId);
  const theme: ThemeHeading = {
    id,
    kind: 'theme',
    name: called,
    alternates: [],
    broader: [],
    related: [],
  };
  const tie = { heading: id, role: 'about', by: 'reader' } as const;
  const ties = tieEntries(journal, there, tie, core.nowIso());
  const made = same ? [] : putHeading(journal, theme).changes;
  const many = `${there.length} ${there.length === 1 ? 'entry' : 'entries'}`;
  const does = same ? `Tie ${many} to ${same.name}` : `Make the theme ${called} of ${many}`;
  return { ok: true, id, edit: { does, changes: [...made, ...ties.changes] } };
}

/** A strand as a theme, with all its entries. */
export function strandAsTheme(core: Core, strand: string, name: string): ThemeMade {
  return themeOf(core, name, strandMembers(core, strand)?.entries ?? []);
}
