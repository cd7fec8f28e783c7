/** What this browser keeps of how Weave is looked at, from sitting to sitting. */
import type { KeptStrands } from '../../engine/weave-answers';

const STORED = 'bookweft.weave';
const STRANDS = `${STORED}.strands.`;

function read<T>(key: string, usual: T): T {
  try {
    return { ...usual, ...(JSON.parse(localStorage.getItem(key) ?? '{}') as Partial<T>) };
  } catch {
    return usual;
  }
}

function keep(key: string, value: unknown): void {
  try {
    localStorage.setItem(key, JSON.stringify(value));
  } catch {
    // A browser that stores nothing shows it as it is for this sitting.
  }
}

/** How the cloth lay last; what is not kept is as in `usual`. */
export const keptSettings = <T>(usual: T): T => read(STORED, usual);
export const keepSettings = (settings: unknown): void => keep(STORED, settings);

/** What is remembered of the last run of a journal's strands. */
export const keptStrands = (journal: string): KeptStrands =>
  read<KeptStrands>(STRANDS + journal, {});
export const keepStrands = (journal: string, kept: KeptStrands): void =>
  keep(STRANDS + journal, kept);
