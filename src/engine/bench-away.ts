/** A gathering put away that comes back while another is on the bench, and goes again: neither loses anything by it. */
import { fileKey, fileOfKey, HEAD } from './bench-ledger';
import type { BenchLedger, FileHeld, HeadHeld, Patch } from './bench-ledger';

/** The files on the bench go after those that come back, under the same head; what is in both is there once. */
export function broughtBack(ledger: BenchLedger, back: Patch): Patch {
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
export function awayAgain(ledger: BenchLedger, away: Patch, head: () => HeadHeld): Patch {
  const goes = new Map(away);
  const stays = ledger.files().some(([number]) => !goes.has(fileKey(number)));
  return stays && goes.has(HEAD) && !goes.get(HEAD) ? [...away, [HEAD, head()]] : away;
}
