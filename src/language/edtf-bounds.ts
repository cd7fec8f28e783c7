import type { DateEnd, DateParts, DatePoint, LongYear } from './edtf-parts';

/** First and last day a date may be, as ISO days; a year outside 0000 to 9999 has a sign and six digits. */
export interface DayBounds {
  earliest?: string;
  latest?: string;
}

const MONTHS = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12] as const;
const MAX_SIX_DIGITS = 999_999;

/**
 * First and last month of each season number, months past 12 lying in the next year. EDTF gives 21 to 24 no months and no
 * hemisphere; the months here are the usual ones of the northern hemisphere (common practice), and 29 to 32 the southern.
 */
const SEASON_MONTHS: Readonly<Record<number, readonly [number, number]>> = {
  21: [3, 5],
  22: [6, 8],
  23: [9, 11],
  24: [12, 14],
  25: [3, 5],
  26: [6, 8],
  27: [9, 11],
  28: [12, 14],
  29: [9, 11],
  30: [12, 14],
  31: [3, 5],
  32: [6, 8],
  33: [1, 3],
  34: [4, 6],
  35: [7, 9],
  36: [10, 12],
  37: [1, 4],
  38: [5, 8],
  39: [9, 12],
  40: [1, 6],
  41: [7, 12],
};

/** Days in a month of the proleptic Gregorian calendar; `year` is astronomical, `month` 1 to 12. */
export function daysInMonth(year: number, month: number): number {
  if (month === 2) return isLeapYear(year) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

function isLeapYear(year: number): boolean {
  return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
}

/** ISO day, or undefined where the year needs more than six digits. */
export function isoDay(year: number, month: number, day: number): string | undefined {
  if (Math.abs(year) > MAX_SIX_DIGITS) return undefined;
  const width = year >= 0 && year <= 9999 ? 4 : 6;
  const sign = year < 0 ? '-' : width === 6 ? '+' : '';
  const two = (part: number): string => String(part).padStart(2, '0');
  return `${sign}${String(Math.abs(year)).padStart(width, '0')}-${two(month)}-${two(day)}`;
}

/** Bounds of a date, or undefined if no day fits it (20X1-02-29). */
export function boundsOf(parts: DateParts): DayBounds | undefined {
  switch (parts.type) {
    case 'point':
      return parts.season === undefined ? pointBounds(parts) : seasonBounds(parts, parts.season);
    case 'year':
      return yearBounds(parts);
    case 'interval': {
      const from = endBounds(parts.from);
      const to = endBounds(parts.to);
      return from && to && { earliest: from.earliest, latest: to.latest };
    }
    case 'choice': {
      const each = parts.items.map(boundsOf);
      if (each.some((bounds) => bounds === undefined)) return undefined;
      const known = each.flatMap((bounds) => bounds ?? []);
      return {
        earliest: parts.earlier
          ? undefined
          : extreme(
              known.map(({ earliest }) => earliest),
              -1,
            ),
        latest: parts.later
          ? undefined
          : extreme(
              known.map(({ latest }) => latest),
              1,
            ),
      };
    }
  }
}

/** Order of two ISO days, also where one is before the year 0. */
export function compareDays(a: string, b: string): number {
  const [yearA, yearB] = [a, b].map((day) => Number(/^[-+]?\d+/.exec(day)?.[0]));
  if (yearA !== yearB) return (yearA ?? 0) - (yearB ?? 0);
  return a.slice(-5) < b.slice(-5) ? -1 : a.slice(-5) > b.slice(-5) ? 1 : 0;
}

function extreme(days: readonly (string | undefined)[], sign: 1 | -1): string | undefined {
  return days.reduce((best, day) =>
    best === undefined || day === undefined
      ? undefined
      : sign * compareDays(day, best) > 0
        ? day
        : best,
  );
}

function endBounds(end: DateEnd): DayBounds | undefined {
  return typeof end === 'string' ? {} : boundsOf(end);
}

function yearBounds({ value, significant }: LongYear): DayBounds {
  const spread = significant ? 10 ** Math.max(0, String(Math.abs(value)).length - significant) : 1;
  const near = Math.trunc(value / spread) * spread;
  const far = near + (value < 0 ? 1 - spread : spread - 1);
  return {
    earliest: isoDay(Math.min(near, far), 1, 1),
    latest: isoDay(Math.max(near, far), 12, 31),
  };
}

function seasonBounds(point: DatePoint, season: number): DayBounds | undefined {
  const months = SEASON_MONTHS[season];
  if (!months) return undefined;
  const year = Number(point.year) * (point.negative ? -1 : 1);
  const [first, last] = months;
  const lastYear = last > 12 ? year + 1 : year;
  const lastMonth = last > 12 ? last - 12 : last;
  return {
    earliest: isoDay(year, first, 1),
    latest: isoDay(lastYear, lastMonth, daysInMonth(lastYear, lastMonth)),
  };
}

function pointBounds(point: DatePoint): DayBounds | undefined {
  const earliest = firstFit(point, false);
  const latest = firstFit(point, true);
  return earliest && latest ? { earliest, latest } : undefined;
}

/** The first day that fits the digits given, counting up from the earliest or, `fromEnd`, down from the latest. */
function firstFit(point: DatePoint, fromEnd: boolean): string | undefined {
  for (const year of fittingYears(point, fromEnd)) {
    for (const month of fromEnd ? [...MONTHS].reverse() : MONTHS) {
      if (!fits(month, point.month)) continue;
      const days = daysInMonth(year, month);
      for (let count = 1; count <= days; count += 1) {
        const day = fromEnd ? days + 1 - count : count;
        if (fits(day, point.day)) return isoDay(year, month, day);
      }
    }
  }
  return undefined;
}

function* fittingYears({ year, negative }: DatePoint, fromEnd: boolean): Generator<number> {
  const low = Number(year.replace(/X/g, '0'));
  const high = Number(year.replace(/X/g, '9'));
  const down = fromEnd !== negative;
  for (let count = 0; count <= high - low; count += 1) {
    const size = down ? high - count : low + count;
    if (fits(size, year, 4)) yield negative ? -size : size;
  }
}

function fits(value: number, pattern: string | undefined, width = 2): boolean {
  if (pattern === undefined) return true;
  const digits = String(value).padStart(width, '0');
  for (let index = 0; index < width; index += 1) {
    if (pattern[index] !== 'X' && pattern[index] !== digits[index]) return false;
  }
  return true;
}
