/**
 * A year of reading laid out by day, a row for each month: for each reading the stretch it was open, the days it is known to have been read on,
 * and the day it was finished. Only where things stand is worked out here; drawing is the screen's.
 */
import type { HeadingId, Reading, ReadingId } from '../journal/records';
import { daysInMonth, monthsFromTo, weekday } from './days';
import { dayOf, daysOf, sortDay, spanOf } from './readings';

/** One reading in one month. Days are numbers of the month, from 1. */
interface YearPiece {
  reading: ReadingId;
  book: HeadingId;
  title: string;
  form: Reading['form'];
  from: number;
  to: number;
  /** Days the book is known to have been open. */
  marks: number[];
  /** The day it was finished or put down, where that is in this month. */
  end?: number;
  abandoned: boolean;
  /** Begun in an earlier month, or goes on in a later one. */
  before: boolean;
  after: boolean;
  /** An end of it is known only about. */
  vague: boolean;
  /** The title is written here; not under a short end of a reading begun earlier. */
  labelled: boolean;
}

export interface YearMonth {
  /** YYYY-MM. */
  month: string;
  days: number;
  /** Pieces side by side in one lane do not meet, nor do their titles. */
  lanes: YearPiece[][];
  /** Days of the month that are Mondays. */
  mondays: number[];
}

interface YearLayout {
  months: YearMonth[];
  /** Readings of the stretch whose dates, or whose ends, are too vague for a place in it. */
  loose: ReadingId[];
}

export interface YearAsk {
  readings: Iterable<Reading>;
  titleOf: (book: HeadingId) => string;
  /** ISO days, both included. */
  from: string;
  to: string;
  /** Columns a letter of a title takes: days are columns. */
  perLetter?: number;
}

/** Longest stretch in days that a date without exact days is drawn over; what is vaguer is told beside the year. */
const WIDEST = 45;
/** A reading begun earlier is named again when it goes on for at least so many days. */
const NAMED_AGAIN = 6;
const COLUMNS = 31;

interface Stretch {
  reading: Reading;
  from: string;
  to: string;
  days: string[];
  vague: boolean;
  /** The day it was finished or put down is the last one drawn. */
  ended: boolean;
}

export function yearLayout({ readings, titleOf, from, to, perLetter = 0.3 }: YearAsk): YearLayout {
  const stretches: Stretch[] = [];
  const loose: ReadingId[] = [];
  for (const reading of readings) {
    const stretch = stretchOf(reading);
    if (stretch && stretch.to >= from && stretch.from <= to) stretches.push(stretch);
    // Its end is told beside the year where it cannot be drawn.
    const told = stretch && (stretch.ended || reading.finished === undefined);
    if (!told && mayBeIn(reading, from, to)) loose.push(reading.id);
  }
  stretches.sort((a, b) =>
    a.from === b.from ? (a.reading.id < b.reading.id ? -1 : 1) : a.from < b.from ? -1 : 1,
  );
  const months = monthsFromTo(from, to).map((month): YearMonth => {
    const [year = 0, number = 1] = month.split('-').map(Number);
    const days = daysInMonth(year, number);
    const pieces = stretches.flatMap((stretch) => pieceIn(stretch, month, days, titleOf) ?? []);
    return {
      month,
      days,
      lanes: inLanes(pieces, perLetter),
      mondays: Array.from({ length: days }, (_, at) => at + 1).filter(
        (day) => weekday(isoIn(month, day)) === 1,
      ),
    };
  });
  return { months, loose };
}

const isoIn = (month: string, day: number): string => `${month}-${String(day).padStart(2, '0')}`;

/** First and last day to draw a reading over; undefined where its dates are too vague. */
function stretchOf(reading: Reading): Stretch | undefined {
  const days = daysOf(reading);
  const end = narrow(reading.finished);
  const all = [...days, ...narrow(reading.started), ...end].sort();
  const [first, last] = [all[0], all.at(-1)];
  if (first === undefined || last === undefined) return undefined;
  const vague = [reading.started, reading.finished].some(
    (date) => date !== undefined && dayOf(date) === undefined,
  );
  return { reading, from: first, to: last, days, vague, ended: end.length > 0 };
}

/** First and last day of a date that is exact enough to be drawn. */
function narrow(date: string | undefined): string[] {
  const { earliest, latest } = spanOf(date) ?? {};
  if (!plain(earliest) || !plain(latest) || apart(earliest, latest) > WIDEST) return [];
  return [earliest, latest];
}

const plain = (day: string | undefined): day is string => /^\d{4}-/.test(day ?? '');
const apart = (a: string, b: string): number =>
  Math.round((Date.parse(`${b}T00:00:00Z`) - Date.parse(`${a}T00:00:00Z`)) / 86_400_000);

/** Read in a stretch as far as can be told: the year it is named by, or all that its date may mean. */
function mayBeIn(reading: Reading, from: string, to: string): boolean {
  const span = spanOf(reading.finished ?? reading.started);
  const { earliest, latest } = span ?? {};
  if (!plain(earliest) || !plain(latest)) return false;
  const day = sortDay(reading);
  return (earliest >= from && earliest <= to) || (plain(day) && day >= from && day <= to);
}

function pieceIn(
  { reading, from, to, days, vague, ended }: Stretch,
  month: string,
  length: number,
  titleOf: (book: HeadingId) => string,
): YearPiece | undefined {
  const [first, last] = [isoIn(month, 1), isoIn(month, length)];
  if (to < first || from > last) return undefined;
  const marks = days.filter((day) => day.startsWith(month)).map((day) => Number(day.slice(8)));
  // A book laid by for a whole month was not open in it.
  if (marks.length === 0 && (reading.days ?? []).length > 0) return undefined;
  const [before, after] = [from < first, to > last];
  const begins = before ? 1 : Number(from.slice(8));
  const ends = after ? length : Number(to.slice(8));
  const piece: YearPiece = {
    reading: reading.id,
    book: reading.book,
    title: titleOf(reading.book),
    form: reading.form,
    from: begins,
    to: ends,
    marks,
    abandoned: reading.abandoned === true,
    before,
    after,
    vague,
    labelled: !before || ends - begins + 1 >= NAMED_AGAIN,
  };
  if (ended && !after) piece.end = ends;
  return piece;
}

/** Columns of the month a piece takes with its title, which stands under its beginning, or back from the edge where it would pass it. */
function extentOf(
  { from, to, title, labelled, before, end }: YearPiece,
  perLetter: number,
): { from: number; to: number; label: number } {
  const letters = labelled ? title.length + (before ? 6 : 0) : 0;
  const width = letters * perLetter + (labelled ? 0.4 : 0);
  const label = Math.max(1, Math.min(from, COLUMNS + 1 - width));
  return {
    from: Math.min(from, label),
    to: Math.max(end === undefined ? to + 0.5 : to + 1.2, label + width),
    label,
  };
}

function inLanes(pieces: readonly YearPiece[], perLetter: number): YearPiece[][] {
  const lanes: { pieces: YearPiece[]; to: number }[] = [];
  for (const piece of [...pieces].sort((a, b) => a.from - b.from)) {
    const extent = extentOf(piece, perLetter);
    const lane = lanes.find(({ to }) => to < extent.from);
    if (lane) {
      lane.pieces.push(piece);
      lane.to = extent.to;
    } else lanes.push({ pieces: [piece], to: extent.to });
  }
  return lanes.map((lane) => lane.pieces);
}
