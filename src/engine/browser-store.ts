/** The store a browser window uses, and how windows of one browser follow each other's edits. */
import { MemoryBeside, type RecordsBeside } from '../keep/beside';
import { BrowserBeside } from '../keep/browser-beside';
import { BrowserBytes } from '../keep/browser-bytes';
import { DocumentStore, type Kept } from '../keep/document-store';
import { MemoryStore } from '../keep/memory-store';
import { NotKept, type JournalStore } from '../keep/store';
import type { DeskOver } from './desk-over';

const CHANNEL = 'bookweft-windows';

export interface Windows {
  store: DocumentStore;
  /** Missing where the browser has none: windows then see each other's edits when they are opened again. */
  channel?: BroadcastChannel;
}

interface OpenedStore {
  store: JournalStore;
  windows?: Windows;
  /** Set where nothing can be stored: the finished sentence why. */
  memoryOnly?: string;
}

/** Opens IndexedDB; where the browser stores nothing, memory stands in and the reason is told. `name` is the database's. */
export async function openStore(name?: string): Promise<OpenedStore> {
  try {
    const store = new DocumentStore(await BrowserBytes.open(name));
    const channel =
      typeof BroadcastChannel === 'undefined' ? undefined : new BroadcastChannel(CHANNEL);
    return { store, windows: { store, ...(channel ? { channel } : {}) } };
  } catch (error) {
    if (!(error instanceof NotKept)) throw error;
    const why = `Nothing is stored in this window: ${error.message}`;
    return { store: new MemoryStore(), memoryOnly: why };
  }
}

/** Where what is under way is held between windows; as long as this one is open where the browser stores nothing. */
export const besideStore = (memoryOnly: boolean): RecordsBeside =>
  memoryOnly ? new MemoryBeside() : new BrowserBeside();

/** Tells other windows of this one's edits, and brings theirs into this one. */
export function watchOtherWindows({ store, channel }: Windows, desk: DeskOver): void {
  store.events = {
    kept: (kept) => channel?.postMessage(kept),
    merged: (rows) => desk.takeRows(rows),
    aside: (aside) => desk.takeAside(aside),
  };
  if (!channel) return;
  channel.onmessage = async ({ data }: MessageEvent<Kept>) => {
    await desk.whenLoaded();
    // A window whose store is shut cannot look; it says already that it does not keep.
    await store.follow(data, (rows) => desk.takeRows(rows)).catch(() => undefined);
    if (data.meta) desk.takeMeta(data.meta);
  };
}
