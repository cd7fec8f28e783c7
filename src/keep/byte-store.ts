import { PicturesInMemory } from './pictures';
import { NotKept, type JournalMeta } from './store';

/** One stored change of a document: a Yjs V2 update. `shard` names the part it is appended to. */
export interface Update {
  shard: string;
  update: Uint8Array;
}

/** What is held of a document: its last whole state and the updates since, with the keys that name them. */
export interface Held {
  snap?: Uint8Array;
  log: { key: number; update: Uint8Array }[];
  /** Why these bytes are not what was written, where they are not: the end of a sentence, without its full stop. */
  broken?: string;
}

/** Bytes by document: the ground the document store stands on. In the browser IndexedDB, in tests memory. */
export interface ByteStore {
  shards(): Promise<string[]>;
  /** What cannot be read of one document is told in `broken`. @throws NotKept where nothing can be read at all */
  read(shard: string): Promise<Held>;
  /** All or nothing, in this order, on the disk when it resolves. @throws NotKept */
  append(updates: readonly Update[], meta?: JournalMeta): Promise<void>;
  /**
   * Puts a whole state in place of the updates named, all or nothing. Answers false, with nothing changed, where one of them is
   * no longer there: another window has been at it, and what was read is old. @throws NotKept
   */
  replace(shard: string, snap: Uint8Array, logKeys: readonly number[]): Promise<boolean>;
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
  #pictures = new PicturesInMemory();

  async shards(): Promise<string[]> {
    return [...new Set([...this.#snap.keys(), ...this.#log.map(({ shard }) => shard)])];
  }

  async read(shard: string): Promise<Held> {
    const snap = this.#snap.get(shard);
    const log = this.#log.filter((one) => one.shard === shard);
    return { log, ...(snap ? { snap } : {}) };
  }

  async append(updates: readonly Update[], meta?: JournalMeta): Promise<void> {
    for (const { shard, update } of updates) {
      this.#log.push({ shard, update: update.slice(), key: ++this.#key });
    }
    if (meta) this.#meta = structuredClone(meta);
  }

  async replace(shard: string, snap: Uint8Array, logKeys: readonly number[]): Promise<boolean> {
    const there = new Set(this.#log.filter((one) => one.shard === shard).map(({ key }) => key));
    if (!logKeys.every((key) => there.has(key))) return false;
    this.#snap.set(shard, snap.slice());
    const gone = new Set(logKeys);
    this.#log = this.#log.filter(({ key }) => !gone.has(key));
    return true;
  }

  async grown(than: number): Promise<string[]> {
    const counts = new Map<string, number>();
    for (const { shard } of this.#log) counts.set(shard, (counts.get(shard) ?? 0) + 1);
    return [...counts].filter(([, count]) => count > than).map(([shard]) => shard);
  }

  async meta(): Promise<JournalMeta | undefined> {
    return structuredClone(this.#meta);
  }

  saveMeta(meta: JournalMeta): Promise<void> {
    return this.append([], meta);
  }

  putPicture(digest: string, bytes: Uint8Array, type: string): Promise<void> {
    return this.#pictures.put(digest, bytes, type);
  }

  picture(digest: string): Promise<{ bytes: Uint8Array; type: string } | undefined> {
    return this.#pictures.get(digest);
  }

  pictures(): Promise<string[]> {
    return this.#pictures.list();
  }

  async close(): Promise<void> {}
}

/** The pieces of a part in one file: before each its length, 32 bits, big-endian. Undefined where nothing is held. */
export function piecesOf({ snap, log }: Held): Uint8Array | undefined {
  const all = [...(snap ? [snap] : []), ...log.map(({ update }) => update)];
  if (all.length === 0) return undefined;
  const out = new Uint8Array(all.reduce((sum, piece) => sum + 4 + piece.length, 0));
  let at = 0;
  for (const piece of all) {
    new DataView(out.buffer).setUint32(at, piece.length);
    out.set(piece, at + 4);
    at += 4 + piece.length;
  }
  return out;
}

/** Turns what a browser throws into the end of a sentence: "Not kept: the disk is full." */
export function notKept(error: unknown): NotKept {
  if (error instanceof NotKept) return error;
  const name = (error as DOMException | undefined)?.name ?? '';
  if (name === 'QuotaExceededError') return new NotKept('disk-full', 'the disk is full.');
  if (name === 'InvalidStateError' || name === 'AbortError') {
    return new NotKept('closed', 'the browser closed the store.');
  }
  if (name === 'SecurityError') {
    return new NotKept('blocked', 'the browser does not let this page store anything.');
  }
  return new NotKept(
    'failed',
    `the store answered “${(error as Error)?.message ?? String(error)}”.`,
  );
}
