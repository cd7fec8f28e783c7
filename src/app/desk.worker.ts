/// <reference lib="webworker" />
import * as Comlink from 'comlink';
import demoUrl from '../../demo-data/harbour-lane.bookweft.json?url';
import { DeskOver } from '../engine/desk-over';
import { besideStore, openStore, watchOtherWindows } from '../engine/browser-store';
import { makeIds } from '../journal/ids';
import { READER, readerOver, serveReader } from './reader';
import { groupsByWorker } from './weave/grouping';

/**
 * Where the engine lives in the app: screens ask over Comlink, the answers are plain data. Started by the name of a reader it reads files
 * for another of its kind, so that both share what is loaded.
 */

const newId = makeIds(
  () => Date.now(),
  (bytes) => void crypto.getRandomValues(bytes as Uint8Array<ArrayBuffer>),
);
const hex = (bytes: ArrayBuffer): string =>
  [...new Uint8Array(bytes)].map((byte) => byte.toString(16).padStart(2, '0')).join('');

/** When a screen last asked or was answered. */
let lastAsked = 0;
/** Work of the desk's own waits until screens have asked nothing for so long, but never longer than the second. */
const [REST_MS, MOST_REST_MS] = [120, 240];
/** What holds a question up for long waits until nobody types. */
const [QUIET_MS, MOST_QUIET_MS] = [1500, 15_000];

/** A turn of the worker's loop: unlike a timer it is not held back to 4 ms. */
function turn(): Promise<void> {
  const { port1, port2 } = new MessageChannel();
  return new Promise((resolve) => {
    port1.onmessage = () => {
      port1.close();
      resolve();
    };
    port2.postMessage(undefined);
  });
}

/** Lets questions of screens go before what the desk does by itself. */
async function letOthers(rest = REST_MS, most = MOST_REST_MS): Promise<void> {
  await turn();
  const began = performance.now();
  for (let now = began; now - lastAsked < rest && now - began < most;) {
    await new Promise((resolve) => {
      setTimeout(resolve, 10);
    });
    now = performance.now();
  }
}

const startReader = (): Worker => new Worker(import.meta.url, { type: 'module', name: READER });

async function begin(): Promise<DeskOver> {
  const { store, memoryOnly, windows } = await openStore();
  const desk = new DeskOver(
    store,
    {
      now: () => new Date(),
      newId,
      breathe: () => letOthers(),
      quiet: () => letOthers(QUIET_MS, MOST_QUIET_MS),
      sha256: async (bytes) => hex(await crypto.subtle.digest('SHA-256', bytes as BufferSource)),
      demo: async () => (await fetch(demoUrl)).text(),
      faces: async (which) => (await import('./face-files')).faceFiles(which),
      beside: besideStore(memoryOnly !== undefined),
      // The built file's name changes with all it holds.
      ...(import.meta.env.PROD ? { edition: import.meta.url } : {}),
      ...(typeof Worker === 'undefined'
        ? {}
        : { reader: readerOver(startReader), groups: groupsByWorker }),
    },
    memoryOnly,
  );
  if (windows) watchOtherWindows(windows, desk);
  return desk;
}

/** Forwards every call to the desk once it is there; what is asked while the journal opens is answered when its first entries are in. */
function serveDesk(): void {
  const desk = begin();
  let opened: Promise<unknown> | undefined;
  const ready = new Proxy(
    {},
    {
      get: (_, name: string) =>
        name === 'then'
          ? undefined
          : async (...args: unknown[]) => {
              // A part of the desk is asked by its name and the question: `reading.year`.
              const [part, question] = name.includes('.') ? name.split('.') : [undefined, name];
              const whole = (await desk) as unknown as Record<string, unknown>;
              const held = (part ? whole[part] : whole) as Record<
                string,
                (...args: unknown[]) => unknown
              >;
              if (name !== 'listen' && name !== 'open') await opened;
              lastAsked = performance.now();
              const asked = held[question!]!(...args);
              if (name === 'open') opened = (asked as Promise<unknown>).catch(() => undefined);
              const answer = await asked;
              lastAsked = performance.now();
              return answer;
            },
      has: () => true,
    },
  );
  Comlink.expose(ready);
}

if (self.name === READER) serveReader(self as unknown as DedicatedWorkerGlobalScope);
else serveDesk();
