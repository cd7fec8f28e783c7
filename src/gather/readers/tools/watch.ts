import type { UnreadableCode } from '../../block';

/** Thrown by readers, caught by `readFile` and told as a value: a file that cannot be read, with why and what to do. */
export class Unreadable extends Error {
  constructor(
    readonly code: UnreadableCode,
    message: string,
  ) {
    super(message);
    this.name = 'Unreadable';
  }
}

/** Runs a library on bytes of unknown soundness: whatever it throws says that the file is damaged. */
export async function attempt<T>(work: () => T | Promise<T>, message: string): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof Unreadable) throw error;
    throw new Unreadable('damaged', message);
  }
}

interface WatchOptions {
  signal?: AbortSignal;
  /** For one file, in milliseconds. */
  limitMs?: number;
  /** A clock in milliseconds. */
  now?: () => number;
}

const SLICE_MS = 25;
const LIMIT_MS = 120_000;

/**
 * Keeps an eye on a stop signal and on the time while one file is read. `tick` is cheap and for inner loops; `rest` also lets other
 * work of the thread have its turn, without which no signal could arrive.
 */
export class Watch {
  readonly #signal: AbortSignal | undefined;
  readonly #now: () => number;
  readonly #limitMs: number;
  #began: number;
  #slice: number;
  #ticks = 0;

  constructor({ signal, limitMs = LIMIT_MS, now = () => performance.now() }: WatchOptions = {}) {
    this.#signal = signal;
    this.#now = now;
    this.#limitMs = limitMs;
    this.#began = this.#slice = now();
  }

  /** Throws `Unreadable` once the work was stopped or has taken too long. */
  tick(): void {
    this.#ticks += 1;
    if (this.#ticks % 64 === 0) this.check();
  }

  async rest(): Promise<void> {
    this.check();
    if (this.#now() - this.#slice < SLICE_MS) return;
    await new Promise((resolve) => setTimeout(resolve, 0));
    this.#slice = this.#now();
    this.check();
  }

  /** As `tick`, at once. */
  check(): void {
    if (this.#signal?.aborted) {
      throw new Unreadable('stopped', 'This was stopped before the file was read.');
    }
    if (this.#now() - this.#began > this.#limitMs) {
      throw new Unreadable(
        'too-slow',
        'This file was taking too long to read and was put aside. Split it into smaller files, or save it in another format, and try again.',
      );
    }
  }
}
