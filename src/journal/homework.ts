/** Assignments that are set at a meeting and done after it. */
import type { Entry } from './records';

/** Nobody sits a quarter of an hour over an assignment while a circle waits: longer ones are taken home. Common practice. */
const LONGEST_HERE = 15;

/** Minutes to set work that is done elsewhere. Common practice. */
export const MINUTES_TO_SET = 3;

/** Whether an assignment is done elsewhere: always, unless it is said to take a few minutes only. */
export const doneElsewhere = ({ kind, minutes = 0 }: Pick<Entry, 'kind' | 'minutes'>): boolean =>
  kind === 'assignment' && !(minutes > 0 && minutes <= LONGEST_HERE);
