import { apply, type Change } from '../journal/edits';
import { readJournalFile, writeJournalFile } from '../journal/file';
import { emptyJournal } from '../journal/journal';
import type { Journal } from '../journal/records';
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
  #held = false;
  #pictures = new Map<string, { bytes: Uint8Array; type: string }>();

  constructor(readonly file: WholeFile) {}

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
    return { id: journal.id, name: journal.name, made: journal.made, ...this.#meta };
  }

  async saveMeta(meta: JournalMeta): Promise<void> {
    const journal = await this.#open();
    const { id, name, made, copyAt, sinceCopy } = meta;
    this.#meta = { sinceCopy, ...(copyAt ? { copyAt } : {}) };
    if (journal && journal.id === id && journal.name === name && journal.made === made) return;
    this.#journal = journal ? { ...journal, id, name, made } : emptyJournal(id, name, made);
    await this.#write();
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

  async keep(changes: readonly Change[]): Promise<void> {
    const journal = await this.#open();
    if (!journal) throw new NotKept('closed', 'The journal file was not begun.');
    const done = apply(journal, { does: 'keep', changes: structuredClone(changes) as Change[] });
    if (!done.ok) throw new NotKept('failed', done.message);
    await this.#write();
  }

  async #write(): Promise<void> {
    try {
      await this.file.write(writeJournalFile(this.#journal!));
      this.#held = false;
    } catch (error) {
      this.#held = true;
      throw new NotKept(
        'failed',
        `The journal file could not be written: ${(error as Error).message}.`,
      );
    }
  }

  async retry(): Promise<boolean> {
    if (this.#held) await this.#write().catch(() => undefined);
    return !this.#held;
  }

  async keepPicture(digest: string, bytes: Uint8Array, type: string): Promise<void> {
    this.#pictures.set(digest, { bytes: bytes.slice(), type });
  }

  async picture(digest: string): Promise<{ bytes: Uint8Array; type: string } | undefined> {
    return this.#pictures.get(digest);
  }

  async pictures(): Promise<string[]> {
    return [...this.#pictures.keys()];
  }

  async asideBytes(): Promise<undefined> {
    return undefined;
  }

  async compact(): Promise<number> {
    return 0;
  }

  async close(): Promise<void> {}
}
