import * as Comlink from 'comlink';
import type { Desk, DeskEvents } from '../engine/desk';

/** The desk behind the worker, as screens see it. Events come back through a proxied listener. */
export function openDesk(): Desk {
  const worker = new Worker(new URL('./desk.worker.ts', import.meta.url), { type: 'module' });
  const remote = Comlink.wrap<Desk>(worker);
  return new Proxy({} as Desk, {
    get(_, name: string) {
      if (name === 'then') return undefined;
      if (name === 'listen') {
        return (events: DeskEvents) =>
          remote.listen(Comlink.proxy(events) as unknown as DeskEvents);
      }
      return (remote as unknown as Record<string, unknown>)[name];
    },
  });
}
