/** What the drawn figures show beside the bare numbers: months, authors new and old, themes over years, notes per book, heat by day. */
import type { HeadingId, Journal, Reading } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { yearOf } from '../language/dates';
import { monthsFromTo } from './days';
import { finishedIn, monthOf, pagesRead, type SchoolYear } from './figures';
import { daysOf, isFinished, sortDay, yearFinished } from './readings';

export interface MonthPlot {
  /** YYYY-MM. */
  month: string;
  finished: Record<Reading['form'], number>;
  pages: number;
  days: number;
}

export interface AuthorPlot {
  /** Authors first finished in the year, and those read before. */
  year: number;
  fresh: number;
  known: number;
}

export interface ThemePlot {
  theme: HeadingId;
  name: string;
  /** Entries tied to it, by the year they were written; every year of the journal has a place. */
  years: { year: number; entries: number }[];
  total: number;
}

export interface NotedPlot {
  book: HeadingId;
  name: string;
  entries: number;
}

/** Pages are counted in the month a book was finished in, as the log does not know which day brought which page. */
export function monthPlots(
  readings: readonly Reading[],
  pagesOf: (book: HeadingId) => number | undefined,
  from: string,
  to: string,
  school?: SchoolYear,
): MonthPlot[] {
  const months = new Map<string, MonthPlot>(
    monthsFromTo(from, to).map((month) => [
      month,
      { month, finished: { print: 0, ebook: 0, audio: 0 }, pages: 0, days: 0 },
    ]),
  );
  for (const [day] of heatByDay(readings, from, to)) {
    const plot = months.get(day.slice(0, 7));
    if (plot) plot.days += 1;
  }
  for (const reading of readings) {
    const counts = finishedIn(reading, from, to, school);
    const plot = counts ? months.get(monthOf(reading) ?? '') : undefined;
    if (!plot) continue;
    plot.finished[reading.form] += 1;
    plot.pages += pagesRead(reading, pagesOf) ?? 0;
  }
  return [...months.values()];
}

/** How many books were open on each day that any was, from one ISO day to another, in order. */
export function heatByDay(
  readings: readonly Reading[],
  from: string,
  to: string,
): [string, number][] {
  const heat = new Map<string, Set<HeadingId>>();
  for (const reading of readings) {
    for (const day of daysOf(reading)) {
      if (day < from || day > to) continue;
      heat.set(day, (heat.get(day) ?? new Set()).add(reading.book));
    }
  }
  return [...heat]
    .map(([day, books]): [string, number] => [day, books.size])
    .sort(([a], [b]) => (a < b ? -1 : 1));
}

/** Authors by year: an author is new in the year a book of theirs was first finished. Readings with no sure year are left out. */
export function authorPlots(
  readings: readonly Reading[],
  authorsOf: (book: HeadingId) => readonly HeadingId[],
): AuthorPlot[] {
  const byYear = new Map<number, Set<HeadingId>>();
  for (const reading of readings) {
    const year = yearFinished(reading);
    if (year === undefined) continue;
    const authors = byYear.get(year) ?? new Set();
    for (const author of authorsOf(reading.book)) authors.add(author);
    byYear.set(year, authors);
  }
  const met = new Set<HeadingId>();
  return [...byYear]
    .sort(([a], [b]) => a - b)
    .map(([year, authors]) => {
      const fresh = [...authors].filter((author) => !met.has(author)).length;
      for (const author of authors) met.add(author);
      return { year, fresh, known: authors.size - fresh };
    });
}

/** The `most` themes with most entries, each over the same years: those any entry of the journal was written in. */
export function themePlots(journal: Journal, most: number): ThemePlot[] {
  const years = new Map<string, number>();
  let [first, last] = [Infinity, -Infinity];
  for (const { id, written, added } of journal.tables.entries.values()) {
    const year = (written ? yearOf(written) : undefined) ?? Number(added.slice(0, 4));
    years.set(id, year);
    first = Math.min(first, year);
    last = Math.max(last, year);
  }
  if (first > last) return [];
  const themes = [...journal.tables.headings.values()]
    .filter(({ kind }) => kind === 'theme')
    .map((theme) => ({ theme, entries: entriesTiedTo(journal, theme.id) }))
    .filter(({ entries }) => entries.size > 0)
    .sort((a, b) => b.entries.size - a.entries.size || (a.theme.name < b.theme.name ? -1 : 1));
  return themes.slice(0, most).map(({ theme, entries }) => {
    const counts = new Map<number, number>();
    for (const id of entries) {
      const year = years.get(id);
      if (year !== undefined) counts.set(year, (counts.get(year) ?? 0) + 1);
    }
    return {
      theme: theme.id,
      name: theme.name,
      years: Array.from({ length: last - first + 1 }, (_, at) => ({
        year: first + at,
        entries: counts.get(first + at) ?? 0,
      })),
      total: entries.size,
    };
  });
}

/** Entries per book finished in the stretch, the most noted first; those with none are "read but never noted". */
export function notedPlots(
  journal: Journal,
  readings: readonly Reading[],
  from?: string,
  to?: string,
  school?: SchoolYear,
): NotedPlot[] {
  const books = new Map<HeadingId, string>();
  for (const reading of readings) {
    const counts = from && to ? finishedIn(reading, from, to, school) : isFinished(reading);
    const held = books.get(reading.book);
    if (counts && (held === undefined || sortDay(reading) > held))
      books.set(reading.book, sortDay(reading));
  }
  return [...books.keys()]
    .flatMap((book) => {
      const heading = journal.tables.headings.get(book);
      return heading
        ? [{ book, name: heading.name, entries: entriesTiedTo(journal, book).size }]
        : [];
    })
    .sort((a, b) => b.entries - a.entries || (a.name < b.name ? -1 : 1));
}
