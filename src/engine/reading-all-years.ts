/** All years with readings, a row for each; and the one the log was last kept in. */
import type { HeadingId, Reading } from '../journal/records';
import { sayDate, schoolYearOf } from '../language/dates';
import { figuresFor, finishedIn, monthOf } from '../reading/figures';
import { heatByDay } from '../reading/plots';
import { daysOf, isFinished, sortDay, spanOf, yearFinished } from '../reading/readings';
import { schoolYearOfReading, USUAL_START } from '../reading/school-years';
import type { Core } from './core';
import { bookOf, todayOf } from './reading';

export const yearSpan = (year: number): { from: string; to: string } => {
  const padded = String(year).padStart(4, '0');
  return { from: `${padded}-01-01`, to: `${padded}-12-31` };
};

export function yearsRead(
  readings: readonly Reading[],
  present: number,
  start: string,
): { years: number[]; schoolYears: string[] } {
  const years = new Set([present]);
  const schoolYears = new Set<string>();
  for (const reading of readings) {
    const day = sortDay(reading);
    const year = isFinished(reading) ? yearFinished(reading) : Number(day.slice(0, 4)) || undefined;
    if (year !== undefined) years.add(year);
    const school = schoolYearOfReading(reading, start);
    if (school) schoolYears.add(school);
  }
  return {
    years: [...years].sort((a, b) => b - a),
    schoolYears: [...schoolYears].sort().reverse(),
  };
}

/** When the log was last kept before an ISO day, and the year of it that is shown: a school year where its start is given. */
export interface LastKept {
  /** "October 2025", or as vague as it is known. */
  said: string;
  year: string;
}

export function lastKept(
  readings: readonly Reading[],
  before: string,
  schoolStart?: string,
): LastKept | undefined {
  let last = { day: '', date: '' };
  for (const reading of readings) {
    for (const date of [...daysOf(reading), reading.started, reading.finished]) {
      const day = spanOf(date)?.earliest ?? '';
      if (/^\d{4}-/.test(day) && day < before && day > last.day) last = { day, date: date ?? day };
    }
  }
  if (last.day === '') return undefined;
  const month = last.date === last.day ? last.day.slice(0, 7) : last.date;
  return {
    said: sayDate(month, 'long'),
    year: schoolStart ? schoolYearOf(last.day, schoolStart) : last.day.slice(0, 4),
  };
}

export interface AllYears {
  years: {
    year: number;
    finished: number;
    pages: number;
    days: number;
    /** Books finished, by month from January; a date too vague for a month counts in `finished` alone. */
    months: { count: number; titles: string[] }[];
    /** Days with a book open, as numbers of the year from 1. */
    open: number[];
  }[];
  /** Finished, with a date too vague for one year. */
  undated: number;
}

/** One row for each year with readings, the newest first. */
export function allYears(core: Core): AllYears {
  const { tables } = core.journal;
  const readings = [...tables.readings.values()];
  const today = todayOf(core);
  const { years } = yearsRead(readings, Number(today.slice(0, 4)), USUAL_START);
  const pagesOf = (id: HeadingId): number | undefined => bookOf(core.journal, id)?.pages;
  return {
    years: years.map((year) => {
      const { from, to } = yearSpan(year);
      const figures = figuresFor({ readings, pagesOf, from, to, today });
      const months = Array.from({ length: 12 }, () => ({ count: 0, titles: [] as string[] }));
      for (const reading of readings) {
        if (!finishedIn(reading, from, to)) continue;
        const at = months[Number(monthOf(reading)?.slice(5, 7)) - 1];
        if (!at) continue;
        at.count += 1;
        at.titles.push(tables.headings.get(reading.book)?.name ?? 'A book');
      }
      const begin = Date.parse(`${from}T00:00:00Z`);
      return {
        year,
        finished: figures.finished,
        pages: figures.pages,
        days: figures.days,
        months,
        open: heatByDay(readings, from, to).map(
          ([day]) => Math.round((Date.parse(`${day}T00:00:00Z`) - begin) / 86_400_000) + 1,
        ),
      };
    }),
    undated: readings.filter(
      (reading) => isFinished(reading) && yearFinished(reading) === undefined,
    ).length,
  };
}
