/** A desk over a store, with a clock that is set by hand, for tests of the desk. */
import { createHash, randomFillSync } from 'node:crypto';
import type { Done, KeepState, Totals, UndoState } from '../../../src/engine/desk';
import { DeskOver, type DeskSurroundings } from '../../../src/engine/desk-over';
import { writeJournalFile } from '../../../src/journal/file';
import { makeIds } from '../../../src/journal/ids';
import type { Journal } from '../../../src/journal/records';
import type { JournalStore } from '../../../src/keep/store';

export const NOON = Date.UTC(2026, 10, 25, 12);

export interface Setup {
  desk: DeskOver;
  /** Everything the desk has told, oldest first. */
  told: {
    keeping: KeepState[];
    changed: { totals: Totals; undo: UndoState }[];
    arriving: Totals[];
  };
  clock: { now: number };
}

export const sha256 = async (bytes: Uint8Array): Promise<string> =>
  createHash('sha256').update(bytes).digest('hex');

export function deskOver(
  store: JournalStore,
  more: Partial<DeskSurroundings> = {},
  memoryOnly?: string,
): Setup {
  const clock = { now: NOON };
  const ids = makeIds(
    () => clock.now,
    (bytes) => void randomFillSync(bytes),
  );
  const desk = new DeskOver(
    store,
    {
      now: () => new Date(clock.now),
      newId: ids,
      breathe: () => new Promise((resolve) => setImmediate(resolve)),
      sha256,
      demo: async () => {
        throw new Error('no demo here');
      },
      faces: async () => [],
      ...more,
    },
    memoryOnly,
  );
  const told: Setup['told'] = { keeping: [], changed: [], arriving: [] };
  void desk.listen({
    keeping: (state) => told.keeping.push(state),
    changed: (totals, undo) => told.changed.push({ totals, undo }),
    arriving: (totals) => told.arriving.push(totals),
  });
  return { desk, told, clock };
}

/** Opens a desk over a store and waits until all is read. */
export async function opened(
  store: JournalStore,
  more: Partial<DeskSurroundings> = {},
): Promise<Setup> {
  const setup = deskOver(store, more);
  await setup.desk.open();
  await setup.desk.whenLoaded();
  return setup;
}

export const rows = (journal: Journal): string => writeJournalFile(journal);

export async function must(doing: Promise<Done>): Promise<Done> {
  const done = await doing;
  if (!done.ok) throw new Error(done.said);
  return done;
}
