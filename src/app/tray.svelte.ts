import type { Desk } from '../engine/desk';
import type { EntryId } from '../journal/records';
import { readStored, store } from './stored';

const TRAY = 'bookweft.tray';

function read(): EntryId[] | undefined {
  const held = readStored<EntryId[]>(TRAY);
  return Array.isArray(held) ? held : undefined;
}

/** Entries put by for a guide: the same in every window of this browser, and still there when it is opened again. */
export class Tray {
  ids = $state.raw<EntryId[]>(read() ?? []);
  /** The browser would not store what is held here last: it is this window's own. */
  #own = false;

  /** Hears of what other windows put by and take out, as long as this one is open. */
  follow(): void {
    window.addEventListener('storage', ({ key }) => {
      if (key === TRAY || key === null) this.ids = read() ?? [];
    });
  }

  /** Adds those that are not in it yet. */
  add(ids: readonly EntryId[]): void {
    this.#set([...new Set([...this.#now(), ...ids])]);
  }

  /** Takes these out. */
  take(ids: readonly EntryId[]): void {
    const out = new Set(ids);
    this.#set(this.#now().filter((held) => !out.has(held)));
  }

  empty(): void {
    this.#set([]);
  }

  /** Lets go of entries that the journal no longer has; asked of one that is whole. */
  async leaveGone(desk: Desk): Promise<void> {
    const asked = this.ids;
    if (asked.length === 0) return;
    const there = new Set((await desk.rows(asked)).map(({ id }) => id));
    const gone = asked.filter((id) => !there.has(id));
    if (gone.length > 0) this.take(gone);
  }

  /** Another window may have changed it a moment ago, and this one not have heard of it. */
  #now(): EntryId[] {
    return this.#own ? this.ids : (read() ?? this.ids);
  }

  #set(ids: EntryId[]): void {
    this.ids = ids;
    this.#own = !store(TRAY, ids);
  }
}
