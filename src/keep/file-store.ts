import type { Change } from '../journal/edits';
import { readJournalFile, writeJournalFile } from '../journal/file';
import { emptyJournal } from '../journal/journal';
import type { Journal } from '../journal/records';
import { same } from '../journal/same';
import { PicturesInMemory, type PicturesBeside } from './pictures';
import {
  NotKept,
  slicesOf,
  type JournalMeta,
  type JournalStore,
  type Loaded,
  type Slice,
} from './store';

/** The file itself: reading it whole and writing it whole, handed in by whoever may touch the disk. */
export interface WholeFile {
  read: () => Promise<string | undefined>;
  /** Writes all or nothing, durable when it resolves. */
  write: (text: string) => Promise<void>;
}

/** Keeps a journal as one journal file, written whole at every edit. Fit for small journals and for copies. */
export class FileStore implements JournalStore {
  #journal: Journal | undefined;
  #meta: Pick<JournalMeta, 'copyAt' | 'sinceCopy'> = { sinceCopy: 0 };
  /** Edits that came while the file could not be read. */
  #waiting: { changes: Change[]; meta?: JournalMeta }[] = [];
  /** The file does not say yet what the journal does. */
  #held = false;
  #queue: Promise<unknown> = Promise.resolve();

  /** `beside` keeps the pictures; without it they last as long as the store. */
  constructor(
    readonly file: WholeFile,
    readonly beside: PicturesBeside = new PicturesInMemory(),
  ) {}

  async #open(): Promise<Journal | undefined> {
    if (this.#journal) return this.#journal;
    const text = await this.file.read();
    if (text === undefined) return undefined;
    const read = readJournalFile(text);
    if (!read.ok) throw new NotKept('failed', read.message);
    this.#journal = read.journal;
    return this.#journal;
  }

  async meta(): Promise<JournalMeta | undefined> {
    const journal = await this.#open();
    if (!journal) return undefined;
    const { id, name, made, unknown } = journal;
    return {
      id,
      name,
      made,
      ...(unknown ? { unknown } : {}),
      entries: journal.tables.entries.size,
      ...this.#meta,
    };
  }

  saveMeta(meta: JournalMeta): Promise<void> {
    return this.#inOrder(async () => {
      if (await this.#takeMeta(meta)) await this.#write();
    });
  }

  /** Answers whether the file says something else now. */
  async #takeMeta(meta: JournalMeta): Promise<boolean> {
    const journal = await this.#open();
    const { id, name, made, copyAt, sinceCopy, unknown } = meta;
    this.#meta = { sinceCopy, ...(copyAt ? { copyAt } : {}) };
    const there = journal && {
      id: journal.id,
      name: journal.name,
      made: journal.made,
      unknown: journal.unknown,
    };
    if (same(there, { id, name, made, unknown })) return false;
    const head = { id, name, made, ...(unknown ? { unknown } : {}) };
    this.#journal = { ...head, tables: (journal ?? emptyJournal(id, name, made)).tables };
    return true;
  }

  async entryCount(): Promise<number> {
    return (await this.#open())?.tables.entries.size ?? 0;
  }

  async load(take: (slice: Slice) => void | Promise<void>): Promise<Loaded> {
    const journal = await this.#open();
    if (!journal) return { aside: [], rows: 0 };
    let rows = 0;
    for (const slice of slicesOf(journal)) {
      rows += slice.rows.length;
      if (slice.rows.length > 0) await take(structuredClone(slice));
    }
    return { aside: [], rows };
  }

  keep(changes: readonly Change[], meta?: JournalMeta): Promise<void> {
    const copied = structuredClone(changes) as Change[];
    return this.#inOrder(async () => {
      this.#waiting.push({ changes: copied, ...(meta ? { meta } : {}) });
      await this.#takeWaiting();
      await this.#write();
    });
  }

  async #takeWaiting(): Promise<void> {
    for (let next = this.#waiting[0]; next; next = this.#waiting[0]) {
      if (next.meta) await this.#takeMeta(next.meta);
      const journal = await this.#open();
      if (!journal) throw new NotKept('closed', 'the journal file was not begun.');
      this.#waiting.shift();
      this.#held = true;
      for (const { table, id, after } of next.changes) {
        const rows = journal.tables[table] as Map<string, unknown>;
        if (after) rows.set(id, after);
        else rows.delete(id);
      }
    }
  }

  async #write(): Promise<void> {
    try {
      await this.file.write(writeJournalFile(this.#journal!));
      this.#held = false;
    } catch (error) {
      this.#held = true;
      const why = (error as Error).message;
      throw new NotKept('failed', `the journal file could not be written (${why}).`);
    }
  }

  /** One thing at a time, in the order asked. */
  #inOrder<T>(work: () => Promise<T>): Promise<T> {
    const done = this.#queue.then(work, work);
    this.#queue = done.catch(() => undefined);
    return done;
  }

  retry(): Promise<boolean> {
    return this.#inOrder(async () => {
      await this.#takeWaiting();
      if (this.#held) await this.#write();
      return true;
    }).catch((error: unknown) => {
      if (error instanceof NotKept) return false;
      throw error;
    });
  }

  keepPicture(digest: string, bytes: Uint8Array, type: string): Promise<void> {
    return this.beside.put(digest, bytes, type);
  }

  picture(digest: string): Promise<{ bytes: Uint8Array; type: string } | undefined> {
    return this.beside.get(digest);
  }

  pictures(): Promise<string[]> {
    return this.beside.list();
  }

  async asideBytes(): Promise<undefined> {
    return undefined;
  }

  async compact(): Promise<number> {
    return 0;
  }

  async close(): Promise<void> {}
}
