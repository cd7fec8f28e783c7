/** Whole days by number, so that they can be counted and added; ISO days in and out, no clock and no time zone. */

const DAY_MS = 86_400_000;

/** Days since 1 January 1970. Throws a RangeError on anything that is no day. */
export function dayNumber(isoDay: string): number {
  const time = Date.parse(`${isoDay}T00:00:00Z`);
  if (Number.isNaN(time) || new Date(time).toISOString().slice(0, 10) !== isoDay) {
    throw new RangeError(`Not a day written as YYYY-MM-DD: ${isoDay}`);
  }
  return Math.round(time / DAY_MS);
}

export const isoDay = (number: number): string =>
  new Date(number * DAY_MS).toISOString().slice(0, 10);

export const addDays = (day: string, count: number): string => isoDay(dayNumber(day) + count);

/** Days from one to another, both counted; 0 where the second is before the first. */
export const daysFromTo = (from: string, to: string): number =>
  Math.max(0, dayNumber(to) - dayNumber(from) + 1);

/** 1 for Monday to 7 for Sunday, as ISO 8601 numbers them. */
export const weekday = (day: string): number => ((((dayNumber(day) + 3) % 7) + 7) % 7) + 1;

export const daysInMonth = (year: number, month: number): number =>
  new Date(Date.UTC(year, month, 0)).getUTCDate();

/** The month before or after by `count`, as YYYY-MM. */
export function addMonths(month: string, count: number): string {
  const [year = 0, number = 1] = month.split('-').map(Number);
  const at = year * 12 + number - 1 + count;
  return `${String(Math.floor(at / 12)).padStart(4, '0')}-${String((((at % 12) + 12) % 12) + 1).padStart(2, '0')}`;
}

/** Months from the month of one ISO day to that of another, as YYYY-MM; none where the second is before the first. */
export function monthsFromTo(from: string, to: string): string[] {
  const months: string[] = [];
  for (let month = from.slice(0, 7); month <= to.slice(0, 7); month = addMonths(month, 1))
    months.push(month);
  return months;
}

/** Whether a text is a day that exists, written YYYY-MM-DD. */
export function isDay(text: string): boolean {
  const [year, month, day] = (/^(\d{4})-(\d{2})-(\d{2})$/.exec(text) ?? []).slice(1).map(Number);
  return Boolean(
    year !== undefined && month && day && month <= 12 && day <= daysInMonth(year, month),
  );
}
