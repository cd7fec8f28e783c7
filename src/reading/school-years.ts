/** School years: where they begin is the reader's own setting, and nothing about any law is claimed. */
import type { Reading } from '../journal/records';
import { schoolYearOf } from '../language/dates';
import { addDays } from './days';
import { daysOf, spanOf } from './readings';

/** The common start in England (common practice). */
export const USUAL_START = '09-01';

/** "MM-DD" of a day every year has; 29 February is not one. */
export const isYearStart = (text: string): boolean =>
  /^(0[13578]|1[02])-(0[1-9]|[12]\d|3[01])$|^(0[469]|11)-(0[1-9]|[12]\d|30)$|^02-(0[1-9]|1\d|2[0-8])$/.test(
    text,
  );

/** First and last day of a school year by its name ("2024/25", or "2024" where years begin on 1 January); undefined for no such name. */
export function schoolYearSpan(
  name: string,
  start: string = USUAL_START,
): { from: string; to: string } | undefined {
  const year = /^(\d{4})(?:[/-](\d{2}|\d{4}))?$/.exec(name.trim())?.[1];
  if (!year || !isYearStart(start)) return undefined;
  const from = `${year}-${start}`;
  const next = `${String(Number(year) + 1).padStart(4, '0')}-${start}`;
  return { from, to: addDays(next, -1) };
}

/**
 * The school year of a reading: the one the reader set, else the one it was finished in, else (in hand or put down) the one of the last
 * day it was open or begun. Undefined where the date is too vague to say.
 */
export function schoolYearOfReading(
  reading: Reading,
  start: string = USUAL_START,
): string | undefined {
  if (reading.schoolYear) return reading.schoolYear;
  const last = reading.finished === undefined ? daysOf(reading).at(-1) : undefined;
  const span = last
    ? { earliest: last, latest: last }
    : spanOf(reading.finished ?? reading.started);
  if (span?.earliest === undefined || span.latest === undefined) return undefined;
  if (!/^\d/.test(span.earliest) || !/^\d{4}-/.test(span.latest)) return undefined;
  const [first, final] = [span.earliest, span.latest].map((day) => schoolYearOf(day, start));
  return first === final ? first : undefined;
}
