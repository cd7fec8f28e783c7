/** A date as somebody types it, as the journal keeps it; and back. */
import { dateOf } from '../gather/readers/tools/dates-found';
import { readDate, sayDate } from '../language/dates';

type DateTyped = { ok: true; edtf: string } | { ok: false; code: 'bad-date'; message: string };

/**
 * "14 March 2014", "14/3/14" (the day first), "spring 2014", "about 2014", "perhaps March 2014", "2010 to 2012", "until 2012", "from 2010" or
 * EDTF, as EDTF (ISO 8601-2).
 */
export function dateTyped(typed: string): DateTyped {
  const text = typed.trim();
  const edtf = edtfOf(text);
  if (edtf) return { ok: true, edtf };
  const message = `“${text}” is no date that can be kept. Write it like 14 March 2014, March 2014, spring 2014 or about 2014, or leave it empty.`;
  return { ok: false, code: 'bad-date', message };
}

/** Longer text than this is no date. */
const LONGEST = 120;

/** A date in words that {@link dateTyped} reads back as the very same date; one that no such words say stays in EDTF. */
export function dateAsTyped(edtf: string): string {
  const words = sayDate(edtf, 'long');
  return edtfOf(words) === edtf ? words : edtf;
}

function edtfOf(text: string): string | undefined {
  if (text.length > LONGEST) return undefined;
  if (readDate(text).ok) return text;
  return spanOf(text) ?? dateOf(text) ?? qualifiedOf(text);
}

function spanOf(text: string): string | undefined {
  const [, from, to] = /^(?:from )?(.+?) (?:to|until) (.+)$/i.exec(text) ?? [];
  if (from && to) return known(`${edtfOf(from)}/${edtfOf(to)}`);
  const [, way, only] = /^(from|since|until) (.+)$/i.exec(text) ?? [];
  if (!way || !only) return undefined;
  return known(way.toLowerCase() === 'until' ? `../${edtfOf(only)}` : `${edtfOf(only)}/..`);
}

/** "perhaps about 2014" has the mark for both, %. */
function qualifiedOf(text: string): string | undefined {
  const [, perhaps, about, rest] =
    /^(perhaps )?((?:about|around|circa|c\.|ca\.) ?)?(.+)$/i.exec(text) ?? [];
  if (!rest || (!perhaps && !about)) return undefined;
  return known(`${edtfOf(rest)}${perhaps && about ? '%' : perhaps ? '?' : '~'}`);
}

const known = (edtf: string): string | undefined => (readDate(edtf).ok ? edtf : undefined);
