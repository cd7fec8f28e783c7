import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import { checksum } from './checksum';
import type { ByteStore, Held, Update } from './byte-store';
import { NotKept, type JournalMeta } from './store';

interface Layout extends DBSchema {
  snap: { key: string; value: { state: Uint8Array; sum: number } };
  log: {
    key: number;
    value: { shard: string; update: Uint8Array; sum: number };
    indexes: { shard: string };
  };
  meta: { key: string; value: JournalMeta };
  pictures: { key: string; value: { bytes: Uint8Array; type: string } };
}

const STRICT = { durability: 'strict' } as const;

/** Turns what a browser throws into a sentence. */
export function notKept(error: unknown): NotKept {
  if (error instanceof NotKept) return error;
  const name = (error as DOMException | undefined)?.name ?? '';
  if (name === 'QuotaExceededError') return new NotKept('disk-full', 'the disk is full.');
  if (name === 'InvalidStateError' || name === 'AbortError') {
    return new NotKept('closed', 'the browser closed the store.');
  }
  if (name === 'SecurityError' || name === 'UnknownError') {
    return new NotKept('blocked', 'the browser does not let this page store anything.');
  }
  return new NotKept(
    'failed',
    `the store answered “${(error as Error)?.message ?? String(error)}”.`,
  );
}

/** Bytes in IndexedDB through `idb`. Each edit is one strict transaction: when it resolves, the disk has it. */
export class BrowserBytes implements ByteStore {
  private constructor(readonly db: IDBPDatabase<Layout>) {}

  /** @throws NotKept where the browser stores nothing (a private window, blocked storage). */
  static async open(name = 'bookweft'): Promise<BrowserBytes> {
    if (typeof indexedDB === 'undefined')
      throw new NotKept('blocked', 'the browser does not let this page store anything.');
    try {
      const db = await openDB<Layout>(name, 1, {
        upgrade(fresh) {
          fresh.createObjectStore('snap');
          fresh.createObjectStore('log', { autoIncrement: true }).createIndex('shard', 'shard');
          fresh.createObjectStore('meta');
          fresh.createObjectStore('pictures');
        },
      });
      return new BrowserBytes(db);
    } catch (error) {
      throw notKept(error);
    }
  }

  async shards(): Promise<string[]> {
    const found = new Set<string>(await this.db.getAllKeys('snap'));
    const tx = this.db.transaction('log');
    for (
      let at = await tx.store.index('shard').openKeyCursor(null, 'nextunique');
      at;
      at = await at.continue()
    ) {
      found.add(at.key);
    }
    return [...found];
  }

  async read(shard: string): Promise<Held> {
    const tx = this.db.transaction(['snap', 'log']);
    const index = tx.objectStore('log').index('shard');
    const [snap, keys, records] = await Promise.all([
      tx.objectStore('snap').get(shard),
      index.getAllKeys(shard),
      index.getAll(shard),
    ]);
    const sound = [...(snap ? [{ update: snap.state, sum: snap.sum }] : []), ...records].every(
      (record) => checksum(record.update) === record.sum,
    );
    const log = records.map((record, at) => ({ key: keys[at]!, update: record.update }));
    return {
      log,
      ...(snap ? { snap: snap.state } : {}),
      ...(sound ? {} : { broken: 'its bytes have changed on the disk' }),
    };
  }

  async append(updates: readonly Update[], meta?: JournalMeta): Promise<void> {
    try {
      const tx = this.db.transaction(['log', 'meta'], 'readwrite', STRICT);
      const writes: Promise<unknown>[] = updates.map(({ shard, update }) =>
        tx.objectStore('log').add({ shard, update, sum: checksum(update) }),
      );
      if (meta) writes.push(tx.objectStore('meta').put(meta, 'journal'));
      await Promise.all([...writes, tx.done]);
    } catch (error) {
      throw notKept(error);
    }
  }

  async replace(shard: string, snap: Uint8Array, logKeys: readonly number[]): Promise<void> {
    const tx = this.db.transaction(['snap', 'log'], 'readwrite', STRICT);
    const writes: Promise<unknown>[] = logKeys.map((key) => tx.objectStore('log').delete(key));
    writes.push(tx.objectStore('snap').put({ state: snap, sum: checksum(snap) }, shard));
    await Promise.all([...writes, tx.done]);
  }

  async grown(than: number): Promise<string[]> {
    const counts = new Map<string, number>();
    const tx = this.db.transaction('log');
    for (let at = await tx.store.index('shard').openKeyCursor(); at; at = await at.continue()) {
      counts.set(at.key, (counts.get(at.key) ?? 0) + 1);
    }
    return [...counts].filter(([, count]) => count > than).map(([shard]) => shard);
  }

  meta(): Promise<JournalMeta | undefined> {
    return this.db.get('meta', 'journal');
  }

  async saveMeta(meta: JournalMeta): Promise<void> {
    await this.append([], meta);
  }

  async putPicture(digest: string, bytes: Uint8Array, type: string): Promise<void> {
    try {
      const tx = this.db.transaction('pictures', 'readwrite', STRICT);
      await Promise.all([tx.store.put({ bytes, type }, digest), tx.done]);
    } catch (error) {
      throw notKept(error);
    }
  }

  picture(digest: string): Promise<{ bytes: Uint8Array; type: string } | undefined> {
    return this.db.get('pictures', digest);
  }

  pictures(): Promise<string[]> {
    return this.db.getAllKeys('pictures');
  }

  async close(): Promise<void> {
    this.db.close();
  }
}
