import type { Change } from '../journal/edits';
import { TABLES, type TableName } from '../journal/records';
import type { JournalMeta, JournalStore, Loaded, Slice } from './store';

type Rows = Map<TableName, Map<string, unknown>>;

/** Keeps a journal for as long as the window stays open: for private windows, blocked storage, and tests. */
export class MemoryStore implements JournalStore {
  #rows: Rows = new Map(TABLES.map((table) => [table, new Map()]));
  #meta: JournalMeta | undefined;
  #pictures = new Map<string, { bytes: Uint8Array; type: string }>();

  async meta(): Promise<JournalMeta | undefined> {
    return this.#meta;
  }

  async saveMeta(meta: JournalMeta): Promise<void> {
    this.#meta = structuredClone(meta);
  }

  async entryCount(): Promise<number> {
    return this.#rows.get('entries')!.size;
  }

  async load(take: (slice: Slice) => void | Promise<void>): Promise<Loaded> {
    let count = 0;
    for (const [table, rows] of this.#rows) {
      const slice = {
        table,
        rows: [...rows.values()].map((row) => structuredClone(row)),
      } as unknown as Slice;
      count += rows.size;
      if (rows.size > 0) await take(slice);
    }
    return { aside: [], rows: count };
  }

  async keep(changes: readonly Change[]): Promise<void> {
    for (const { table, id, after } of changes) {
      if (after === undefined) this.#rows.get(table)!.delete(id);
      else this.#rows.get(table)!.set(id, structuredClone(after));
    }
  }

  async retry(): Promise<boolean> {
    return true;
  }

  async keepPicture(digest: string, bytes: Uint8Array, type: string): Promise<void> {
    this.#pictures.set(digest, { bytes: bytes.slice(), type });
  }

  async picture(digest: string): Promise<{ bytes: Uint8Array; type: string } | undefined> {
    return this.#pictures.get(digest);
  }

  async pictures(): Promise<string[]> {
    return [...this.#pictures.keys()];
  }

  async asideBytes(): Promise<undefined> {
    return undefined;
  }

  async compact(): Promise<number> {
    return 0;
  }

  async close(): Promise<void> {}
}
