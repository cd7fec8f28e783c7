/**
 * What a reader's log says: which books were read, when, how, and what may be read next. This room owns readings in time, lists with their
 * pace, challenges with their best assignment, and figures; it stores nothing, draws nothing, and takes today's date as given.
 */
import type { Reading } from '../journal/records';
import { readDate, yearOf } from '../language/dates';

/** First and last ISO day an EDTF date may mean; absent where it is open or unknown. */
export interface Span {
  earliest?: string;
  latest?: string;
  /** One certain day. */
  day: boolean;
}

const MOST_SPANS = 20_000;
const spans = new Map<string, Span | undefined>();

/** Bounds of an EDTF date, remembered by its text; undefined for no date or one that cannot be read. */
export function spanOf(edtf: string | undefined): Span | undefined {
  if (edtf === undefined) return undefined;
  if (spans.has(edtf)) return spans.get(edtf);
  const read = readDate(edtf);
  let span: Span | undefined;
  if (read.ok) {
    const { earliest, latest, uncertain, approximate } = read.date;
    span = { day: earliest !== undefined && earliest === latest && !uncertain && !approximate };
    if (earliest !== undefined) span.earliest = earliest;
    if (latest !== undefined) span.latest = latest;
  }
  if (spans.size >= MOST_SPANS) spans.clear();
  spans.set(edtf, span);
  return span;
}

/** The day an exact date names. */
export function dayOf(edtf: string | undefined): string | undefined {
  const span = spanOf(edtf);
  return span?.day ? span.earliest : undefined;
}

export const isFinished = (reading: Reading): boolean =>
  reading.finished !== undefined && reading.abandoned !== true;

/** Begun, and neither finished nor put down. */
export const isInHand = (reading: Reading): boolean =>
  reading.finished === undefined &&
  reading.abandoned !== true &&
  (reading.started !== undefined || (reading.days ?? []).length > 0);

/**
 * The days a book is known to have been open, sorted, each once: the days marked, and where they are exact the day it was started and
 * the day it was finished or put down.
 */
export function daysOf(reading: Reading): string[] {
  const days = new Set(reading.days ?? []);
  for (const edge of [dayOf(reading.started), dayOf(reading.finished)]) if (edge) days.add(edge);
  return [...days].sort();
}

/** The calendar year a reading was finished in; a season counts in the year it is named by. Undefined where that is not sure. */
export function yearFinished(reading: Reading): number | undefined {
  if (!isFinished(reading)) return undefined;
  const named = yearOf(reading.finished!);
  if (named !== undefined) return named;
  const span = spanOf(reading.finished);
  const [from, to] = [span?.earliest?.slice(0, 4), span?.latest?.slice(0, 4)];
  return from !== undefined && from === to ? Number(from) : undefined;
}

export type Sureness = 'yes' | 'maybe' | 'no';

/** Whether a date lies from one ISO day to another, both included: wholly, perhaps, or not. No date is a `no`. */
export function within(edtf: string | undefined, from: string, to: string): Sureness {
  const span = spanOf(edtf);
  if (!span || (span.earliest === undefined && span.latest === undefined)) return 'no';
  const { earliest = '', latest = '9999-12-31' } = span;
  if (latest < from || earliest > to) return 'no';
  return earliest >= from && latest <= to ? 'yes' : 'maybe';
}

/** A day to sort readings by: when it was finished, else last open, else begun; '' where nothing is known. */
export function sortDay(reading: Reading): string {
  const span = spanOf(reading.finished);
  const finished = span?.latest ?? span?.earliest;
  if (finished) return finished;
  const begun = spanOf(reading.started);
  return reading.days?.toSorted().at(-1) ?? begun?.latest ?? begun?.earliest ?? '';
}
