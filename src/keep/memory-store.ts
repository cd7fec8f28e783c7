import type { Change } from '../journal/edits';
import { TABLES, type TableName } from '../journal/records';
import { PicturesInMemory } from './pictures';
import type { JournalMeta, JournalStore, Loaded, Slice } from './store';

type Rows = Map<TableName, Map<string, unknown>>;

/** Keeps a journal for as long as the window stays open: for private windows, blocked storage, and tests. */
export class MemoryStore implements JournalStore {
  #rows: Rows = new Map(TABLES.map((table) => [table, new Map()]));
  #meta: JournalMeta | undefined;
  #pictures = new PicturesInMemory();

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

  async keep(changes: readonly Change[], meta?: JournalMeta): Promise<void> {
    const copied = structuredClone(changes) as Change[];
    for (const { table, id, after } of copied) {
      if (after === undefined) this.#rows.get(table)!.delete(id);
      else this.#rows.get(table)!.set(id, after);
    }
    if (meta) this.#meta = structuredClone(meta);
  }

  async retry(): Promise<boolean> {
    return true;
  }

  keepPicture(digest: string, bytes: Uint8Array, type: string): Promise<void> {
    return this.#pictures.put(digest, bytes, type);
  }

  picture(digest: string): Promise<{ bytes: Uint8Array; type: string } | undefined> {
    return this.#pictures.get(digest);
  }

  pictures(): Promise<string[]> {
    return this.#pictures.list();
  }

  async asideBytes(): Promise<undefined> {
    return undefined;
  }

  async compact(): Promise<number> {
    return 0;
  }

  async close(): Promise<void> {}
}
