/**
 * Keeps a journal as Yjs documents by month, so that several devices can merge without losing a word.
 * An edit becomes one update for each document it touches, appended in one transaction.
 */
import * as Y from 'yjs';
import type { Change } from '../journal/edits';
import type { TableName } from '../journal/records';
import { same } from '../journal/same';
import type { ByteStore, Update } from './byte-store';
import { Parts } from './parts';
import { allRowsInDoc, putRowInDoc, rowInDoc, type Row } from './rows-in-doc';
import { loadingOrder, shardOf, shardOfPart, tableOf } from './shards';
import {
  NotKept,
  type Aside,
  type JournalMeta,
  type JournalStore,
  type Loaded,
  type Slice,
} from './store';

/** Documents kept live for editing; the least lately used leaves first. */
const LIVE = 8;
/** A document is rewritten when it has more updates than this. */
const GROWN = 64;

/** What was changed, for another window: the updates, which rows to look at, and what is known of the journal now. */
export interface Kept {
  updates: Update[];
  rows: { table: TableName; id: string }[];
  meta?: JournalMeta;
}

/** A row as the documents have it; undefined when it is gone. */
export interface RowNow {
  table: TableName;
  id: string;
  row: Row | undefined;
}

/** What a document store tells of by itself. Called while the store is at work: they must not wait for it. */
interface DocumentEvents {
  /** An edit has reached the disk. */
  kept?: (kept: Kept) => void;
  /** Rows came out otherwise than they were handed in, because another window had changed them meanwhile. */
  merged?: (rows: RowNow[]) => void;
  /** A part was found that cannot be read. */
  aside?: (aside: Aside[]) => void;
}

const rowKey = (table: TableName, id: string): string => `${table} ${id}`;

export class DocumentStore implements JournalStore {
  events: DocumentEvents = {};
  #live = new Map<string, Y.Doc>();
  /** Edits whose document could not be read yet. */
  #waiting: { shard: string; changes: Change[] }[] = [];
  /** Edits laid in their documents and not on the disk yet. */
  #held: Kept = { updates: [], rows: [] };
  #heldMeta: JournalMeta | undefined;
  /** Why an edit could not be laid in its document, where that has happened. */
  #lost: string | undefined;
  /** How many edits of a row are on their way into its document. */
  #coming = new Map<string, number>();
  #parts: Parts;
  #queue: Promise<unknown> = Promise.resolve();

  constructor(readonly bytes: ByteStore) {
    this.#parts = new Parts(bytes, (aside) => this.events.aside?.(aside));
  }

  meta(): Promise<JournalMeta | undefined> {
    return this.bytes.meta();
  }

