/** What a cell for the day a book was begun or finished says. */
import { dateOf, type DayOrder } from './dates-found';

interface When {
  /** EDTF. */
  date?: string;
  abandoned?: true;
  /** The cell, where it says when but no date can be made of it. */
  words?: string;
}

const GIVEN_UP =
  /^(?:abandoned|gave up|given up|not finished|dnf|unfinished|put down)\b(?: on\b)?[\s:,;.(–-]*/i;
const LEADS = /^(?:finished|completed|done|read|ended|started|begun|began)(?: (?:on|in))?[\s:,]+/i;
const NOT_READ =
  /^(?:no|none|never|not (?:yet|read|started|begun)|unread|to (?:be )?read|tbr|tbd|n\/?a|false|nil|[\s?.–—-]*|0)$/i;
/** Days of a spreadsheet count from 30 December 1899; these are of the years 1954 to 2064. */
const SERIAL = /^([2-5]\d{4})(?:\.\d+)?$/;
const DAY_MS = 86_400_000;

/** A date, a word for a book given up, or both: "abandoned", "not finished, 3 May 2024", "finished 3 May 2013"; or words that are neither. */
export function readWhen(cell: string, order: DayOrder): When {
  const text = cell.trim();
  const given = GIVEN_UP.exec(text);
  const when: When = given ? { abandoned: true } : {};
  const rest = text
    .slice(given?.[0].length ?? 0)
    .replace(LEADS, '')
    .replace(/\)$/, '');
  const date = dateOf(rest, order) ?? dayOfSerial(rest);
  if (date) when.date = date;
  else if (rest !== '' && !NOT_READ.test(text)) when.words = text;
  return when;
}

function dayOfSerial(text: string): string | undefined {
  const serial = SERIAL.exec(text)?.[1];
  if (!serial) return undefined;
  return new Date(Date.UTC(1899, 11, 30) + Number(serial) * DAY_MS).toISOString().slice(0, 10);
}
