/** What is held of a meeting while it runs, for each guide its own, so that a closed lid loses nothing. */
import { forget, readStored, store } from '../stored';

export interface Mark {
  used: boolean;
  seconds: number;
  went?: 'well' | 'mixed' | 'flat';
  note?: string;
}

export interface HeldRun {
  meeting?: string;
  circle: string;
  begun: number;
  at: string;
  since: number;
  order: string[];
  marks: Record<string, Mark>;
  note: string;
}

const keyOf = (guide: string): string => `bookweft.running ${guide}`;
const LONGEST_MS = 12 * 3_600_000;

/** The local day of a moment, as in 2027-01-07. */
export const dayOf = (time: number): string => new Date(time).toLocaleDateString('sv-SE');

/** Whether a meeting last touched then may be over by now: on another day, or more than twelve hours ago. */
export const isEarlier = (touched: number, now: number): boolean =>
  touched > 0 && (dayOf(touched) !== dayOf(now) || now - touched > LONGEST_MS);

export function readRun(guide: string): HeldRun | undefined {
  const held = readStored<HeldRun>(keyOf(guide));
  return held && Array.isArray(held.order) && typeof held.marks === 'object' ? held : undefined;
}

/** Where it cannot be put by, the window itself still holds it, and the journal what was kept of it. */
export const holdRun = (guide: string, held: HeldRun): boolean => store(keyOf(guide), held);

export const forgetRun = (guide: string): void => forget(keyOf(guide));
