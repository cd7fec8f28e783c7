/**
 * Copies written by themselves into a folder the reader picked, where the browser lets a page write there (handles of the File System
 * standard, WHATWG; leave by File System Access, WICG). One file for a day, written whole before it takes the place of the one before it;
 * nothing in the folder is touched but what was written by this.
 */
import type { RecordsBeside } from '../keep/beside';
import type { Copy } from './copies';
import type { FolderState, KeepState } from './desk';

/** As much of the browser's `FileSystemDirectoryHandle` as is used. */
export interface CopiesInto {
  name: string;
  getFileHandle(name: string, options?: { create: boolean }): Promise<FileInto>;
  removeEntry(name: string): Promise<void>;
  isSameEntry?(other: FileSystemHandle): Promise<boolean>;
  queryPermission?(asked: { mode: 'readwrite' }): Promise<PermissionState>;
}

interface FileInto {
  createWritable(): Promise<{
    write(bytes: ArrayBuffer): Promise<void>;
    close(): Promise<void>;
    abort(): Promise<void>;
  }>;
}

const KEY = 'copy-folder';
const LOCK = 'bookweft-copy-folder';
/** Copies are written no more often than this, and days are counted on which one was. */
const EVERY_MS = 30 * 60 * 1000;
const DAYS = 10;
/** After one could not be written it is tried again no sooner. */
const AGAIN_MS = 5 * 60 * 1000;

/** What is remembered beside the journal, on this computer alone. */
interface Held {
  folder: CopiesInto;
  /** Names of files written there, oldest first. */
  written: string[];
  /** ISO time of the newest. */
  at?: string;
  /** Which state of the journal that was: its last copy. */
  copyAt?: string;
  /** Which journal's they are: one put in its place takes none of their names. */
  site?: string;
}

/** A copy, and what is to be called once it is safe. */
export interface CopyMade {
  copy: Copy;
  /** By its lineage. */
  site?: string;
  copied: () => Promise<void>;
}

interface Around {
  now: () => Date;
  /** Resolves when screens have asked nothing for a while. */
  quiet: () => Promise<void>;
  keeping: () => KeepState;
  /** The journal as a file; undefined while there is none. */
  made: () => Promise<CopyMade | undefined>;
  tell: (state: FolderState | undefined) => void;
}

export class CopyFolder {
  #timer: ReturnType<typeof setTimeout> | undefined;
  #failed: { at: number; why: string } | undefined;
  /** What is to be remembered, while the browser stores nothing. */
  #unkept: Held | undefined;

  constructor(
    readonly beside: RecordsBeside,
    readonly around: Around,
  ) {}

  /** The folder that copies go into, for the window to ask leave for. */
  async folder(): Promise<CopiesInto | undefined> {
    const held = await this.#held();
    if (held) await this.#hindered(held);
    else this.around.tell(undefined);
    return held?.folder;
  }

  /** From now on copies go there, the first at once. Answers why none could be written. */
  async use(folder: CopiesInto): Promise<string | undefined> {
    const held = await this.#held();
    const same =
      held && ((await held.folder.isSameEntry?.(folder as unknown as FileSystemHandle)) ?? false);
    const written = same ? held.written : [];
    try {
      await this.beside.put([[KEY, { folder, written } satisfies Held]]);
    } catch (error) {
      return whyNot(folder.name, error as Error);
    }
    this.#unkept = this.#failed = undefined;
    return this.write();
  }

  /** No copies go anywhere from now on; those that are there stay. */
  async leave(): Promise<void> {
    this.stop();
    await this.beside.put([[KEY, undefined]]);
    this.#unkept = undefined;
    this.around.tell(undefined);
  }

  stop(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
  }

