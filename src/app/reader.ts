/// <reference lib="webworker" />
/** Reading files in a worker of its own, under the desk's: a file that is slow or hostile holds nothing else up, and is let go of. */
import type { ColumnRole, FileRead, FileToRead } from '../gather/block';
import { readFile, type FileReader } from '../engine/file-reader';

/** The name a worker is started by to be a reader, not a desk. */
export const READER = 'reader';

interface Asked {
  file: FileToRead;
  columns?: Readonly<Record<string, ColumnRole>>;
}
type Said = { read: FileRead } | { done: true };

/** What no file of sensible size takes, in milliseconds; reading gives up by itself before that, unless it hangs. */
const LONGEST_MS = 180_000;
/** After this the worker is started anew: some libraries keep what they have once read. */
const FILES_EACH = 200;

/**
 * Answers the desk from inside the worker, through a port of its own: a library for PDF, loaded in a worker, takes the worker's own messages
 * for its.
 */
export function serveReader(scope: DedicatedWorkerGlobalScope): void {
  scope.onmessage = ({ ports: [port] }: MessageEvent) => {
    scope.onmessage = null;
    if (port) serve(port);
  };
}

function serve(port: MessagePort): void {
  let stop: AbortController | undefined;
  const say = (said: Said): void => port.postMessage(said);
  port.onmessage = async ({ data }: MessageEvent<Asked | 'stop'>) => {
    if (data === 'stop') {
      stop?.abort();
      return;
    }
    stop = new AbortController();
    const options = data.columns ? { columns: data.columns } : {};
    for await (const read of readFile(data.file, stop.signal, options)) say({ read });
    say({ done: true });
  };
}

/** Reads by a worker that `start` begins; one file at a time, the worker kept between files. */
export function readerOver(start: () => Worker): FileReader {
  let held: { worker: Worker; port: MessagePort } | undefined;
  let files = 0;
  const begin = (): { worker: Worker; port: MessagePort } => {
    const [worker, { port1: port, port2 }] = [start(), new MessageChannel()];
    worker.postMessage('begin', [port2]);
    return { worker, port };
  };
  const letGo = (): void => {
    held?.worker.terminate();
    held?.port.close();
    held = undefined;
    files = 0;
  };
  return async function* (file, signal, options = {}) {
    if (files >= FILES_EACH) letGo();
    held ??= begin();
    files += 1;
    const { worker, port } = held;
    const answers = new Answers(worker, port);
    const stop = (): void => port.postMessage('stop');
    signal?.addEventListener('abort', stop);
    const { columns } = options;
    port.postMessage({ file, ...(columns ? { columns } : {}) } satisfies Asked);
    try {
      for (;;) {
        const said = await answers.next();
        if (!said) {
          letGo();
          yield { path: file.path, result: GIVEN_UP };
          return;
        }
        if ('done' in said) return;
        yield said.read;
      }
    } finally {
      signal?.removeEventListener('abort', stop);
    }
  };
}

const GIVEN_UP = {
  ok: false,
  code: 'too-slow',
  message:
    'Reading this file took too long or too much memory and was given up. Save it in another format, or in parts, and gather it again.',
} as const;

/** What a worker says, in order; nothing more when it has failed or been silent too long. */
class Answers {
  #said: (Said | undefined)[] = [];
  #wake: () => void = () => undefined;

  constructor(worker: Worker, port: MessagePort) {
    port.onmessage = ({ data }: MessageEvent<Said>) => this.#add(data);
    port.onmessageerror = () => this.#add(undefined);
    worker.onerror = (event) => {
      event.preventDefault();
      this.#add(undefined);
    };
  }

  #add(said: Said | undefined): void {
    this.#said.push(said);
    this.#wake();
  }

  async next(): Promise<Said | undefined> {
    if (this.#said.length === 0) {
      await new Promise<void>((resolve) => {
        const silent = setTimeout(resolve, LONGEST_MS);
        this.#wake = () => {
          clearTimeout(silent);
          resolve();
        };
      });
    }
    return this.#said.shift();
  }
}
