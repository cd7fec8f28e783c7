/** Latent semantics of the journal, learnt while nothing else is asked, so that near lists know meaning as well as words. */
import type { Core } from './core';

/** Fewer entries teach nothing that their words do not tell. */
const LEAST_ENTRIES = 100;
/** Learnt anew when this share of the entries has changed since, but not for a few. */
const STALE_SHARE = 0.05;
const STALE_LEAST = 50;

/** Learns what the journal's words mean, if that is not known or no longer holds; breathes between slices of some milliseconds. */
export async function keepLearning(core: Core, breathe: () => Promise<void>): Promise<void> {
  const { weaveIndex, journal } = core;
  const { size } = journal.tables.entries;
  if (size < LEAST_ENTRIES) return;
  if (weaveIndex.unlearnt <= Math.max(STALE_LEAST, STALE_SHARE * size)) return;
  const learning = weaveIndex.learnMeaning();
  while (!learning.next().done) await breathe();
}
