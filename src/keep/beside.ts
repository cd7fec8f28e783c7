/** Records kept beside the journal and no part of it: what is under way on this computer and goes in no copy. */

/** A record by its key; `undefined` takes it away. */
export type BesideChange = readonly [key: string, value: unknown];

/** Plain data by key. Keys are read by what they begin with, in their own order. */
export interface RecordsBeside {
  get<T>(key: string): Promise<T | undefined>;
  /** @throws NotKept where nothing can be read. */
  all<T>(begins: string): Promise<[key: string, value: T][]>;
  /** Keys only: what lies by them is not read. @throws NotKept */
  keys(begins: string): Promise<string[]>;
  /**
   * All or nothing. With `upon`, only where the number kept by that key is still the one given (none: 0), which then rises by one;
   * answers false, with nothing changed, where another window has raised it meanwhile. @throws NotKept
   */
  put(changes: readonly BesideChange[], upon?: { key: string; is: number }): Promise<boolean>;
  close(): Promise<void>;
}

/** Beside the journal for as long as the window is open: for tests, and where the browser stores nothing. */
export class MemoryBeside implements RecordsBeside {
  #records = new Map<string, unknown>();

  async get<T>(key: string): Promise<T | undefined> {
    return structuredClone(this.#records.get(key)) as T | undefined;
  }

  async all<T>(begins: string): Promise<[key: string, value: T][]> {
    return [...this.#records]
      .filter(([key]) => key.startsWith(begins))
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, value]) => [key, structuredClone(value) as T]);
  }

  async keys(begins: string): Promise<string[]> {
    return [...this.#records.keys()].filter((key) => key.startsWith(begins)).sort();
  }

  async put(
    changes: readonly BesideChange[],
    upon?: { key: string; is: number },
  ): Promise<boolean> {
    if (upon) {
      if ((this.#records.get(upon.key) ?? 0) !== upon.is) return false;
      this.#records.set(upon.key, upon.is + 1);
    }
    for (const [key, value] of changes) {
      if (value === undefined) this.#records.delete(key);
      else this.#records.set(key, structuredClone(value));
    }
    return true;
  }

  async close(): Promise<void> {}
}