  saveMeta(meta: JournalMeta): Promise<void> {
    return this.#inOrder(() => {
      this.#heldMeta = meta;
      return this.#flush();
    });
  }

  async entryCount(): Promise<number | undefined> {
    return (await this.bytes.meta())?.entries;
  }

  async load(take: (slice: Slice) => void | Promise<void>): Promise<Loaded> {
    let count = 0;
    const held = this.#held.updates.map(({ shard }) => shard);
    const shards = new Set([...(await this.bytes.shards()), ...held].map(shardOfPart));
    for (const shard of loadingOrder([...shards])) {
      const rows = await this.#inOrder(() => this.#rows(shard));
      if (rows.length === 0) continue;
      count += rows.length;
      await take({ table: tableOf(shard), rows } as unknown as Slice);
    }
    return { aside: this.#parts.asides(), rows: count };
  }

  async #rows(shard: string): Promise<Row[]> {
    const live = this.#live.get(shard);
    const doc = live ?? (await this.#parts.read(shard, this.#held.updates));
    try {
      return allRowsInDoc(doc, tableOf(shard));
    } catch (error) {
      this.#parts.setAside(shard, (error as Error).message);
      this.#live.delete(shard);
      return [];
    } finally {
      if (!live) doc.destroy();
    }
  }

  /** The live document of a shard, and the part that takes what is new: the first that does not lie aside. */
  async #open(shard: string): Promise<{ part: string; doc: Y.Doc }> {
    const doc = this.#live.get(shard) ?? (await this.#parts.read(shard, this.#held.updates));
    this.#live.delete(shard);
    this.#live.set(shard, doc);
    for (const [oldest, old] of this.#live) {
      if (this.#live.size <= LIVE) break;
      old.destroy();
      this.#live.delete(oldest);
    }
    return { part: this.#parts.open(shard), doc };
  }

  keep(changes: readonly Change[], meta?: JournalMeta): Promise<void> {
    for (const { table, id } of changes) this.#count(table, id, 1);
    return this.#inOrder(async () => {
      const byShard = new Map<string, Change[]>();
      for (const change of changes) {
        const shard = shardOf(change.table, change.id);
        const list = byShard.get(shard);
        if (list) list.push(change);
        else byShard.set(shard, [change]);
      }
      for (const [shard, list] of byShard) this.#waiting.push({ shard, changes: list });
      if (meta) this.#heldMeta = meta;
      await this.#layWaiting();
      await this.#flush();
      this.#mindLost();
    });
  }

  #count(table: TableName, id: string, by: number): void {
    const key = rowKey(table, id);
    const count = (this.#coming.get(key) ?? 0) + by;
    if (count > 0) this.#coming.set(key, count);
    else this.#coming.delete(key);
  }

  async #layWaiting(): Promise<void> {
    for (let next = this.#waiting[0]; next; next = this.#waiting[0]) {
      const { part, doc } = await this.#open(next.shard);
      this.#waiting.shift();
      this.#lay(part, doc, next.changes);
    }
  }

  #lay(part: string, doc: Y.Doc, changes: readonly Change[]): void {
    const updates: Update[] = [];
    const note = (update: Uint8Array): void => void updates.push({ shard: part, update });
    doc.on('updateV2', note);
    try {
      doc.transact(() => {
        for (const { table, id, before, after } of changes) {
          this.#count(table, id, -1);
          putRowInDoc(doc, table, id, before as unknown as Row, after as unknown as Row);
        }
      });
    } catch (error) {
      // Half an edit must not reach the disk: the document is read again without it.
      this.#live.delete(shardOfPart(part));
      this.#lost = (error as Error).message;
      return;
    } finally {
      doc.off('updateV2', note);
    }
    this.#held.updates.push(...updates);
    for (const { table, id } of changes) this.#held.rows.push({ table, id });
    const last = new Map(changes.map((change) => [rowKey(change.table, change.id), change]));
    const merged = [...last.values()].flatMap(({ table, id, after }): RowNow[] => {
      if (this.#coming.has(rowKey(table, id))) return [];
      const row = rowInDoc(doc, table, id);
      return same(row, after) ? [] : [{ table, id, row }];
    });
    if (merged.length > 0) this.events.merged?.(merged);
  }

  async #flush(): Promise<void> {
    const { updates, rows } = this.#held;
    const meta = this.#heldMeta;
    if (updates.length === 0 && !meta) {
      this.#held.rows = [];
      return;
    }
    await this.bytes.append(updates, meta);
    this.#held = { updates: [], rows: [] };
    this.#heldMeta = undefined;
    this.events.kept?.({ updates, rows, ...(meta ? { meta } : {}) });
  }

  /** An edit that a document does not take is not passed over in silence. */
  #mindLost(): void {
    if (this.#lost === undefined) return;
    throw new NotKept('failed', `an edit could not be stored (${this.#lost}).`);
  }

  retry(): Promise<boolean> {
    return this.#inOrder(async () => {
      await this.#layWaiting();
      await this.#flush();
      this.#mindLost();
      return true;
    }).catch((error: unknown) => {
      if (error instanceof NotKept) return false;
      throw error;
    });
  }

  /**
   * Takes in what another window has kept and hands over its rows as they now are. `take` is called at once, before any later
   * edit; a row that is being changed here comes by `merged` instead, once that change is laid.
   */
  follow({ updates, rows }: Kept, take: (rows: RowNow[]) => void): Promise<void> {
    return this.#inOrder(async () => {
      for (const { shard, update } of updates) this.#apply(shardOfPart(shard), update);
      const byShard = new Map<string, typeof rows>();
      for (const row of rows) {
        const shard = shardOf(row.table, row.id);
        byShard.set(shard, [...(byShard.get(shard) ?? []), row]);
      }
      const found: RowNow[] = [];
      for (const [shard, list] of byShard) {
        const { doc } = await this.#open(shard);
        for (const { table, id } of list) found.push({ table, id, row: rowInDoc(doc, table, id) });
      }
      take(found.filter(({ table, id }) => !this.#coming.has(rowKey(table, id))));
    });
  }

  /** Brings a live document up; one that does not take the update is read again from the disk when it is next wanted. */
  #apply(shard: string, update: Uint8Array): void {
    const doc = this.#live.get(shard);
    if (!doc) return;
    try {
      Y.applyUpdateV2(doc, update);
    } catch {
      this.#live.delete(shard);
    }
  }

  /** The whole state of every document, to bring to another device. */
  states(): Promise<Update[]> {
    return this.#inOrder(async () => {
      const out: Update[] = [];
      for (const shard of new Set((await this.bytes.shards()).map(shardOfPart))) {
        const live = this.#live.get(shard);
        const doc = live ?? (await this.#parts.read(shard, this.#held.updates));
        out.push({ shard, update: Y.encodeStateAsUpdateV2(doc) });
        if (!live) doc.destroy();
      }
      return out;
    });
  }

  /** Merges documents of another device into these, all or none. Order and repetition do not matter. */
  merge(states: readonly Update[]): Promise<void> {
    return this.#inOrder(async () => {
      await this.#layWaiting();
      const fresh: Update[] = [];
      const touched: string[] = [];
      try {
        for (const { shard, update } of states) {
          const { part, doc } = await this.#open(shard);
          touched.push(shard);
          const note = (added: Uint8Array): void => void fresh.push({ shard: part, update: added });
          doc.on('updateV2', note);
          Y.applyUpdateV2(doc, update);
          doc.off('updateV2', note);
        }
      } catch (error) {
        for (const shard of touched) this.#live.delete(shard);
        throw error;
      }
      this.#held.updates.push(...fresh);
      await this.#flush();
    });
  }

  /** Through a fresh document, so that what was deleted is not carried along. */
  compact(): Promise<number> {
    return this.#inOrder(async () => {
      let rewritten = 0;
      for (const part of await this.bytes.grown(GROWN))
        if (await this.#parts.rewrite(part)) rewritten += 1;
      return rewritten;
    });
  }

  asideBytes(part: string): Promise<Uint8Array | undefined> {
    return this.#parts.asideBytes(part);
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
