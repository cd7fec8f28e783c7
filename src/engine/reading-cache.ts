/** What is worked out from the whole journal for the reading place, kept until the journal changes. */
import type { HeadingId } from '../journal/records';
import { allFacts, type BookFacts } from '../reading/book-facts';
import type { Core } from './core';

interface Held {
  revision: number;
  values: Map<string, unknown>;
}

const held = new WeakMap<object, Held>();

/** The value of `make`, made once for each state of the journal. */
export function keptFor<T>(core: Core, name: string, make: () => T): T {
  let kept = held.get(core.journal);
  if (!kept || kept.revision !== core.revision) {
    kept = { revision: core.revision, values: new Map() };
    held.set(core.journal, kept);
  }
  if (!kept.values.has(name)) kept.values.set(name, make());
  return kept.values.get(name) as T;
}

export const factsIn = (core: Core): ReadonlyMap<HeadingId, BookFacts> =>
  keptFor(core, 'facts', () => allFacts(core.journal));
