/** Entries as screens send them, brought onto what was changed elsewhere since they were opened to be altered. */
import type { Change } from '../journal/edits';
import { rowsNaming } from '../journal/indexes';
import { putEntry } from '../journal/make-edits';
import type { Entry, EntryId, HeadingId } from '../journal/records';
import type { Asked, Core } from './core';
import type { EntryDraft } from './desk';
import { broughtOnto } from './written-apart';

/** The edit that puts a draft in, with what was declined for it; `now` is an ISO time. A new entry is given an id. */
export function putDraft(core: Core, draft: EntryDraft, now: string): Asked {
  const { journal, around } = core;
  const held = draft.id && journal.tables.entries.get(draft.id);
  const id = (draft.id ?? around.newId()) as EntryId;
  const { base, declined = [], ...fields } = draft;
  const entry: Entry = { ...fields, id, added: held ? held.added : now, changed: now };
  const wanted = held && base ? broughtOnto(held, base, entry) : entry;
  const settled = new Set([...wanted.ties.map((tie) => tie.heading), ...declinedFor(core, id)]);
  const turnedDown = declined
    .filter((heading) => !settled.has(heading) && journal.tables.headings.has(heading))
    .map((heading): Change => {
      const row = { id: around.newId(), entry: id, heading, on: now };
      return { table: 'declined', id: row.id, after: row };
    });
  const edit = putEntry(journal, wanted);
  return { ok: true, edit: { ...edit, changes: [...edit.changes, ...turnedDown] }, id };
}

/** Headings an entry is not to be tied to, as the reader has said. */
export const declinedFor = ({ journal }: Core, id: EntryId): HeadingId[] =>
  [...rowsNaming(journal, 'entries', id, 'declined')].flatMap(
    (row) => journal.tables.declined.get(row)?.heading ?? [],
  );
