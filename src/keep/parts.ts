/**
 * Documents out of their bytes. A document lies in one part; where that cannot be read it is left untouched, and a part
 * beside it takes what is new. Should the first be readable again, both make one document.
 */
import * as Y from 'yjs';
import { piecesOf, type ByteStore, type Update } from './byte-store';
import { besides } from './shards';
import type { Aside } from './store';

export class Parts {
  #aside = new Map<string, string>();

  constructor(
    readonly bytes: ByteStore,
    readonly tell: (aside: Aside[]) => void,
  ) {}

  asides(): Aside[] {
    return [...this.#aside].map(([part, why]) => ({ part, why }));
  }

  setAside(part: string, why: string): void {
    if (this.#aside.has(part)) return;
    this.#aside.set(part, why);
    this.tell(this.asides());
  }

  /** The part of a document that takes what is new: the first that does not lie aside. */
  open(shard: string): string {
    let part = shard;
    while (this.#aside.has(part)) part = besides(part);
    return part;
  }

  /**
   * A document from every part of it that can be read, with updates that are not on the disk yet.
   * @throws NotKept where the store is shut
   */
  async read(shard: string, held: readonly Update[]): Promise<Y.Doc> {
    const doc = new Y.Doc();
    const sound: string[] = [];
    for (let part = shard; ; part = besides(part)) {
      const { snap, log, broken } = await this.bytes.read(part);
      if (broken !== undefined && (await this.#lies(part))) this.setAside(part, broken);
      if (this.#aside.has(part)) continue;
      const updates = [...(snap ? [snap] : []), ...log.map(({ update }) => update)];
      for (const one of held) if (one.shard === part) updates.push(one.update);
      if (updates.length === 0) break;
      try {
        lay(doc, updates);
      } catch (error) {
        this.setAside(part, (error as Error).message);
        return this.read(shard, held);
      }
      sound.push(part);
    }
    // Yjs holds back what builds on something it has not seen.
    if (doc.store.pendingStructs === null && doc.store.pendingDs === null) return doc;
    for (const part of sound) this.setAside(part, 'a piece of it is missing');
    return this.read(shard, held);
  }

  /**
   * Whether anything is stored of a part. One that does not answer and of which there is nothing is no wreck: were it passed over, what is
   * new would lie beyond a gap where no later reading looks.
   */
  async #lies(part: string): Promise<boolean> {
    return (await this.bytes.shards()).includes(part);
  }

  /** Puts one whole state in place of a part's many updates, by way of a fresh document: what was deleted is not in it. */
  async rewrite(part: string): Promise<boolean> {
    const { snap, log, broken } = await this.bytes.read(part);
    // What cannot be read stays as it is: a rewritten wreck would pass for sound.
    if (broken !== undefined || this.#aside.has(part)) return false;
    const doc = new Y.Doc();
    try {
      lay(doc, [...(snap ? [snap] : []), ...log.map(({ update }) => update)]);
    } catch {
      return false;
    }
    const state = Y.encodeStateAsUpdateV2(doc);
    doc.destroy();
    const keys = log.map(({ key }) => key);
    return this.bytes.replace(part, state, keys);
  }

  /** The bytes of a part that lies aside, as {@link piecesOf} puts them. */
  async asideBytes(part: string): Promise<Uint8Array | undefined> {
    return this.#aside.has(part) ? piecesOf(await this.bytes.read(part)) : undefined;
  }
}

function lay(doc: Y.Doc, updates: readonly Uint8Array[]): void {
  doc.transact(() => {
    for (const update of updates) Y.applyUpdateV2(doc, update);
  });
}
