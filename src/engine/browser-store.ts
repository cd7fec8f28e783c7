/** The store a browser window uses, and how windows of one browser follow each other's edits. */
import { BrowserBytes } from '../keep/browser-bytes';
import { DocumentStore, type Kept } from '../keep/document-store';
import { MemoryStore } from '../keep/memory-store';
import { NotKept, type JournalStore } from '../keep/store';
import type { DeskOver } from './desk-over';

const CHANNEL = 'bookweft-windows';

export interface Windows {
  store: DocumentStore;
  channel: BroadcastChannel;
}

export interface OpenedStore {
  store: JournalStore;
  windows?: Windows;
  /** Set where nothing can be stored: the finished sentence why. */
  memoryOnly?: string;
}

/** Opens IndexedDB; where the browser stores nothing, memory stands in and the reason is told. */
export async function openStore(): Promise<OpenedStore> {
  try {
    const bytes = await BrowserBytes.open();
    const channel = new BroadcastChannel(CHANNEL);
    const store = new DocumentStore(bytes, (kept) => channel.postMessage(kept));
    return { store, windows: { store, channel } };
  } catch (error) {
    if (!(error instanceof NotKept)) throw error;
    const why = `Nothing is stored in this window: ${error.message}`;
    return { store: new MemoryStore(), memoryOnly: why };
  }
}

/** Brings edits of other windows into this one. */
export function watchOtherWindows({ store, channel }: Windows, desk: DeskOver): void {
  channel.onmessage = async (message: MessageEvent<Kept>) => {
    await desk.whenLoaded();
    desk.takeRows(await store.follow(message.data));
  };
}
