/**
 * Keeps a journal as Yjs documents by month, so that several devices can merge without losing a word.
 * An edit becomes one update for each document it touches, appended in one transaction.
 */
import * as Y from 'yjs';
import type { Change } from '../journal/edits';
import type { TableName } from '../journal/records';
import type { ByteStore, Update } from './byte-store';
import { allRowsInDoc, putRowInDoc, rowInDoc } from './rows-in-doc';
import { loadingOrder, shardOf, tableOf } from './shards';
import {
  NotKept,
  type Aside,
  type JournalMeta,
  type JournalStore,
  type Loaded,
  type Slice,
} from './store';

type Row = Record<string, unknown> & { id: string };

/** Documents kept live for editing; the least lately used leaves first. */
const LIVE = 8;
/** A document is rewritten when it has more updates than this. */
const GROWN = 64;

/** What was changed, for another window: the updates, and which rows to look at. */
export interface Kept {
  updates: Update[];
  rows: { table: TableName; id: string }[];
}

export class DocumentStore implements JournalStore {
  #live = new Map<string, Y.Doc>();
  #held: Kept = { updates: [], rows: [] };
  #aside = new Map<string, string>();
  #queue: Promise<unknown> = Promise.resolve();

  constructor(
    readonly bytes: ByteStore,
    /** Told after every keep that reached the disk. */
    readonly onKept: (kept: Kept) => void = () => {},
  ) {}

  meta(): Promise<JournalMeta | undefined> {
    return this.bytes.meta();
  }

  saveMeta(meta: JournalMeta): Promise<void> {
    return this.bytes.saveMeta(meta);
  }

  async entryCount(): Promise<undefined> {
    return undefined;
  }

  async load(take: (slice: Slice) => void | Promise<void>): Promise<Loaded> {
    this.#aside.clear();
    let count = 0;
    for (const shard of loadingOrder(await this.bytes.shards())) {
      const rows = await this.#readRows(shard);
      if (!rows || rows.length === 0) continue;
      count += rows.length;
      await take({ table: tableOf(shard), rows } as unknown as Slice);
    }
    return { aside: this.#asides(), rows: count };
  }

  #asides(): Aside[] {
    return [...this.#aside].map(([part, why]) => ({ part, why }));
  }

  async #readRows(shard: string): Promise<Row[] | undefined> {
    try {
      const doc = await this.#read(shard);
      const rows = allRowsInDoc(doc, tableOf(shard));
      doc.destroy();
      return rows;
    } catch (error) {
      this.#aside.set(shard, (error as Error).message);
      return undefined;
    }
  }

  async #read(shard: string): Promise<Y.Doc> {
    const { snap, log, broken } = await this.bytes.read(shard);
    if (broken) throw new Error(broken);
    const doc = new Y.Doc();
    doc.transact(() => {
      if (snap) Y.applyUpdateV2(doc, snap);
      for (const { update } of log) Y.applyUpdateV2(doc, update);
      for (const one of this.#held.updates)
        if (one.shard === shard) Y.applyUpdateV2(doc, one.update);
    });
    return doc;
  }

