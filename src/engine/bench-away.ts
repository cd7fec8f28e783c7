/** A gathering put away that comes back while another is on the bench, and goes again: neither loses anything by it. */
import { fileKey, fileOfKey, HEAD } from './bench-ledger';
import type { BenchLedger, FileHeld, HeadHeld, Patch } from './bench-ledger';
import type { Beside } from './history';

interface Laying {
  /** Lays a patch; answers the one that takes it back. */
  lay: (patch: Patch) => Patch;
  /** The head of a gathering newly begun. */
  head: () => HeadHeld;
  /** It has come back. */
  back: () => void;
}

/** Puts what is on the bench away by this patch, and brings it back beside whatever is there by then. */
export function awayAndBack(
  ledger: BenchLedger,
  patch: Patch,
  { lay, head, back: isBack }: Laying,
): Beside {
  let away = patch;
  let back: Patch = [];
  return {
    redo: () => {
      back = lay(awayAgain(ledger, away, head));
    },
    undo: () => {
      away = lay(broughtBack(ledger, back));
      isBack();
    },
  };
}

/** The files on the bench go after those that come back, under the same head; what is in both is there once. */
function broughtBack(ledger: BenchLedger, back: Patch): Patch {
  const laid = new Map<string, unknown>();
  for (const [number] of ledger.files()) laid.set(fileKey(number), undefined);
  const had = new Set<string>();
  let next = 0;
  for (const [key, value] of back) {
    laid.set(key, value);
    const number = fileOfKey(key);
    if (number === undefined || value === undefined) continue;
    had.add((value as FileHeld).told.digest);
    next = Math.max(next, number + 1);
  }
  for (const [, held] of ledger.files()) {
    if (!had.has(held.told.digest)) laid.set(fileKey(next++), held);
  }
  return [...laid];
}

/** What came onto the bench since it was brought back stays there, under a head of its own. */
function awayAgain(ledger: BenchLedger, away: Patch, head: () => HeadHeld): Patch {
  const goes = new Map(away);
  const stays = ledger.files().some(([number]) => !goes.has(fileKey(number)));
  return stays && goes.has(HEAD) && !goes.get(HEAD) ? [...away, [HEAD, head()]] : away;
}
