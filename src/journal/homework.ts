/** Assignments that are set at a meeting and done after it. */
import type { Entry } from './records';

/** Nobody sits a quarter of an hour over an assignment while a circle waits: longer ones are taken home. Common practice. */
const LONGEST_HERE = 15;

/** Whether an assignment's own minutes are those of work done elsewhere. */
export const doneElsewhere = ({ kind, minutes }: Pick<Entry, 'kind' | 'minutes'>): boolean =>
  kind === 'assignment' && (minutes ?? 0) > LONGEST_HERE;