  /** The live document; where one lies aside, a fresh one beside it takes what is new. */
  async #open(name: string): Promise<{ shard: string; doc: Y.Doc }> {
    let shard = name;
    while (this.#aside.has(shard)) shard += '~';
    let doc = this.#live.get(shard);
    if (doc) this.#live.delete(shard);
    else doc = await this.#read(shard);
    this.#live.set(shard, doc);
    for (const [oldest, old] of this.#live) {
      if (this.#live.size <= LIVE) break;
      if (oldest === shard) continue;
      old.destroy();
      this.#live.delete(oldest);
    }
    return { shard, doc };
  }

  keep(changes: readonly Change[]): Promise<void> {
    return this.#inOrder(async () => {
      const byShard = new Map<string, Change[]>();
      for (const change of changes) {
        const shard = shardOf(change.table, change.id);
        byShard.set(shard, [...(byShard.get(shard) ?? []), change]);
      }
      for (const [name, list] of byShard) await this.#change(name, list);
      await this.#flush();
    });
  }

  async #change(name: string, changes: Change[]): Promise<void> {
    const { shard, doc } = await this.#open(name);
    const note = (update: Uint8Array): void => {
      this.#held.updates.push({ shard, update });
    };
    doc.on('updateV2', note);
    doc.transact(() => {
      for (const { table, id, before, after } of changes) {
        putRowInDoc(doc, table, id, before as Row | undefined, after as Row | undefined);
        this.#held.rows.push({ table, id });
      }
    });
    doc.off('updateV2', note);
  }

  async #flush(): Promise<void> {
    const kept = this.#held;
    if (kept.updates.length === 0) return;
    await this.bytes.append(kept.updates);
    this.#held = { updates: [], rows: [] };
    this.onKept(kept);
  }

  retry(): Promise<boolean> {
    return this.#inOrder(async () => {
      await this.#flush().catch((error: unknown) => {
        if (!(error instanceof NotKept)) throw error;
      });
      return this.#held.updates.length === 0;
    });
  }

  /** Rows as another window left them: brings the live documents up and answers the rows as they now are. */
  follow(kept: Kept): Promise<{ table: TableName; id: string; row: Row | undefined }[]> {
    return this.#inOrder(async () => {
      for (const { shard, update } of kept.updates) {
        const doc = this.#live.get(shard);
        if (doc) Y.applyUpdateV2(doc, update);
      }
      const docs = new Map<string, Y.Doc>();
      const out: { table: TableName; id: string; row: Row | undefined }[] = [];
      for (const { table, id } of kept.rows) {
        const name = shardOf(table, id);
        const doc = docs.get(name) ?? (await this.#open(name)).doc;
        docs.set(name, doc);
        out.push({ table, id, row: rowInDoc(doc, table, id) });
      }
      return out;
    });
  }

  /** The whole state of every document, to bring to another device. */
  states(): Promise<Update[]> {
    return this.#inOrder(async () => {
      const out: Update[] = [];
      for (const shard of await this.bytes.shards()) {
        const doc = await this.#read(shard);
        out.push({ shard, update: Y.encodeStateAsUpdateV2(doc) });
        doc.destroy();
      }
      return out;
    });
  }

  /** Merges documents of another device into these. Order and repetition do not matter. */
  merge(states: readonly Update[]): Promise<void> {
    return this.#inOrder(async () => {
      for (const { shard, update } of states) {
        const { doc } = await this.#open(shard);
        Y.applyUpdateV2(doc, update);
      }
      await this.bytes.append(states);
    });
  }

  /** Through a fresh document, so that what was deleted is not carried along. */
  compact(): Promise<number> {
    return this.#inOrder(async () => {
      const grown = (await this.bytes.grown(GROWN)).filter((shard) => !this.#aside.has(shard));
      for (const shard of grown) {
        const { snap, log } = await this.bytes.read(shard);
        const old = new Y.Doc();
        if (snap) Y.applyUpdateV2(old, snap);
        for (const { update } of log) Y.applyUpdateV2(old, update);
        const fresh = new Y.Doc();
        Y.applyUpdateV2(fresh, Y.encodeStateAsUpdateV2(old));
        const state = Y.encodeStateAsUpdateV2(fresh);
        await this.bytes.replace(
          shard,
          state,
          log.map(({ key }) => key),
        );
        old.destroy();
        fresh.destroy();
      }
      return grown.length;
    });
  }

  async asideBytes(part: string): Promise<Uint8Array | undefined> {
    if (!this.#aside.has(part)) return undefined;
    const held = await this.bytes.read(part);
    const parts = [held.snap ?? new Uint8Array(), ...held.log.map(({ update }) => update)];
    const out = new Uint8Array(parts.reduce((sum, one) => sum + one.length, 0));
    let at = 0;
    for (const one of parts) {
      out.set(one, at);
      at += one.length;
    }
    return out;
  }

  keepPicture(digest: string, bytes: Uint8Array, type: string): Promise<void> {
    return this.bytes.putPicture(digest, bytes, type);
  }

  picture(digest: string): Promise<{ bytes: Uint8Array; type: string } | undefined> {
    return this.bytes.picture(digest);
  }

  pictures(): Promise<string[]> {
    return this.bytes.pictures();
  }

  async close(): Promise<void> {
    await this.#queue.catch(() => undefined);
    for (const doc of this.#live.values()) doc.destroy();
    this.#live.clear();
    await this.bytes.close();
  }

  /** One thing at a time: an edit is never laid over half of another. */
  #inOrder<T>(work: () => Promise<T>): Promise<T> {
    const done = this.#queue.then(work, work);
    this.#queue = done.catch(() => undefined);
    return done;
  }
}
