import type { JournalMeta } from './store';

/** One stored change of a document: a Yjs V2 update. */
export interface Update {
  shard: string;
  update: Uint8Array;
}

/** What is held of a document: its last whole state and the updates since, with the keys that name them. */
export interface Held {
  snap?: Uint8Array;
  log: { key: number; update: Uint8Array }[];
  /** Why these bytes are not what was written, where they are not. */
  broken?: string;
}

/** Bytes by document: the ground the document store stands on. In the browser IndexedDB, in tests memory. */
export interface ByteStore {
  shards(): Promise<string[]>;
  read(shard: string): Promise<Held>;
  /** All or nothing, on the disk when it resolves. */
  append(updates: readonly Update[], meta?: JournalMeta): Promise<void>;
  /** Puts a whole state in place of the updates named, all or nothing. */
  replace(shard: string, snap: Uint8Array, logKeys: readonly number[]): Promise<void>;
  /** Documents with more updates than this, for compaction. */
  grown(than: number): Promise<string[]>;
  meta(): Promise<JournalMeta | undefined>;
  saveMeta(meta: JournalMeta): Promise<void>;
  putPicture(digest: string, bytes: Uint8Array, type: string): Promise<void>;
  picture(digest: string): Promise<{ bytes: Uint8Array; type: string } | undefined>;
  pictures(): Promise<string[]>;
  close(): Promise<void>;
}

/** Bytes in memory, for tests of the document store and of merging. */
export class MemoryBytes implements ByteStore {
  #snap = new Map<string, Uint8Array>();
  #log: { key: number; shard: string; update: Uint8Array }[] = [];
  #key = 0;
  #meta: JournalMeta | undefined;
  #pictures = new Map<string, { bytes: Uint8Array; type: string }>();

  async shards(): Promise<string[]> {
    return [...new Set([...this.#snap.keys(), ...this.#log.map(({ shard }) => shard)])];
  }
  async read(shard: string): Promise<Held> {
    const snap = this.#snap.get(shard);
    const log = this.#log.filter((one) => one.shard === shard);
    return { log, ...(snap ? { snap } : {}) };
  }
  async append(updates: readonly Update[], meta?: JournalMeta): Promise<void> {
    for (const one of updates) this.#log.push({ ...one, key: ++this.#key });
    if (meta) this.#meta = meta;
  }
  async replace(shard: string, snap: Uint8Array, logKeys: readonly number[]): Promise<void> {
    this.#snap.set(shard, snap);
    const gone = new Set(logKeys);
    this.#log = this.#log.filter(({ key }) => !gone.has(key));
  }
  async grown(than: number): Promise<string[]> {
    const counts = new Map<string, number>();
    for (const { shard } of this.#log) counts.set(shard, (counts.get(shard) ?? 0) + 1);
    return [...counts].filter(([, count]) => count > than).map(([shard]) => shard);
  }
  async meta(): Promise<JournalMeta | undefined> {
    return this.#meta;
  }
  async saveMeta(meta: JournalMeta): Promise<void> {
    this.#meta = meta;
  }
  async putPicture(digest: string, bytes: Uint8Array, type: string): Promise<void> {
    this.#pictures.set(digest, { bytes, type });
  }
  async picture(digest: string): Promise<{ bytes: Uint8Array; type: string } | undefined> {
    return this.#pictures.get(digest);
  }
  async pictures(): Promise<string[]> {
    return [...this.#pictures.keys()];
  }
  async close(): Promise<void> {}
}