  /** To be called when nothing is being kept: writes a copy where something has changed since the last. Never throws. */
  async rest(): Promise<void> {
    const held = await this.#held();
    if (!held || !this.#changed(held) || (await this.#hindered(held))) return;
    const now = this.around.now().getTime();
    const since = (from: number): number => (from > now ? Infinity : now - from);
    const wait = Math.max(
      held.at ? EVERY_MS - since(Date.parse(held.at)) : 0,
      this.#failed ? AGAIN_MS - since(this.#failed.at) : 0,
    );
    if (wait > 0) {
      this.#timer ??= setTimeout(() => {
        this.#timer = undefined;
        void this.rest();
      }, wait);
      return;
    }
    await this.around.quiet();
    // What could not be written now is tried again, also where nothing more is changed.
    if ((await this.write(true)) !== undefined) void this.rest();
  }

  /** Writes a copy now; `unlessOther` leaves it where one is being written. Answers why it could not. */
  async write(unlessOther = false): Promise<string | undefined> {
    this.stop();
    let why: string | undefined;
    const locks = typeof navigator === 'undefined' ? undefined : navigator.locks;
    const writing = async (): Promise<void> => {
      const held = await this.#held();
      if (held) why = (await this.#hindered(held)) ?? (await this.#write(held));
    };
    if (locks) await locks.request(LOCK, { ifAvailable: unlessOther }, (lock) => lock && writing());
    else await writing();
    return why;
  }

  async #write(held: Held): Promise<string | undefined> {
    try {
      const before = this.around.keeping().copyAt;
      const made = await this.around.made();
      if (!made) return undefined;
      // The journal may have been read to its end only now.
      if (this.around.keeping().aside.length > 0) return await this.#hindered(held);
      const { site } = made;
      const ours = held.site === undefined || held.site === site ? held : { ...held, written: [] };
      const name = await freeName(ours, made.copy.name);
      const written = [...ours.written.filter((one) => one !== name), name];
      // Known before it is there: should the window be closed meanwhile, what is left of it is not taken for another's.
      if (!(await this.#remember(held, { ...ours, written }))) return undefined;
      try {
        await put(ours, name, made.copy.bytes);
      } catch (error) {
        await this.#remember(held, held);
        throw error;
      }
      // Of a copy that was saved elsewhere meanwhile it cannot be told which has more.
      const alone = this.around.keeping().copyAt === before;
      await made.copied();
      const old = written.slice(0, -DAYS);
      for (const one of old) await held.folder.removeEntry(one).catch(() => undefined);
      const { copyAt } = this.around.keeping();
      const now: Held = {
        folder: held.folder,
        written: written.slice(-DAYS),
        at: this.around.now().toISOString(),
        ...(copyAt && alone ? { copyAt } : {}),
        ...(site ? { site } : {}),
      };
      if (!(await this.#remember(held, now))) return undefined;
      this.#failed = undefined;
      this.#tell(now);
      return undefined;
    } catch (error) {
      const why = whyNot(held.folder.name, error as Error);
      this.#failed = { at: this.around.now().getTime(), why };
      this.#tell(held);
      return why;
    }
  }

  /** Not where another folder, or none, has been picked meanwhile. */
  async #remember({ folder }: Held, now: Held): Promise<boolean> {
    const is = (await this.#held())?.folder;
    if (!is || (await is.isSameEntry?.(folder as unknown as FileSystemHandle)) === false)
      return false;
    this.#unkept = await this.beside.put([[KEY, now]]).then(
      () => undefined,
      () => now,
    );
    return true;
  }

  async #held(): Promise<Held | undefined> {
    return this.#unkept ?? this.beside.get<Held>(KEY).catch(() => undefined);
  }

  #changed({ copyAt }: Held): boolean {
    const now = this.around.keeping();
    return copyAt === undefined || now.sinceCopy > 0 || now.copyAt !== copyAt;
  }

  /** Why none may be written now, if so; told. */
  async #hindered(held: Held): Promise<string | undefined> {
    // A copy without what could not be read is not to take the place of one that has it.
    const aside = this.around.keeping().aside.length > 0;
    const leave = (await held.folder.queryPermission?.({ mode: 'readwrite' })) ?? 'granted';
    const asks = !aside && leave !== 'granted';
    const why = aside ? ASIDE : asks ? asksSaid(held) : undefined;
    this.#tell(held, { ...(why ? { why } : {}), ...(asks ? { asks } : {}) });
    return why;
  }

  /** What failed last is told until it is mended. */
  #tell({ folder, at }: Held, more: Pick<FolderState, 'why' | 'asks'> = {}): void {
    const failed = this.#failed ? { why: this.#failed.why } : {};
    this.around.tell({ name: folder.name, ...(at ? { at } : {}), ...failed, ...more });
  }
}

const ASIDE =
  'A part of the journal could not be read: the copies in the folder are left as they are.';
const asksSaid = ({ folder }: Held): string =>
  `The browser asks you anew before copies go into “${folder.name}”.`;

/** A name that nothing in the folder has but what was written by this: another computer may copy there too. */
async function freeName({ folder, written }: Held, name: string): Promise<string> {
  for (let nth = 1; ; nth++) {
    const one = nth === 1 ? name : name.replace('.bookweft.', `-${nth}.bookweft.`);
    if (written.includes(one) || !(await has(folder, one))) return one;
  }
}

async function has(folder: CopiesInto, name: string): Promise<boolean> {
  try {
    await folder.getFileHandle(name);
    return true;
  } catch (error) {
    // The name of a folder is none for a file.
    if ((error as Error).name === 'TypeMismatchError') return true;
    if ((error as Error).name === 'NotFoundError') return false;
    throw error;
  }
}

/** Writes all or nothing: of a file that could not be written no empty one stays. */
async function put({ folder, written }: Held, name: string, bytes: ArrayBuffer): Promise<void> {
  const file = await folder.getFileHandle(name, { create: true });
  try {
    const into = await file.createWritable();
    try {
      await into.write(bytes);
      await into.close();
    } catch (error) {
      await into.abort().catch(() => undefined);
      throw error;
    }
  } catch (error) {
    if (!written.includes(name)) await folder.removeEntry(name).catch(() => undefined);
    throw error;
  }
}

/** By the names of exceptions that the standard gives. */
const WHY: Record<string, string> = {
  NotFoundError: 'the folder is not there any more',
  QuotaExceededError: 'there is no room left',
  NotAllowedError: 'the browser may not write there',
  NoModificationAllowedError: 'the browser may not write there',
};

/** Why nothing was written, in a finished sentence. */
function whyNot(folder: string, { name, message }: Error): string {
  const why = WHY[name] ?? message.replace(/\.$/, '');
  return `No copy could be written into “${folder}”: ${why}.`;
}
