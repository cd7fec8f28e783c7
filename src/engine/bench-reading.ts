/** Files on their way to the bench: held until each is read, read a few at a time, stopped and gone on with. */
import type { ColumnRole } from '../gather/block';
import type { GatherPiece } from '../gather/piece';
import { TwinFinder } from '../gather/twins';
import type { BesideChange, RecordsBeside } from '../keep/beside';
import { PICTURES, TABLES } from './bench-beside';
import { nameOf } from './bench-rows';
import type { BenchProgress, FileHanded } from './bench-types';
import type { Core } from './core';
import { readFile, type FileReader } from './file-reader';
import { gatherFiles, type GatherResult } from './gathering';

/** The first files are sorted together so soon that work can begin; later ones in growing lots, for each lot looks at the whole journal once. */
const FIRST_FILES = 40;
const LOTS_GROW = 4;
const LOT_BYTES = 48 * 1024 * 1024;
/** Tables are kept while the gathering is in hand, so that their columns can be told anew. */
const TABLE_BYTES = 8 * 1024 * 1024;

const WAITING = 'waiting/';

/** Hidden files and what systems leave in folders: no notebooks. */
const LEFT_ALONE = /(?:^|\/)(?:\.[^/]*|__MACOSX|Thumbs\.db|desktop\.ini|~\$[^/]*)(?:\/|$)/i;

interface Waiting extends FileHanded {
  key: string;
}

export interface ReadingSurroundings {
  core: () => Core;
  records: RecordsBeside;
  /** Resolves when the whole journal is there to compare with. */
  ready: () => Promise<void>;
  /** What was read and sorted. Resolves when it is on the bench: whether it is stored there. */
  add: (result: GatherResult, columns: Map<string, Record<string, ColumnRole>>) => Promise<boolean>;
  /** Paths on the bench. */
  paths: () => ReadonlySet<string>;
  reader?: FileReader;
  breathe: () => Promise<void>;
}

export class BenchReading {
  #waiting: Waiting[] = [];
  #number = 0;
  #stop: AbortController | undefined;
  #running: Promise<void> | undefined;
  #loaded: Promise<void> | undefined;
  #done = 0;
  /** How many of those that wait have been read and are being sorted. */
  read = 0;
  progress: BenchProgress | undefined;

  constructor(readonly around: ReadingSurroundings) {}

  get waiting(): readonly FileHanded[] {
    return this.#waiting;
  }

  get busy(): boolean {
    return this.#stop !== undefined;
  }

