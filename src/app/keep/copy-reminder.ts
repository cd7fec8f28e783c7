/** When a reader is reminded that what was written is on one computer alone. */
import type { CopyAge, KeepState } from '../../engine/desk';

const DAY_MS = 24 * 60 * 60 * 1000;
/** A copy older than this is old. */
const OLD_DAYS = 30;
/** A journal without any copy is let be until it is this old and holds this many entries of the reader's own. */
const YOUNG_DAYS = 7;
const FEW_ENTRIES = 20;
/** How long "Later" holds. */
const LATER_DAYS = 7;

/** What this browser remembers of it, as ISO times. */
export interface Reminded {
  shown?: string;
  later?: string;
}

type Kept = Pick<KeepState, 'copyAt' | 'sinceCopy'>;

/** Whether a copy should be asked for at `now`: the reader has something to lose, and was not reminded today. */
export function reminds(keep: Kept, age: CopyAge, told: Reminded, now: Date): boolean {
  const days = (since: string): number => (now.getTime() - Date.parse(since)) / DAY_MS;
  if (keep.sinceCopy === 0 || age.own === 0) return false;
  if (told.later !== undefined && days(told.later) < LATER_DAYS) return false;
  if (told.shown !== undefined && sameDay(new Date(told.shown), now)) return false;
  if (keep.copyAt !== undefined) return days(keep.copyAt) > OLD_DAYS;
  return days(age.begun) > YOUNG_DAYS && age.own >= FEW_ENTRIES;
}

/** Of the reader's own calendar. */
const sameDay = (one: Date, other: Date): boolean => one.toDateString() === other.toDateString();
