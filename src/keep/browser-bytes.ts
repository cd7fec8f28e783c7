import {
  openDB,
  type DBSchema,
  type IDBPDatabase,
  type IDBPTransaction,
  type StoreNames,
} from 'idb';
import { notKept, type ByteStore, type Held, type Update } from './byte-store';
import { checksum } from './checksum';
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
type Base = IDBPDatabase<Layout>;
type Stores = StoreNames<Layout>;
type Writing<S extends Stores> = IDBPTransaction<Layout, S[], 'readwrite'>;

const STRICT = { durability: 'strict' } as const;
const BLOCKED = 'the browser does not let this page store anything.';
const CLEARED = 'the browser has cleared what this page had stored.';

/** Where storage is blocked, some browsers have no IndexedDB and others throw when it is named. */
function hasStore(): boolean {
  try {
    return typeof indexedDB !== 'undefined';
  } catch {
    return false;
  }
}

/** Bytes in IndexedDB through `idb`. Each edit is one strict transaction: when it resolves, the disk has it. */
export class BrowserBytes implements ByteStore {
  #base: Base | undefined;
  #opening: Promise<Base> | undefined;
  /** The store was opened once: if it is found empty later, the browser has cleared it. */
  #known = false;
  #cleared = false;

  private constructor(readonly name: string) {}

