import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import type { BesideChange, RecordsBeside } from './beside';
import { notKept } from './byte-store';

interface Layout extends DBSchema {
  records: { key: string; value: unknown };
}

const from = (begins: string): IDBKeyRange => IDBKeyRange.bound(begins, `${begins}\uffff`);

/** A store of its own in IndexedDB, so that what is under way never stands in the way of the journal. */
export class BrowserBeside implements RecordsBeside {
  #base: Promise<IDBPDatabase<Layout>> | undefined;

  constructor(readonly name = 'bookweft-beside') {}

  /** The open store, opened again where the browser has closed it meanwhile. */
  #open(): Promise<IDBPDatabase<Layout>> {
    const forget = (): void => {
      this.#base = undefined;
    };
    this.#base ??= openDB<Layout>(this.name, 1, {
      upgrade: (fresh) => void fresh.createObjectStore('records'),
      blocking: (_now, _wanted, event) => {
        (event.target as IDBDatabase).close();
        forget();
      },
      terminated: forget,
    }).catch((error: unknown) => {
      forget();
      throw notKept(error);
    });
    return this.#base;
  }

  async get<T>(key: string): Promise<T | undefined> {
    const base = await this.#open();
    return (await base.get('records', key)) as T | undefined;
  }

  async all<T>(begins: string): Promise<[key: string, value: T][]> {
    const range = from(begins);
    const tx = (await this.#open()).transaction('records');
    const [keys, values] = await Promise.all([tx.store.getAllKeys(range), tx.store.getAll(range)]);
    return keys.map((key, at) => [key, values[at] as T]);
  }

  async keys(begins: string): Promise<string[]> {
    return (await this.#open()).getAllKeys('records', from(begins));
  }

  async put(
    changes: readonly BesideChange[],
    upon?: { key: string; is: number },
  ): Promise<boolean> {
    const base = await this.#open();
    const tx = base.transaction('records', 'readwrite');
    // A request that fails ends its transaction, and that is where it is told.
    const told = (request: Promise<unknown>): void => void request.catch(() => undefined);
    told(tx.done);
    try {
      if (upon) {
        const now = ((await tx.store.get(upon.key)) as number | undefined) ?? 0;
        if (now !== upon.is) {
          await tx.done;
          return false;
        }
        told(tx.store.put(now + 1, upon.key));
      }
      for (const [key, value] of changes) {
        told(value === undefined ? tx.store.delete(key) : tx.store.put(value, key));
      }
      await tx.done;
      return true;
    } catch (error) {
      const why = tx.error ?? error;
      try {
        // Nothing of an unfinished transaction may stay.
        tx.abort();
      } catch {
        // It has ended by itself.
      }
      throw notKept(why);
    }
  }

  async close(): Promise<void> {
    (await this.#base)?.close();
    this.#base = undefined;
  }
}
