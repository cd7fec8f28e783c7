/** Hands a large neighbourhood to the layout worker and waits until it has come to rest. */
import type { LayingInput } from '../../engine/laying';
import type { Point } from '../../engine/weave-answers';

let worker: Worker | undefined;
let turn = 0;

/** The places once they are settled; undefined when a later asking has come first. */
export function settled(input: LayingInput): Promise<Map<string, Point> | undefined> {
  worker ??= new Worker(new URL('./layout.worker.ts', import.meta.url), { type: 'module' });
  const mine = ++turn;
  const running = worker;
  return new Promise((resolve) => {
    const listen = (event: MessageEvent<{ turn: number; places: [string, Point][] }>): void => {
      if (event.data.turn < mine) return;
      running.removeEventListener('message', listen);
      resolve(event.data.turn === mine ? new Map(event.data.places) : undefined);
    };
    running.addEventListener('message', listen);
    running.postMessage({ turn: mine, input });
  });
}