  /** @throws NotKept where the browser stores nothing (a private window, blocked storage). */
  static async open(name = 'bookweft'): Promise<BrowserBytes> {
    if (!hasStore()) throw new NotKept('blocked', BLOCKED);
    const bytes = new BrowserBytes(name);
    await bytes.#open().catch((error: unknown) => {
      if ((error as DOMException).name === 'UnknownError') throw new NotKept('blocked', BLOCKED);
      throw notKept(error);
    });
    return bytes;
  }

  /** The open store, opened again where the browser has closed it meanwhile. */
  async #open(): Promise<Base> {
    if (this.#base) return this.#base;
    this.#opening ??= this.#openAnew().finally(() => {
      this.#opening = undefined;
    });
    return this.#opening;
  }

  async #openAnew(): Promise<Base> {
    let made = false;
    const closed = (): void => {
      this.#base = undefined;
    };
    const base = await openDB<Layout>(this.name, 1, {
      upgrade(fresh) {
        made = true;
        fresh.createObjectStore('snap');
        fresh.createObjectStore('log', { autoIncrement: true }).createIndex('shard', 'shard');
        fresh.createObjectStore('meta');
        fresh.createObjectStore('pictures');
      },
      blocking: (_now, _wanted, event) => {
        (event.target as IDBDatabase).close();
        closed();
      },
      terminated: closed,
    });
    if (made && this.#known) this.#cleared = true;
    this.#known = true;
    this.#base = base;
    return base;
  }

  async #read<T>(work: (base: Base) => Promise<T>): Promise<T> {
    try {
      return await work(await this.#open());
    } catch (error) {
      throw this.#lost(error);
    }
  }

  /** One transaction: what `work` begins is on the disk, all of it, when this resolves, or none of it. */
  async #write<S extends Stores>(
    stores: S[],
    work: (tx: Writing<S>) => void | Promise<void>,
  ): Promise<void> {
    let tx: Writing<S> | undefined;
    try {
      const base = await this.#open();
      // Updates written onto an emptied store could never be read without what they were made upon.
      if (this.#cleared) throw new NotKept('closed', CLEARED);
      tx = base.transaction(stores, 'readwrite', STRICT);
      await work(tx);
      await tx.done;
    } catch (error) {
      const why = tx?.error;
      if (tx) giveUp(tx);
      // The reason a transaction ended tells more than what its requests say of it.
      throw this.#lost(why ?? error);
    }
  }

  #lost(error: unknown): NotKept {
    const lost = notKept(error);
    // Opened again at the next attempt.
    if ((error as DOMException).name === 'InvalidStateError') this.#base = undefined;
    return lost;
  }

  shards(): Promise<string[]> {
    return this.#read(async (base) => {
      const found = new Set<string>(await base.getAllKeys('snap'));
      const tx = base.transaction('log');
      let at = await tx.store.index('shard').openKeyCursor(null, 'nextunique');
      for (; at; at = await at.continue()) found.add(at.key);
      return [...found];
    });
  }

  async read(shard: string): Promise<Held> {
    try {
      return await this.#read((base) => readHeld(base, shard));
    } catch (error) {
      const { code, message } = error as NotKept;
      if (code === 'closed') throw error;
      return { log: [], broken: message.replace(/\.$/, '') };
    }
  }

  append(updates: readonly Update[], meta?: JournalMeta): Promise<void> {
    return this.#write(['log', 'meta'], (tx) => {
      for (const { shard, update } of updates) {
        toldByDone(tx.objectStore('log').add({ shard, update, sum: checksum(update) }));
      }
      if (meta) toldByDone(tx.objectStore('meta').put(meta, 'journal'));
    });
  }

  async replace(shard: string, snap: Uint8Array, logKeys: readonly number[]): Promise<boolean> {
    let replaced = false;
    await this.#write(['snap', 'log'], async (tx) => {
      const there = new Set(await tx.objectStore('log').index('shard').getAllKeys(shard));
      replaced = logKeys.every((key) => there.has(key));
      if (!replaced) return;
      for (const key of logKeys) toldByDone(tx.objectStore('log').delete(key));
      toldByDone(tx.objectStore('snap').put({ state: snap, sum: checksum(snap) }, shard));
    });
    return replaced;
  }

  grown(than: number): Promise<string[]> {
    return this.#read(async (base) => {
      const index = base.transaction('log').store.index('shard');
      const shards: string[] = [];
      for (let at = await index.openKeyCursor(null, 'nextunique'); at; at = await at.continue())
        shards.push(at.key);
      const counts = await Promise.all(shards.map((shard) => index.count(shard)));
      return shards.filter((_, at) => counts[at]! > than);
    });
  }

  meta(): Promise<JournalMeta | undefined> {
    return this.#read((base) => base.get('meta', 'journal'));
  }

  saveMeta(meta: JournalMeta): Promise<void> {
    return this.append([], meta);
  }

  putPicture(digest: string, bytes: Uint8Array, type: string): Promise<void> {
    return this.#write(['pictures'], (tx) => {
      toldByDone(tx.objectStore('pictures').put({ bytes, type }, digest));
    });
  }

  picture(digest: string): Promise<{ bytes: Uint8Array; type: string } | undefined> {
    return this.#read((base) => base.get('pictures', digest));
  }

  pictures(): Promise<string[]> {
    return this.#read((base) => base.getAllKeys('pictures'));
  }

  async close(): Promise<void> {
    this.#base?.close();
    this.#base = undefined;
  }
}

/** A request that fails ends its transaction, and that is where it is told. */
const toldByDone = (request: Promise<unknown>): void => void request.catch(() => undefined);

/** Nothing of an unfinished transaction may stay. */
function giveUp(tx: { abort: () => void; done: Promise<void> }): void {
  toldByDone(tx.done);
  try {
    tx.abort();
  } catch {
    // It has ended by itself.
  }
}

async function readHeld(base: Base, shard: string): Promise<Held> {
  const tx = base.transaction(['snap', 'log']);
  const index = tx.objectStore('log').index('shard');
  const [snap, keys, records] = await Promise.all([
    tx.objectStore('snap').get(shard),
    index.getAllKeys(shard),
    index.getAll(shard),
  ]);
  const all = [...(snap ? [{ update: snap.state, sum: snap.sum }] : []), ...records];
  const broken = all.some(({ update, sum }) => checksum(update) !== sum);
  return {
    log: records.map(({ update }, at) => ({ key: keys[at]!, update })),
    ...(snap ? { snap: snap.state } : {}),
    ...(broken ? { broken: 'its bytes have changed on the disk' } : {}),
  };
}
