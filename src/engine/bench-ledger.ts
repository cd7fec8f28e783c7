/** What is held of the gathering in hand, record by record, the same in this window and beside the journal. */
import type { ColumnRole } from '../gather/block';
import type { BookGathered, FileTold, MeetingGathered } from '../gather/gathering';
import type { GatherPiece, PieceTie, TwinChoice } from '../gather/piece';
import type { Change } from '../journal/edits';
import type { EntryId, EntryKind, Gathering, HeadingId, ListId } from '../journal/records';
import { NotKept } from '../keep/store';
import type { BesideChange, RecordsBeside } from '../keep/beside';
import type { BenchBook, BenchWords, Settled } from './bench-types';

/** The gathering as it is to be recorded with the first accepted piece; its files are those read so far. */
export type HeadHeld = Omit<Gathering, 'files'>;

export interface FileHeld {
  told: FileTold;
  /** As the program sorted them; pictures without their bytes. */
  pieces: GatherPiece[];
  books: BookGathered[];
  meetings: MeetingGathered[];
  /** Of a table, what its columns were taken for. */
  columns?: Record<string, ColumnRole>;
  /** Kept as it is beside the journal, by this digest. */
  attachment?: string;
}

/** What the reader has decided about one piece, book or meeting. */
export interface ItemHeld {
  as?: Settled;
  /** The entry it was accepted as. */
  entry?: EntryId;
  /** What accepting it made in the journal besides its entry. Of what was accepted before this was held it is not known, and stays. */
  made?: Change[];
  /** The list its book was put on. */
  listed?: { list: ListId; book: HeadingId };
  choice?: TwinChoice;
  kind?: EntryKind;
  tied?: PieceTie[];
  /** Headings taken off, by id or by name. */
  untied?: string[];
  words?: BenchWords;
  book?: BenchBook;
}

/** The same left again; what the reader chose of it stays. */
export function unsettled(held: ItemHeld): ItemHeld {
  const { as: _as, entry: _entry, made: _made, listed: _listed, ...rest } = held;
  return rest;
}

export const HEAD = 'bench/head';
export const REVOKED = 'bench/revoked';
const REVISION = 'bench-revision';

export const fileKey = (file: number): string => `bench/file/${String(file).padStart(6, '0')}`;
export const itemKey = (id: string): string => `bench/item/${id}`;
export const fileOfKey = (key: string): number | undefined =>
  key.startsWith('bench/file/') ? Number(key.slice('bench/file/'.length)) : undefined;
export const itemOfKey = (key: string): string | undefined =>
  key.startsWith('bench/item/') ? key.slice('bench/item/'.length) : undefined;

/** One record as it becomes; the inverse of a patch is a patch. */
export type Patch = readonly BesideChange[];

/**
 * Every change is a patch, laid at once and stored in order. Where another window has stored something meanwhile, its records are
 * taken in and the patch is laid over them: of the same piece the later decision stands, and no other is lost.
 */
export class BenchLedger {
  #held = new Map<string, unknown>();
  #revision = 0;
  /** Laid and not stored yet. */
  #pending: Patch[] = [];
  #queue: Promise<void> = Promise.resolve();
  /** Why what was laid last is not stored. */
  why: string | undefined;

  constructor(
    readonly records: RecordsBeside,
    /** Everything is to be looked at anew: another window's records came in. */
    readonly onReload: () => void,
  ) {}

  /** Takes in what is stored, where it is newer than what is held. Answers whether it was. */
  async load(): Promise<boolean> {
    await this.#queue;
    try {
      const revision = (await this.records.get<number>(REVISION)) ?? 0;
      if (revision === this.#revision || this.#pending.length > 0) return false;
      await this.#reload();
      return true;
    } catch (error) {
      this.#mind(error);
      return false;
    }
  }

  async #reload(): Promise<void> {
    const revision = (await this.records.get<number>(REVISION)) ?? 0;
    this.#held = new Map(await this.records.all('bench/'));
    this.#revision = revision;
  }

  get head(): HeadHeld | undefined {
    return this.#held.get(HEAD) as HeadHeld | undefined;
  }

  get revoked(): readonly string[] {
    return (this.#held.get(REVOKED) as string[] | undefined) ?? [];
  }

  item(id: string): ItemHeld | undefined {
    return this.#held.get(itemKey(id)) as ItemHeld | undefined;
  }

  file(number: number): FileHeld | undefined {
    return this.#held.get(fileKey(number)) as FileHeld | undefined;
  }

  /** All files by number, in order. */
  files(): [number: number, file: FileHeld][] {
    const files: [number, FileHeld][] = [];
    for (const [key, value] of this.#held) {
      const number = fileOfKey(key);
      if (number !== undefined) files.push([number, value as FileHeld]);
    }
    return files.sort(([a], [b]) => a - b);
  }

  *items(): Generator<[id: string, item: ItemHeld]> {
    for (const [key, value] of this.#held) {
      const id = itemOfKey(key);
      if (id !== undefined) yield [id, value as ItemHeld];
    }
  }

  /** Keys of what is on the bench; what a gathering made in the journal is no part of it. */
  keys(): string[] {
    return [...this.#held.keys()].filter((key) => key.startsWith('bench/'));
  }

  /** Lays a patch and has it stored; answers the patch that takes it back. Records are replaced, never altered. */
  lay(patch: Patch): Patch {
    const back = patch.map(([key]): BesideChange => [key, this.#held.get(key)]).reverse();
    this.#set(patch);
    this.#pending.push(patch);
    this.#queue = this.#queue.then(() => this.#store());
    return back;
  }

  #set(patch: Patch): void {
    for (const [key, value] of patch) {
      if (value === undefined) this.#held.delete(key);
      else this.#held.set(key, value);
    }
  }

  /** Stores all that waits, also what could not be stored before. */
  async #store(): Promise<void> {
    const waiting = [...this.#pending];
    if (waiting.length === 0) return;
    try {
      while (!(await this.records.put(waiting.flat(), { key: REVISION, is: this.#revision }))) {
        await this.#reload();
        for (const patch of this.#pending) this.#set(patch);
        this.onReload();
      }
      this.#revision += 1;
      this.#pending.splice(0, waiting.length);
      this.why = undefined;
    } catch (error) {
      this.#mind(error);
    }
  }

  #mind(error: unknown): void {
    if (!(error instanceof NotKept)) throw error;
    this.why = `What is decided here is not kept between windows: ${error.message}`;
  }

  /** Resolves when everything laid so far is stored, or could not be. */
  whenStored(): Promise<void> {
    return this.#queue;
  }
}
