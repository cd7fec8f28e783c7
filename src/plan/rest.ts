/** Whether an entry has rested since this circle last had it. */
import { readDate } from '../language/dates';

/** A rested entry starts here and comes back to nearly 1, so that what was never used goes first. */
const JUST_RESTED = 0.6;
const LONG_RESTED = 0.95;

/**
 * 1 if never used with the circle; 0 while inside the resting time; from 0.6 just after it to 0.95 once it has
 * rested three times as long. The scale is ours. A vague date ("2024") is taken at its latest day.
 *
 * @param lastUsed EDTF date of the last use, if any; a date that cannot be read counts as used just now.
 * @param onDay ISO day the guide is for. A use after that day counts as well, since it will be as fresh.
 * @param restMonths calendar months, 0 or more; with 0 nothing needs rest.
 */
export function restOf(lastUsed: string | undefined, onDay: string, restMonths: number): number {
  if (lastUsed === undefined || restMonths <= 0) return 1;
  const read = readDate(lastUsed);
  const used = read.ok ? (read.date.latest ?? read.date.earliest) : undefined;
  if (used === undefined) return 0;
  const [first, second] = used <= onDay ? [used, onDay] : [onDay, used];
  const rested = addMonths(first, restMonths);
  if (second < rested) return 0;
  const past =
    daysBetween(rested, second) /
    Math.max(1, daysBetween(rested, addMonths(first, 3 * restMonths)));
  return JUST_RESTED + (LONG_RESTED - JUST_RESTED) * Math.min(1, past);
}

/** The same day so many months on, or the last day of that month where it is shorter. */
function addMonths(isoDay: string, months: number): string {
  const [year, month, day] = isoDay.split('-').map(Number) as [number, number, number];
  const last = new Date(Date.UTC(year, month + Math.floor(months), 0)).getUTCDate();
  const moved = new Date(Date.UTC(year, month - 1 + Math.floor(months), Math.min(day, last)));
  return moved.toISOString().slice(0, 10);
}

function daysBetween(from: string, to: string): number {
  return (Date.parse(to) - Date.parse(from)) / 86_400_000;
}
