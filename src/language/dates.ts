import { boundsOf, daysInMonth, type DayBounds } from './edtf-bounds';
import { readParts, type DateEnd, type DateParts } from './edtf-parts';
import { sayParts } from './say-date';

/** A date as a reader knows it. `earliest` and `latest` are ISO days, absent where an end is open, unknown or beyond six-digit years. */
export interface EdtfDate {
  edtf: string;
  earliest?: string;
  latest?: string;
  uncertain: boolean;
  approximate: boolean;
  openStart: boolean;
  openEnd: boolean;
}

type DateAnswer = { ok: true; date: EdtfDate } | { ok: false; code: 'bad-date'; message: string };

/**
 * Reads an EDTF date (Library of Congress specification, 4 February 2019): levels 0, 1 and 2. Bounds are strict: "1984~" is
 * 1984-01-01 to 1984-12-31 with `approximate` set. A qualified part (2004-06~) qualifies the whole.
 */
export function readDate(edtf: string): DateAnswer {
  const text = edtf.trim();
  const known = partsAndBounds(text);
  if (!known) return { ok: false, code: 'bad-date', message: refusal(text) };
  const { parts } = known;
  const { earliest, latest } = known.bounds;
  const date: EdtfDate = {
    edtf: text,
    uncertain: isMarked(parts, 'uncertain'),
    approximate: isMarked(parts, 'approximate'),
    openStart: isOpen(parts, 'from'),
    openEnd: isOpen(parts, 'to'),
  };
  if (earliest !== undefined) date.earliest = earliest;
  if (latest !== undefined) date.latest = latest;
  return { ok: true, date };
}

/**
 * A date in words: "14 Mar 2024" or, long, "14 March 2024"; "spring 2014", "about 1984", "2010s". What is not an EDTF date
 * is given back as it is.
 */
export function sayDate(edtf: string, style: 'short' | 'long' = 'short'): string {
  const known = partsAndBounds(edtf);
  return known ? sayParts(known.parts, style) : edtf;
}

/** The one year a date lies in (astronomical: 0 is 1 BC), a season counting in the year it is named by; otherwise undefined. */
export function yearOf(edtf: string): number | undefined {
  const known = partsAndBounds(edtf);
  return known && yearOfParts(known.parts);
}

function partsAndBounds(edtf: string): { parts: DateParts; bounds: DayBounds } | undefined {
  const parts = readParts(edtf.trim());
  const bounds = parts && boundsOf(parts);
  return parts && bounds && { parts, bounds };
}

function yearOfParts(parts: DateParts): number | undefined {
  switch (parts.type) {
    case 'point':
      if (parts.year.includes('X')) return undefined;
      return parts.negative ? -Number(parts.year) : Number(parts.year);
    case 'year':
      return parts.significant ? undefined : parts.value;
    case 'interval':
      return sharedYear([parts.from, parts.to]);
    case 'choice':
      return parts.earlier || parts.later ? undefined : sharedYear(parts.items);
  }
}

function sharedYear(ends: readonly (DateEnd | DateParts)[]): number | undefined {
  const years = new Set(
    ends.map((end) => (typeof end === 'string' ? undefined : yearOfParts(end))),
  );
  return years.size === 1 ? [...years][0] : undefined;
}

function isMarked(parts: DateParts, mark: 'uncertain' | 'approximate'): boolean {
  if (parts.type === 'choice') return parts.items.some((item) => isMarked(item, mark));
  if (parts.type !== 'interval') return parts[mark];
  return [parts.from, parts.to].some((end) => typeof end !== 'string' && end[mark]);
}

function isOpen(parts: DateParts, side: 'from' | 'to'): boolean {
  if (parts.type === 'interval') return parts[side] === 'open';
  return parts.type === 'choice' && (side === 'from' ? parts.earlier : parts.later);
}

function refusal(text: string): string {
  const shown = text.length > 40 ? `${text.slice(0, 40)}…` : text;
  return `“${shown}” is not a date this journal can keep. Write a day as 2024-03-14, a month as 2024-03, a year as 2024, spring 2024 as 2024-21, and a guess with ~ after it, as 2024~.`;
}

/**
 * The school year an ISO day falls in, "2024/25", for years that begin on `startMonthDay` ("MM-DD"). A start on 1 January
 * gives the plain year. Throws a RangeError on anything that is not a day.
 */
export function schoolYearOf(isoDay: string, startMonthDay = '09-01'): string {
  mustBeDay(isoDay);
  const year = Number(isoDay.slice(0, 4));
  const start = isoDay.slice(5) >= startMonthDay ? year : year - 1;
  const padded = String(start).padStart(4, '0');
  return startMonthDay === '01-01'
    ? padded
    : `${padded}/${String((start + 1) % 100).padStart(2, '0')}`;
}

function mustBeDay(isoDay: string): void {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(isoDay);
  const [year, month, day] = (match ?? []).slice(1).map(Number);
  if (year === undefined || !month || !day || month > 12 || day > daysInMonth(year, month)) {
    throw new RangeError(`Not a day written as YYYY-MM-DD: ${isoDay}`);
  }
}
