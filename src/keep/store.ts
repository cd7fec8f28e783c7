/**
 * Keeping: where a journal lies between sittings. This room owns the store's contract and its two implementations
 * (documents in the browser, memory), compaction and merging; it searches nothing, draws nothing, and never decides
 * what an edit means.
 */
import type { Change } from '../journal/edits';
import type { Records, TableName } from '../journal/records';

/** Rows read from the store, one table at a time. */
export type Slice = { [T in TableName]: { table: T; rows: Records[T][] } }[TableName];

/** A part that could not be read. It stays where it is, untouched, and can be saved out. */
export interface Aside {
  part: string;
  why: string;
}

export interface Loaded {
  aside: Aside[];
  /** Rows handed over, over all tables. */
  rows: number;
}

/** What is kept about the journal as a whole. */
export interface JournalMeta {
  id: string;
  name: string;
  made: string;
  /** ISO time of the last copy saved out, and edits since. */
  copyAt?: string;
  sinceCopy: number;
  /** Entries there were at the last edit, so that it can be told how many are still to be read. */
  entries?: number;
  /** Top-level fields of a journal file that this version does not know. */
  unknown?: Record<string, unknown>;
  /** Which copies of other devices are in it: the engine's, kept as it is. */
  lineage?: unknown;
}

/** Why something was not kept. The sentence is finished and fit for the reader. */
export class NotKept extends Error {
  constructor(
    readonly code: 'disk-full' | 'blocked' | 'closed' | 'failed',
    message: string,
  ) {
    super(message);
    this.name = 'NotKept';
  }
}

/** A place that keeps one journal. All implementations pass the same suite (tests/unit/keep/store-contract). */
export interface JournalStore {
  meta(): Promise<JournalMeta | undefined>;
  saveMeta(meta: JournalMeta): Promise<void>;
  /** How many entries are held, known before they are read; undefined where that cannot be told. */
  entryCount(): Promise<number | undefined>;
  /** Hands every row over, headings and other small tables first, entries newest first. */
  load(take: (slice: Slice) => void | Promise<void>): Promise<Loaded>;
  /**
   * Keeps the changes of one edit, with what is known of the journal after it, all or none; durable when it resolves.
   * Edits are kept in the order of the calls. Half a surrogate pair may come back as U+FFFD; all else as it was.
   * @throws NotKept; the changes are then held and go, in order, with the next keep or retry that succeeds.
   */
  keep(changes: readonly Change[], meta?: JournalMeta): Promise<void>;
  /** Tries again what was held back. Resolves true when nothing is held. */
  retry(): Promise<boolean>;
  keepPicture(digest: string, bytes: Uint8Array, type: string): Promise<void>;
  picture(digest: string): Promise<{ bytes: Uint8Array; type: string } | undefined>;
  pictures(): Promise<string[]>;
  /** Bytes of a part kept aside, to be saved out; undefined where there is no such part or nothing of it can be read. */
  asideBytes(part: string): Promise<Uint8Array | undefined>;
  /** Rewrites what has grown by many small edits. Answers how many parts were rewritten. */
  compact(): Promise<number>;
  close(): Promise<void>;
}
