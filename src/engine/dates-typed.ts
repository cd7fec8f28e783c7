/** A date as somebody types it, as the journal keeps it. */
import { dateOf } from '../gather/readers/tools/dates-found';
import { readDate } from '../language/dates';

export type DateTyped =
  { ok: true; edtf: string } | { ok: false; code: 'bad-date'; message: string };

/** "14 March 2014", "14/3/14" (the day first), "spring 2014", "about 2014" or EDTF, as EDTF (ISO 8601-2). */
export function dateTyped(typed: string): DateTyped {
  const text = typed.trim();
  if (readDate(text).ok) return { ok: true, edtf: text };
  const edtf = dateOf(text);
  if (edtf) return { ok: true, edtf };
  const message = `“${text}” is no date that can be kept. Write it like 14 March 2014, March 2014, spring 2014 or about 2014, or leave it empty.`;
  return { ok: false, code: 'bad-date', message };
}
