import type { FindIndex } from '../find/find-index';
import type { Edit } from '../journal/edits';
import type { EntryId, Journal } from '../journal/records';
import type { WeaveIndex } from '../weave/weave-index';

/** What the engine takes from outside, so that the same input gives the same answers. */
export interface Surroundings {
  now: () => Date;
  newId: () => string;
}

/** What the engine's own helpers may reach: the journal, its indexes, and what stands around it. */
export interface Core {
  readonly journal: Journal;
  readonly around: Surroundings;
  readonly findIndex: FindIndex;
  readonly weaveIndex: WeaveIndex;
  /** Grows with every change of the journal, so that what was worked out from it can be kept until then. */
  readonly revision: number;
  numberOf(id: EntryId): number;
  nowIso(): string;
}

/** What came of a wish before it is applied: the edit, with the id it is about, or one sentence why not. */
export type Asked =
  { ok: true; edit: Edit; id?: string } | { ok: false; code: string; said: string };
