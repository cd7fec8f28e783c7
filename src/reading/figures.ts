/** The figures of a stretch of reading: what was finished, how much, how, and at what pace. */
import type { HeadingId, Reading } from '../journal/records';
import { daysFromTo, monthsFromTo } from './days';
import { daysOf, isFinished, spanOf, within, yearFinished } from './readings';
import { schoolYearOfReading } from './school-years';

export interface FiguresAsk {
  readings: Iterable<Reading>;
  /** Pages of a book by id, where a reading does not say. */
  pagesOf: (book: HeadingId) => number | undefined;
  /** ISO days, both included. */
  from: string;
  to: string;
  /** ISO day: the pace is over the days gone by. */
  today: string;
  /** Where the stretch is a school year. */
  school?: SchoolYear | undefined;
}

/** A school year by its name ("2024/25") and the day school years begin (MM-DD). */
export interface SchoolYear {
  name: string;
  start: string;
}

export interface Figures {
  finished: number;
  /** Pages of what was finished, as the reading or else the book has them; heard books count no pages. */
  pages: number;
  /** Minutes of what was finished, where readings have them. */
  minutes: number;
  byForm: Record<Reading['form'], number>;
  /** Books finished by month (YYYY-MM), every month of the stretch named; a date too vague for a month counts in `finished` alone. */
  byMonth: Record<string, number>;
  /** Days on which a book is known to have been open. */
  days: number;
  rating: { mean: number | null; rated: number; spread: Record<string, number> };
  pace: {
    /** Days gone by. */
    over: number;
    /** Days to a book and pages to a day, over the days gone by; null before the first book. */
    daysPerBook: number | null;
    pagesPerDay: number | null;
  };
  abandoned: number;
  /** Finished, with neither pages nor minutes known. */
  unmeasured: number;
}

/**
 * Whether a reading was finished in a stretch: surely so, or in a whole year by the year its date is named by ("2010-24", winter 2010, is
 * 2010); in a school year also where the reader has put it there.
 */
export function finishedIn(
  reading: Reading,
  from: string,
  to: string,
  school?: SchoolYear,
): boolean {
  if (!isFinished(reading)) return false;
  if (school) return schoolYearOfReading(reading, school.start) === school.name;
  if (from.endsWith('-01-01') && to === `${from.slice(0, 4)}-12-31`)
    return yearFinished(reading) === Number(from.slice(0, 4));
  return within(reading.finished, from, to) === 'yes';
}

export const pagesRead = (
  reading: Reading,
  pagesOf: (book: HeadingId) => number | undefined,
): number | undefined =>
  reading.form === 'audio' ? reading.pages : (reading.pages ?? pagesOf(reading.book));

export function figuresFor(ask: FiguresAsk): Figures {
  const { readings, pagesOf, from, to, today, school } = ask;
  const figures: Figures = {
    finished: 0,
    pages: 0,
    minutes: 0,
    byForm: { print: 0, ebook: 0, audio: 0 },
    byMonth: Object.fromEntries(monthsFromTo(from, to).map((month) => [month, 0])),
    days: 0,
    rating: { mean: null, rated: 0, spread: {} },
    pace: { over: 0, daysPerBook: null, pagesPerDay: null },
    abandoned: 0,
    unmeasured: 0,
  };
  const days = new Set<string>();
  let stars = 0;
  for (const reading of readings) {
    for (const day of daysOf(reading)) if (day >= from && day <= to) days.add(day);
    if (reading.abandoned && within(reading.finished ?? reading.started, from, to) === 'yes')
      figures.abandoned += 1;
    if (!finishedIn(reading, from, to, school)) continue;
    figures.finished += 1;
    figures.byForm[reading.form] += 1;
    const pages = pagesRead(reading, pagesOf);
    figures.pages += pages ?? 0;
    figures.minutes += reading.minutes ?? 0;
    if (pages === undefined && reading.minutes === undefined) figures.unmeasured += 1;
    const month = monthOf(reading);
    if (month && figures.byMonth[month] !== undefined) figures.byMonth[month] += 1;
    if (reading.rating === undefined) continue;
    stars += reading.rating;
    figures.rating.rated += 1;
    const key = String(reading.rating);
    figures.rating.spread[key] = (figures.rating.spread[key] ?? 0) + 1;
  }
  figures.days = days.size;
  if (figures.rating.rated > 0) figures.rating.mean = rounded(stars / figures.rating.rated, 2);
  const over = today < from ? 0 : daysFromTo(from, today < to ? today : to);
  figures.pace.over = over;
  if (figures.finished > 0 && over > 0) {
    figures.pace.daysPerBook = rounded(over / figures.finished, 1);
    figures.pace.pagesPerDay = rounded(figures.pages / over, 1);
  }
  return figures;
}

/** The month a reading was finished in, where its date is that exact. */
export function monthOf(reading: Reading): string | undefined {
  const span = spanOf(reading.finished);
  const month = span?.earliest?.slice(0, 7);
  return month !== undefined && month === span?.latest?.slice(0, 7) ? month : undefined;
}

export const rounded = (value: number, places: number): number => {
  const by = 10 ** places;
  return Math.round(value * by) / by;
};
