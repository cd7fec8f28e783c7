/** Days as screens step over and say them. ISO days in and out; no time zone plays a part. */

const DAY_MS = 86_400_000;
export const MONTHS_LONG =
  'January February March April May June July August September October November December'.split(
    ' ',
  );
export const MONTHS_SHORT = MONTHS_LONG.map((name) => name.slice(0, 3));
const WEEKDAYS = 'Sunday Monday Tuesday Wednesday Thursday Friday Saturday'.split(' ');

const time = (day: string): number => Date.parse(`${day}T00:00:00Z`);

export const dayAfter = (day: string, count: number): string =>
  new Date(time(day) + count * DAY_MS).toISOString().slice(0, 10);

const lastOfMonth = (year: number, month: number): number =>
  new Date(Date.UTC(year, month, 0)).getUTCDate();

/** The same day of another month, or its last where it is shorter. */
export function monthAfter(day: string, count: number): string {
  const [year = 0, month = 1, date = 1] = day.split('-').map(Number);
  const at = year * 12 + month - 1 + count;
  const [inYear, inMonth] = [Math.floor(at / 12), (at % 12) + 1];
  const two = (value: number): string => String(value).padStart(2, '0');
  const kept = Math.min(date, lastOfMonth(inYear, inMonth));
  return `${String(inYear).padStart(4, '0')}-${two(inMonth)}-${two(kept)}`;
}

/** "5 to 9", "5, finished", "until 5", "from 5 on", "all month": the days of one month that a book was open, by their numbers. */
export function stretchSaid(piece: {
  from: number;
  to: number;
  /** Begun in an earlier month, or goes on in a later one. */
  before: boolean;
  after: boolean;
  /** The day it was finished or put down, where that is in this month. */
  end?: number;
  abandoned: boolean;
}): string {
  const { from, to, before, after, end, abandoned } = piece;
  const days = before
    ? after
      ? 'all month'
      : `until ${to}`
    : after
      ? `from ${from} on`
      : from === to
        ? `${from}`
        : `${from} to ${to}`;
  return end === undefined ? days : `${days}, ${abandoned ? 'put down' : 'finished'}`;
}

/** "Thursday 6 November". */
export function sayWeekday(day: string): string {
  const [, month = 1, date = 1] = day.split('-').map(Number);
  return `${WEEKDAYS[new Date(time(day)).getUTCDay()]} ${date} ${MONTHS_LONG[month - 1]}`;
}

/** Monday 0 to Sunday 6. */
export const columnOf = (day: string): number => (new Date(time(day)).getUTCDay() + 6) % 7;