  /** Files that were handed over in an earlier window and not read there. */
  load(): Promise<void> {
    this.#loaded ??= (async (): Promise<void> => {
      const held = await this.around.records.all<FileHanded>(WAITING).catch(() => []);
      for (const [key, file] of held) {
        this.#waiting.push({ ...file, key });
        this.#number = Math.max(this.#number, Number(key.slice(WAITING.length)));
      }
      if (this.#waiting.length > 0) this.#stopped();
    })();
    return this.#loaded;
  }

  /** Takes files in; answers how many were left alone because they are hidden. Reading is begun by {@link run}. */
  async offer(files: readonly FileHanded[]): Promise<number> {
    await this.load();
    const taken = new Set([...this.around.paths(), ...this.#waiting.map(({ path }) => path)]);
    const fresh: Waiting[] = [];
    for (const { path, file } of files) {
      if (LEFT_ALONE.test(path)) continue;
      const own = freePath(path, taken);
      taken.add(own);
      fresh.push({ path: own, file, key: WAITING + String(++this.#number).padStart(6, '0') });
    }
    this.#waiting.push(...fresh);
    // What cannot be stored is read all the same while the window is open.
    const changes = fresh.map(({ key, path, file }): BesideChange => [key, { path, file }]);
    if (changes.length > 0) await this.around.records.put(changes).catch(() => undefined);
    return files.length - fresh.length;
  }

  stop(): void {
    this.#stop?.abort();
  }

  /** Reads what waits, lot by lot, also what is offered meanwhile. Resolves when all is read or it was stopped. */
  async run(): Promise<void> {
    // What is being stopped ends first, and is then gone on with.
    while (this.#stop?.signal.aborted) await this.#running?.catch(() => undefined);
    this.#running ??= this.#readAll();
    await this.#running;
  }

  async #readAll(): Promise<void> {
    const stop = new AbortController();
    this.#stop = stop;
    this.#done = 0;
    const [first] = this.#waiting;
    if (first)
      this.progress = { stage: 'reading', path: first.path, done: 0, of: this.#waiting.length };
    try {
      await this.around.ready();
      let most = FIRST_FILES;
      while (this.#waiting.length > 0 && !stop.signal.aborted) {
        await this.#readLot(this.#lot(most), stop.signal);
        most *= LOTS_GROW;
      }
    } finally {
      this.#stop = undefined;
      this.#running = undefined;
      if (this.#waiting.length > 0) this.#stopped();
      else this.progress = undefined;
    }
  }

  /** Forgets those of these that were not read, and answers which they were. */
  async forget(these: ReadonlySet<FileHanded>): Promise<FileHanded[]> {
    const forgotten = this.#waiting.filter((file) => these.has(file));
    this.#waiting = this.#waiting.filter((file) => !these.has(file));
    if (!this.#running) this.progress = undefined;
    const changes = forgotten.map(({ key }): BesideChange => [key, undefined]);
    await this.around.records.put(changes).catch(() => undefined);
    return forgotten;
  }

  /** Takes files in that wait until reading is gone on with. */
  async wait(files: readonly FileHanded[]): Promise<void> {
    await this.offer(files);
    if (!this.#running && this.#waiting.length > 0) this.#stopped();
  }

  #stopped(): void {
    const of = this.#done + this.#waiting.length;
    this.progress = { stage: 'stopped', path: '', done: this.#done, of };
  }

  #lot(most: number): Waiting[] {
    const lot: Waiting[] = [];
    let bytes = 0;
    for (const each of this.#waiting) {
      if (lot.length > 0 && (lot.length >= most || bytes + each.file.size > LOT_BYTES)) break;
      lot.push(each);
      bytes += each.file.size;
    }
    return lot;
  }

  async #readLot(lot: readonly Waiting[], signal: AbortSignal): Promise<void> {
    const columns = new Map<string, Record<string, ColumnRole>>();
    const of = this.#done + this.#waiting.length;
    const result = await gatherFiles(
      this.around.core(),
      lot.map(({ path, file }) => ({ path, bytes: () => bytesOf(file) })),
      ({ stage, path, done, part }) => {
        this.read = stage === 'reading' ? done : lot.length;
        this.progress = { stage, path, done: this.#done + done, of, ...(part ? { part } : {}) };
      },
      signal,
      noting(this.around.reader, columns),
      this.around.breathe,
    );
    const read = lot.filter(({ path }) =>
      result.files.some((file) => file.path === path || file.path.startsWith(`${path}/`)),
    );
    const tables = read.filter(({ path, file }) => columns.has(path) && file.size <= TABLE_BYTES);
    const changes = tables.map(({ path, file }): BesideChange => [TABLES + path, file]);
    // What is not kept, of a zip or too large, cannot be read again: its columns are not to be told.
    const kept = new Set(tables.map(({ path }) => path));
    for (const path of [...columns.keys()]) if (!kept.has(path)) columns.delete(path);
    changes.push(...picturesOf(result));
    await this.around.records.put(changes).catch(() => undefined);
    // A window closed before what was read is stored reads it again; what is on the bench already is known byte for byte.
    if (await this.around.add(result, columns)) {
      const done = read.map(({ key }): BesideChange => [key, undefined]);
      await this.around.records.put(done).catch(() => undefined);
    }
    const gone = new Set(read.map(({ key }) => key));
    this.#waiting = this.#waiting.filter(({ key }) => !gone.has(key));
    this.#done += read.length;
    this.read = 0;
  }
}

const bytesOf = async (file: Blob): Promise<Uint8Array> => new Uint8Array(await file.arrayBuffer());

/** The path, with a number where another file has it already. */
function freePath(path: string, taken: ReadonlySet<string>): string {
  if (!taken.has(path)) return path;
  const dot = path.lastIndexOf('.');
  const cut = dot > path.lastIndexOf('/') + 1 ? dot : path.length;
  for (let number = 2; ; number++) {
    const own = `${path.slice(0, cut)} (${number})${path.slice(cut)}`;
    if (!taken.has(own)) return own;
  }
}

/** A reader that notes what the columns of tables were taken for, and makes a picture of a file that holds nothing but pages scanned. */
export function noting(
  reader: FileReader | undefined,
  columns: Map<string, Record<string, ColumnRole>>,
  told?: Readonly<Record<string, ColumnRole>>,
): FileReader {
  return async function* (file, signal) {
    const found = (reader ?? readFile)(file, signal, told ? { columns: told } : {});
    for await (const one of found) {
      const { path, result } = one;
      if (result.ok && result.columns) columns.set(path, result.columns);
      if (result.ok && result.attachment && result.blocks.length === 0 && path === file.path) {
        const picture = { bytes: file.bytes, type: 'application/pdf', alt: nameOf(path) };
        const block = { as: 'picture', text: '', place: {}, picture } as const;
        yield { path, result: { ...result, blocks: [block] } };
      } else yield one;
    }
  };
}

/** Pictures beside the journal until their piece is accepted; the pieces keep what is known of them, and not their bytes. */
export function picturesOf(result: GatherResult): BesideChange[] {
  const changes: BesideChange[] = [];
  for (const { picture } of result.pieces) {
    if (!picture) continue;
    const { bytes, type } = picture;
    changes.push([PICTURES + picture.digest, { bytes, type }]);
    picture.bytes = new Uint8Array(0);
  }
  return changes;
}

const PIECES_A_SLICE = 50;

/** What of the new pieces says the same as one that is on the bench from before: the journal does not have it yet. */
export async function twinsAcross(
  old: readonly GatherPiece[],
  fresh: readonly GatherPiece[],
  breathe: () => Promise<void>,
): Promise<void> {
  if (old.length === 0) return;
  const finder = new TwinFinder();
  let done = 0;
  for (const { id, text } of [...old, ...fresh]) {
    finder.addPiece(id, text);
    if (++done % PIECES_A_SLICE === 0) await breathe();
  }
  for (const piece of fresh) {
    const twin = piece.twinOf?.entry ? undefined : finder.twinOf(piece.id);
    if (twin && twin.piece !== piece.id) piece.twinOf = twin;
  }
}

/** Leaves out files that are on the bench byte for byte; a piece is never its own twin. */
export function withoutKnown(result: GatherResult, known: ReadonlySet<string>): GatherResult {
  const seen = new Set(known);
  const files: GatherResult['files'] = [];
  const gone = new Set<string>();
  for (const file of result.files) {
    if (seen.has(file.digest)) gone.add(file.path);
    else files.push(file);
    seen.add(file.digest);
  }
  const stays = ({ source }: { source: { path: string } }): boolean => !gone.has(source.path);
  const pieces = result.pieces.filter(stays);
  for (const piece of pieces) {
    if (piece.twinOf?.piece === piece.id) delete piece.twinOf;
  }
  return {
    ...result,
    files,
    pieces,
    books: result.books.filter(stays),
    meetings: result.meetings.filter(stays),
  };
}
