/**
 * Keeping as the desk sees it: edits go to the store in order, what could not be kept is tried again, old
 * updates are rewritten when nothing else is to do, and the state of all that is told in plain words.
 */
import type { Change } from '../journal/edits';
import { NotKept, type Aside, type JournalMeta, type JournalStore } from '../keep/store';
import type { KeepState } from './desk';

const RETRY_MS = 5000;
const IDLE_MS = 4000;

export class Keeping {
  #state: KeepState = { state: 'keeping', sinceCopy: 0, aside: [] };
  #meta: JournalMeta | undefined;
  #retry: ReturnType<typeof setTimeout> | undefined;
  #idle: ReturnType<typeof setTimeout> | undefined;
  #underWay = 0;

  constructor(
    readonly store: JournalStore,
    readonly nowIso: () => string,
    readonly tell: (state: KeepState) => void,
    /** Set where nothing can be stored at all: the sentence why. */
    readonly memoryOnly?: string,
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
    this.#set({
      aside,
      ...(this.memoryOnly
        ? { state: 'memory-only', why: this.memoryOnly }
        : { state: 'kept', at: this.nowIso() }),
    });
    void this.measure();
    this.#rest();
  }

  async begin(meta: JournalMeta): Promise<void> {
    this.#meta = meta;
    await this.store.saveMeta(meta);
  }

  /** Keeps an edit's changes. Never throws: what is not kept shows in the state and is tried again. */
  async keep(changes: readonly Change[]): Promise<boolean> {
    if (changes.length === 0) return true;
    this.#underWay += 1;
    try {
      await this.store.keep(changes);
      if (this.#meta) {
        this.#meta = { ...this.#meta, sinceCopy: this.#meta.sinceCopy + 1 };
        void this.store.saveMeta(this.#meta).catch(() => undefined);
      }
      this.#kept();
      return true;
    } catch (error) {
      this.#notKept(error);
      return false;
    } finally {
      this.#underWay -= 1;
      this.#rest();
    }
  }

  async copied(): Promise<void> {
    if (!this.#meta) return;
    this.#meta = { ...this.#meta, copyAt: this.nowIso(), sinceCopy: 0 };
    await this.store.saveMeta(this.#meta).catch(() => undefined);
    this.#set({});
  }

  /** Asks the browser how full the store is. */
  async measure(): Promise<void> {
    if (typeof navigator === 'undefined' || !navigator.storage?.estimate) return;
    const [{ usage, quota }, persisted] = await Promise.all([
      navigator.storage.estimate(),
      navigator.storage.persisted?.() ?? false,
    ]);
    this.#set({ usedBytes: usage, quotaBytes: quota, persisted });
  }

  async close(): Promise<void> {
    clearTimeout(this.#retry);
    clearTimeout(this.#idle);
    await this.store.close();
  }

  #kept(): void {
    clearTimeout(this.#retry);
    this.#retry = undefined;
    if (this.memoryOnly) this.#set({ state: 'memory-only', why: this.memoryOnly });
    else this.#set({ state: 'kept', at: this.nowIso(), why: undefined });
  }

  #notKept(error: unknown): void {
    const why = error instanceof NotKept ? error.message : `${(error as Error).message}.`;
    this.#set({ state: 'not-kept', why });
    this.#retry ??= setTimeout(() => {
      this.#retry = undefined;
      void this.store.retry().then(
        (all) => (all ? this.#kept() : this.#notKept(new NotKept('failed', why))),
        (again: unknown) => this.#notKept(again),
      );
    }, RETRY_MS);
  }

  #rest(): void {
    clearTimeout(this.#idle);
    this.#idle = setTimeout(() => {
      if (this.#underWay === 0) void this.store.compact().catch(() => undefined);
    }, IDLE_MS);
  }

  #set(change: Partial<KeepState>): void {
    const { copyAt, sinceCopy = 0 } = this.#meta ?? {};
    this.#state = { ...this.#state, ...change, sinceCopy, ...(copyAt ? { copyAt } : {}) };
    this.tell(this.#state);
  }
}
