/** The figures of a year, of a school year or of all years, as they are drawn and told. */
import type { HeadingId } from '../journal/records';
import { figuresFor, finishedIn, type Figures, type SchoolYear } from '../reading/figures';
import {
  authorPlots,
  heatByDay,
  monthPlots,
  notedPlots,
  themePlots,
  type AuthorPlot,
  type MonthPlot,
  type NotedPlot,
  type ThemePlot,
} from '../reading/plots';
import { daysOf, sortDay, spanOf, yearFinished } from '../reading/readings';
import { isYearStart, schoolYearNamed, schoolYearSpan, USUAL_START } from '../reading/school-years';
import type { Core } from './core';
import { bookOf, todayOf } from './reading';
import { keptFor } from './reading-cache';
import { yearsRead } from './reading-all-years';

export interface FiguresAsk {
  year?: number;
  school?: string;
  /** All years together. */
  all?: boolean;
  schoolStart?: string;
}

export interface FiguresView {
  title: string;
  from: string;
  to: string;
  today: string;
  figures: Figures;
  /** By month of a year; for all years together there is one for each year in `years`. */
  months: MonthPlot[];
  /** [ISO day, books open]. */
  heat: [string, number][];
  /** Books finished so far in the stretch by the end of each month begun, and in the stretch of a year before. */
  pace: { now: number[]; before: number[]; beforeTitle: string; beforeFinished: number };
  /** Finished in the stretch, with a date too vague for a month of it: drawn in none, counted in `figures` alone. */
  noMonth: number;
  years: { year: number; finished: number; pages: number }[];
  authors: AuthorPlot[];
  themes: ThemePlot[];
  noted: NotedPlot[];
  withoutNotes: NotedPlot[];
  choose: { years: number[]; schoolYears: string[] };
}

const MOST_THEMES = 12;
const yearOfDays = (year: number): { from: string; to: string } => {
  const padded = String(year).padStart(4, '0');
  return { from: `${padded}-01-01`, to: `${padded}-12-31` };
};

export function figuresView(core: Core, ask: FiguresAsk): FiguresView {
  const start = isYearStart(ask.schoolStart ?? '') ? ask.schoolStart! : USUAL_START;
  const key = `figures ${ask.all ? 'all' : (ask.school ?? ask.year ?? '')} ${start} ${todayOf(core)}`;
  return keptFor(core, key, () => made(core, ask, start));
}

function made(core: Core, ask: FiguresAsk, start: string): FiguresView {
  const { journal } = core;
  const readings = [...journal.tables.readings.values()];
  const today = todayOf(core);
  const pagesOf = (id: HeadingId): number | undefined => bookOf(journal, id)?.pages;
  const choose = yearsRead(readings, Number(today.slice(0, 4)), start);
  const school = ask.school ? schoolYearSpan(ask.school, start) : undefined;
  const named =
    school && !ask.all ? { name: schoolYearNamed(ask.school!, start)!, start } : undefined;
  const year = ask.year ?? lastYear(readings, today);
  const span = ask.all ? whole(readings, today) : (school ?? yearOfDays(year));
  const months = ask.all ? [] : monthPlots(readings, pagesOf, span.from, span.to, named);
  const finished = figuresFor({ readings, pagesOf, ...span, today, school: named });
  const noted = ask.all
    ? notedPlots(journal, readings)
    : notedPlots(journal, readings, span.from, span.to, named);
  return {
    title: ask.all ? 'All years' : (named?.name ?? String(year)),
    ...span,
    today,
    figures: finished,
    months,
    heat: ask.all ? [] : heatByDay(readings, span.from, span.to),
    pace: paceOf(core, months, stretchBefore(span.from, named), today),
    noMonth: ask.all ? 0 : finished.finished - finishedBy(months).at(-1)!,
    years: choose.years
      .map((each) => {
        const figures = figuresFor({ readings, pagesOf, ...yearOfDays(each), today });
        return { year: each, finished: figures.finished, pages: figures.pages };
      })
      .reverse(),
    authors: authorPlots(readings, (id) => bookOf(journal, id)?.authors ?? []),
    themes: themePlots(journal, MOST_THEMES),
    noted: noted.filter(({ entries }) => entries > 0),
    withoutNotes: noted.filter(({ entries }) => entries === 0),
    choose,
  };
}

/** The newest year with anything finished in it, or this one. */
function lastYear(readings: Parameters<typeof yearsRead>[0], today: string): number {
  const present = Number(today.slice(0, 4));
  const years = readings.flatMap((reading) => yearFinished(reading) ?? []);
  const last = Math.max(...years.filter((year) => year > 0 && year <= present));
  return Number.isFinite(last) ? last : present;
}

/** From the earliest day that a reading may mean, so that one known only about lies wholly in it, to the latest, or today. */
function whole(
  readings: Parameters<typeof yearsRead>[0],
  today: string,
): { from: string; to: string } {
  const days = readings
    .flatMap((reading) => [
      spanOf(reading.started)?.earliest ?? '',
      spanOf(reading.finished)?.earliest ?? '',
      sortDay(reading),
      ...daysOf(reading),
    ])
    .filter((day) => /^\d{4}-\d\d-\d\d$/.test(day))
    .sort();
  return { from: days[0] ?? today, to: days.at(-1) && days.at(-1)! > today ? days.at(-1)! : today };
}

interface StretchBefore {
  from: string;
  to: string;
  title: string;
  school?: SchoolYear;
}

/** The year before the one that begins on an ISO day: the school year before where it is one. */
function stretchBefore(from: string, named: SchoolYear | undefined): StretchBefore {
  const year = Number(from.slice(0, 4)) - 1;
  const title = String(year).padStart(4, '0');
  if (!named) return { ...yearOfDays(year), title };
  const school = { name: schoolYearNamed(title, named.start)!, start: named.start };
  return { ...schoolYearSpan(title, named.start)!, title: school.name, school };
}

/** Books finished by the end of each month, this stretch up to today and the one before it whole. */
function paceOf(
  core: Core,
  months: readonly MonthPlot[],
  { from, to, title, school }: StretchBefore,
  today: string,
): FiguresView['pace'] {
  const all = [...core.journal.tables.readings.values()];
  const pagesOf = (id: HeadingId): number | undefined => bookOf(core.journal, id)?.pages;
  const before = months.length === 0 ? [] : monthPlots(all, pagesOf, from, to, school);
  return {
    now: finishedBy(months.filter(({ month }) => month <= today.slice(0, 7))),
    before: finishedBy(before),
    beforeTitle: title,
    beforeFinished: all.filter((reading) => finishedIn(reading, from, to, school)).length,
  };
}

/** Books with a month, summed up month after month. */
function finishedBy(plots: readonly MonthPlot[]): number[] {
  let sum = 0;
  return plots.map(({ finished }) => (sum += finished.print + finished.ebook + finished.audio));
}
