/** The record of the gathering in hand: its files, and of each the pieces that were let go for what says nearly the same. */
import { joinedRecord } from '../gather/accept';
import { sayPlace } from '../gather/piece';
import type { Change } from '../journal/edits';
import type { Gathering } from '../journal/records';
import { same } from '../journal/same';
import { itemOfKey, type ItemHeld, type Patch } from './bench-ledger';
import type { BenchParts } from './bench-view';

/** The record as it will be when the patch is laid. */
export function gatheringOf(parts: BenchParts, patch: Patch = []): Gathering {
  const { ledger, core } = parts;
  const head = ledger.head ?? { id: core.around.newId() as Gathering['id'], on: core.nowIso() };
  const known = placesKnown(parts, patch);
  return {
    ...head,
    files: ledger.files().map(([number, { told }]) => {
      const places = known.get(number);
      return {
        path: told.path,
        digest: told.digest,
        status: told.status,
        ...(told.reason ? { reason: told.reason } : {}),
        ...(places ? { known: [...places].sort() } : {}),
      };
    }),
  };
}

/** What a patch changes in the record, where no entry is accepted with it. */
export function recordChanges(parts: BenchParts, patch: Patch): Change[] {
  const { journal } = parts.core;
  const now = gatheringOf(parts, patch);
  const before = journal.tables.gatherings.get(now.id);
  const after = joinedRecord(journal, now);
  const told = before?.files ?? [];
  if (
    same(
      told.map(({ known }) => known ?? []),
      after.files.map(({ known }) => known ?? []),
    )
  )
    return [];
  // Without an entry and without a piece let go there is nothing to be recorded yet.
  if (!before && !after.files.some(({ known }) => known)) return [];
  return [{ table: 'gatherings', id: now.id, ...(before ? { before } : {}), after }];
}

/** By file, places of pieces that were settled as seen before and say nearly, and not exactly, what is there, or bring more. */
function placesKnown(
  { ledger, items, standing }: BenchParts,
  patch: Patch,
): Map<number, Set<string>> {
  const laid = new Map(
    patch.flatMap(([key, value]) => {
      const id = itemOfKey(key);
      return id === undefined ? [] : [[id, value as ItemHeld | undefined] as const];
    }),
  );
  const places = new Map<number, Set<string>>();
  for (const [id, held] of new Map([...ledger.items(), ...laid])) {
    const item = held?.as === 'seen' ? items.piece(id) : undefined;
    const place = item && sayPlace(item.sorted.source.place);
    if (!item || !place) continue;
    if (item.sorted.twinOf?.likeness === 1 && !standing.twinOf(item)?.brings) continue;
    places.set(item.file, (places.get(item.file) ?? new Set()).add(place));
  }
  return places;
}
