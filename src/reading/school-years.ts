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

/**
 * The one spelling of a school year, however it was typed: "2025/26" of "2025-26", "2025/2026", "2025 – 26". A year alone stays so, unless `start`
 * tells what is meant: then it is "2025/26", or "2025" for all of them where years begin on 1 January. Undefined for no such name.
 */
export function schoolYearNamed(text: string, start?: string): string | undefined {
  const [, year, next] =
    /^(\d{4})(?:\s*[-/\u2010-\u2015\u2212]\s*(\d{2}|\d{4}))?$/.exec(text.trim()) ?? [];
  if (!year) return undefined;
  const after = String(Number(year) + 1).padStart(4, '0');
  if (next !== undefined && !after.endsWith(next)) return undefined;
  const alone = start === undefined ? next === undefined : start === '01-01';
  return alone ? year : `${year}/${after.slice(2)}`;
}

type SchoolYearKept =
  { ok: true; name: string | undefined } | { ok: false; code: 'bad-school-year'; said: string };

/** The spelling to keep of what was typed, none for nothing; or why it is no school year. What stood there before may stay. */
export function schoolYearKept(typed: string | undefined, before?: string): SchoolYearKept {
  const text = typed?.trim() || undefined;
  const name = text && schoolYearNamed(text);
  if (name || text === undefined || text === before?.trim())
    return { ok: true, name: name ?? text };
  const said = `“${text}” is no school year. Write it like 2025/26, or leave it empty.`;
  return { ok: false, code: 'bad-school-year', said };
}

/** First and last day of a school year by its name ("2024/25", or "2024" where years begin on 1 January); undefined for no such name. */
export function schoolYearSpan(
  name: string,
  start: string = USUAL_START,
): { from: string; to: string } | undefined {
  const year = schoolYearNamed(name)?.slice(0, 4);
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
  if (reading.schoolYear) return schoolYearNamed(reading.schoolYear, start) ?? reading.schoolYear;
  const last = reading.finished === undefined ? daysOf(reading).at(-1) : undefined;
  const span = last
    ? { earliest: last, latest: last }
    : spanOf(reading.finished ?? reading.started);
  if (span?.earliest === undefined || span.latest === undefined) return undefined;
  if (!/^\d/.test(span.earliest) || !/^\d{4}-/.test(span.latest)) return undefined;
  const [first, final] = [span.earliest, span.latest].map((day) => schoolYearOf(day, start));
  return first === final ? first : undefined;
}
