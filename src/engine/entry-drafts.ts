/** Entries as screens send them, brought onto what was changed elsewhere since they were opened to be altered. */
import { putEntry } from '../journal/make-edits';
import type { Entry, EntryId } from '../journal/records';
import type { Asked, Core } from './core';
import type { EntryDraft } from './desk';
import { broughtOnto } from './written-apart';

/** Entries handed out to be altered that are remembered as they were, to tell what was changed in them. */
const SHOWN = 200;

export class EntryDrafts {
  #shown = new Map<string, Entry>();

  /** Remembers an entry as a screen has it now. */
  handedOut(entry: Entry): void {
    const key = `${entry.id} ${entry.changed}`;
    this.#shown.delete(key);
    this.#shown.set(key, entry);
    if (this.#shown.size > SHOWN) this.#shown.delete(this.#shown.keys().next().value!);
  }

  /** The edit that puts a draft in; `now` is an ISO time. A new entry is given an id. */
  put({ journal, around }: Core, draft: EntryDraft, now: string): Asked {
    const held = draft.id && journal.tables.entries.get(draft.id);
    const id = (draft.id ?? around.newId()) as EntryId;
    const { changed, ...fields } = draft;
    const entry: Entry = { ...fields, id, added: held ? held.added : now, changed: now };
    const base = changed === undefined ? undefined : this.#shown.get(`${id} ${changed}`);
    const wanted = held && base ? broughtOnto(held, base, entry) : entry;
    return { ok: true, edit: putEntry(journal, wanted), id };
  }
}
