/**
 * Keeping as the desk sees it: edits go to the store in order, what could not be kept is tried again, old
 * updates are rewritten when nothing else is to do, and the state of all that is told in plain words.
 */
import type { Change } from '../journal/edits';
import { NotKept, type Aside, type JournalMeta, type JournalStore } from '../keep/store';
import type { FolderState, KeepState } from './desk';
import type { Head } from './history';

const RETRY_MS = 5000;
const IDLE_MS = 4000;

export class Keeping {
  #state: KeepState = { state: 'keeping', sinceCopy: 0, aside: [] };
  #meta: JournalMeta | undefined;
  #retry: ReturnType<typeof setTimeout> | undefined;
  #idle: ReturnType<typeof setTimeout> | undefined;
  #underWay = 0;
  /** Something is held back, and why: the end of the sentence "Not kept: …". */
  #why: string | undefined;
  #open = false;

  constructor(
    readonly store: JournalStore,
    readonly nowIso: () => string,
    readonly tell: (state: KeepState) => void,
    /** Set where nothing can be stored at all: the sentence why. */
    readonly memoryOnly?: string,
    /** Called when nothing has been kept for a while. */
    readonly atRest?: () => void,
  ) {}

  get state(): KeepState {
    return this.#state;
  }

  get meta(): JournalMeta | undefined {
    return this.#meta;
  }

  async open(): Promise<JournalMeta | undefined> {
    this.#meta = await this.store.meta();
    return this.#meta;
  }

  /** All is read: from here on the head says so. */
  opened(aside: Aside[]): void {
    this.#open = true;
    this.#set({ aside });
    this.#show(true);
    void this.measure();
    this.#rest();
  }

  foundAside(aside: Aside[]): void {
    const known = this.#state.aside.filter(({ part }) => !aside.some((one) => one.part === part));
    this.#set({ aside: [...known, ...aside] });
  }

  /** Begins a journal with no rows yet. Answers whether that is kept. */
  begin(head: Head): Promise<boolean> {
    return this.keep([], head, 0);
  }

  /**
   * Keeps an edit's changes, with the journal's head and the number of its entries after it. Never throws: what is not kept
   * shows in the state and is tried again. Answers whether it is kept.
   */
  async keep(changes: readonly Change[], head: Head, entries: number): Promise<boolean> {
    const sinceCopy = (this.#meta?.sinceCopy ?? 0) + (changes.length > 0 ? 1 : 0);
    const { copyAt } = this.#meta ?? {};
    const meta = { ...head, sinceCopy, entries, ...(copyAt ? { copyAt } : {}) };
    this.#meta = meta;
    this.#underWay += 1;
    this.#show();
    try {
      await this.store.keep(changes, meta);
      this.#underWay -= 1;
      this.#kept();
      return true;
    } catch (error) {
      this.#underWay -= 1;
      this.#notKept(error);
      return false;
    } finally {
      this.#rest();
    }
  }

  /** A copy was saved out, made when there were so many edits since the one `before`. */
  async copied(head: Head, edits: number, before?: string): Promise<void> {
    if (!this.#meta) return;
    // Another was saved while this one was written: what is counted since is counted from that one.
    const since = this.#meta.copyAt === before ? edits : 0;
    const sinceCopy = Math.max(0, this.#meta.sinceCopy - since);
    const meta = { ...this.#meta, ...head, copyAt: this.nowIso(), sinceCopy };
    this.#meta = meta;
    this.#set({});
    await this.store.saveMeta(meta).catch(() => undefined);
  }

  /** How it stands with the folder that copies are written into. */
  foundFolder(folder: FolderState | undefined): void {
    const { folder: _before, ...state } = this.#state;
    this.#state = state;
    this.#set(folder ? { folder } : {});
  }

  /** What another window has written about the journal as a whole. */
  tookMeta(meta: JournalMeta): void {
    this.#meta = meta;
    this.#set({});
  }

  /** Asks the browser how full the store is. */
  async measure(): Promise<void> {
    if (typeof navigator === 'undefined' || !navigator.storage?.estimate) return;
    try {
      const [{ usage, quota }, persisted] = await Promise.all([
        navigator.storage.estimate(),
        navigator.storage.persisted?.() ?? false,
      ]);
      this.#set({ usedBytes: usage, quotaBytes: quota, persisted });
    } catch {
      // A browser that does not tell leaves that line out.
    }
  }

  async close(): Promise<void> {
    clearTimeout(this.#retry);
    clearTimeout(this.#idle);
    await this.store.close();
  }

  /** The store has everything up to here, also what was held back before. */
  #kept(): void {
    clearTimeout(this.#retry);
    this.#retry = undefined;
    this.#why = undefined;
    this.#show(true);
  }

  #notKept(error: unknown): void {
    this.#why = error instanceof NotKept ? error.message : `${(error as Error).message}.`;
    this.#show();
    this.#retry ??= setTimeout(() => void this.#tryAgain(), RETRY_MS);
  }

  async #tryAgain(): Promise<void> {
    this.#retry = undefined;
    try {
      if (await this.store.retry()) this.#kept();
      else this.#notKept(new NotKept('failed', this.#why ?? 'the store does not answer.'));
    } catch (error) {
      this.#notKept(error);
    }
  }

  /** Tells how it stands; `at` moves on only when all has reached the store. */
  #show(reached = false): void {
    const at = reached && this.#underWay === 0 ? { at: this.nowIso() } : {};
    if (this.memoryOnly) this.#set({ state: 'memory-only', why: this.memoryOnly });
    else if (this.#why !== undefined) this.#set({ state: 'not-kept', why: this.#why });
    else if (this.#underWay > 0 || !this.#open) this.#set({ state: 'keeping', why: undefined });
    else this.#set({ state: 'kept', why: undefined, ...at });
  }

  #rest(): void {
    clearTimeout(this.#idle);
    this.#idle = setTimeout(() => {
      if (this.#underWay > 0) return;
      this.atRest?.();
      void this.store.compact().catch(() => undefined);
    }, IDLE_MS);
  }

  #set(change: Partial<KeepState>): void {
    const { copyAt, sinceCopy = 0 } = this.#meta ?? {};
    this.#state = { ...this.#state, ...change, sinceCopy, ...(copyAt ? { copyAt } : {}) };
    this.tell(this.#state);
  }
}
