import * as Comlink from 'comlink';
import type { Desk, DeskEvents } from '../engine/desk';
import { deskWorker } from './desk-worker';

/** The desk behind the worker, as screens see it. Events come back through a proxied listener. */
export function openDesk(): Desk {
  const remote = Comlink.wrap<Desk>(deskWorker);
  const ask = (name: string): unknown => (remote as unknown as Record<string, unknown>)[name];
  /** Parts of the desk: `reading.year` is asked for by that whole name. */
  const part = <Part extends 'reading' | 'planning' | 'printing' | 'weave' | 'gathering'>(
    of: Part,
  ): Desk[Part] => new Proxy({} as Desk[Part], { get: (_, name: string) => ask(`${of}.${name}`) });
  const parts = {
    reading: part('reading'),
    planning: part('planning'),
    printing: part('printing'),
    weave: part('weave'),
    gathering: part('gathering'),
  };
  return new Proxy({} as Desk, {
    get(_, name: string) {
      if (Object.hasOwn(parts, name)) return parts[name as keyof typeof parts];
      if (name === 'then') return undefined;
      if (name === 'listen') {
        return (events: DeskEvents) =>
          remote.listen(Comlink.proxy(events) as unknown as DeskEvents);
      }
      return ask(name);
    },
  });
}
