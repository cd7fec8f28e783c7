import { parse, type ParsedEdtf, type ParsedValue } from 'edtf';

/** A day, month, season or year, any digit of which may be X. Digits are kept as written; `year` has four, without its sign. */
export interface DatePoint {
  type: 'point';
  negative: boolean;
  year: string;
  month?: string;
  day?: string;
  /** 21 to 41, as in EDTF. */
  season?: number;
  uncertain: boolean;
  approximate: boolean;
}

/** A year written with Y, E or S: `value` is astronomical (0 is 1 BC), `significant` how many of its digits count. */
export interface LongYear {
  type: 'year';
  value: number;
  significant?: number;
  uncertain: boolean;
  approximate: boolean;
}

export type DateEnd = DatePoint | LongYear | 'open' | 'unknown';

interface DateInterval {
  type: 'interval';
  from: DateEnd;
  to: DateEnd;
}

/** One of several dates, or all of them; `earlier` and `later` where the list is open at an end. */
interface DateChoice {
  type: 'choice';
  all: boolean;
  items: (DatePoint | LongYear | DateInterval)[];
  earlier: boolean;
  later: boolean;
}

export type DateParts = DatePoint | LongYear | DateInterval | DateChoice;

const POINT = /^(\d[\dX]{3}|X{4})(?:-([\dX]{2})(?:-([\dX]{2}))?)?([?~%])?$/;
const LONGEST = 200;

/**
 * The parts of an EDTF string (Library of Congress specification of 4 February 2019, levels 0 to 2), or undefined if it is
 * not one. Plain dates and intervals of them are read here because a journal holds thousands; the library reads the rest.
 */
export function readParts(text: string): DateParts | undefined {
  return plainPoint(text) ?? plainInterval(text) ?? partsByLibrary(text);
}

/** The same by the library alone, which is what the quick way is tested against. */
export function partsByLibrary(text: string): DateParts | undefined {
  if (text.length > LONGEST) return undefined;
  try {
    return fromParsed(parse(text), text);
  } catch {
    return undefined; // the library throws on whatever it cannot parse
  }
}

function plainPoint(text: string): DatePoint | undefined {
  const match = POINT.exec(text);
  if (!match) return undefined;
  const [, year = '', month, day, mark] = match;
  // What the grammar allows beside a mark or in a half-known month is the library's to say.
  if (mark && text.includes('X')) return undefined;
  if (month && !/^(?:0[1-9]|1[0-2]|XX)$/.test(month)) return plainSeason(year, month, day, mark);
  if (day && !/^(?:0[1-9]|[12]\d|3[01]|XX)$/.test(day)) return undefined;
  if (month === 'XX' && day && day !== 'XX') return undefined;
  return {
    type: 'point',
    negative: false,
    year,
    month,
    day,
    uncertain: mark === '?' || mark === '%',
    approximate: mark === '~' || mark === '%',
  };
}

function plainSeason(
  year: string,
  season: string,
  day: string | undefined,
  mark: string | undefined,
): DatePoint | undefined {
  if (day || mark || year.includes('X') || !/^2[1-4]$/.test(season)) return undefined;
  const number = Number(season);
  return {
    type: 'point',
    negative: false,
    year,
    season: number,
    uncertain: false,
    approximate: false,
  };
}

function plainInterval(text: string): DateInterval | undefined {
  const ends = text.split('/');
  if (ends.length !== 2 || text === '/') return undefined;
  const [from, to] = ends.map((end): DateEnd | undefined => {
    if (end === '..') return 'open';
    if (end === '') return 'unknown';
    const point = plainPoint(end);
    return point?.season || end.includes('X') ? undefined : point;
  });
  if (!from || !to || (typeof from === 'string' && typeof to === 'string')) return undefined;
  return { type: 'interval', from, to };
}

function fromParsed(parsed: ParsedEdtf, text: string): DateParts | undefined {
  if (parsed.type === 'Interval') return intervalOf(parsed.values, text.split('/'));
  if (parsed.type !== 'Set' && parsed.type !== 'List') return simpleOf(parsed);
  return {
    type: 'choice',
    all: parsed.type === 'List',
    items: parsed.values.flatMap(itemOf),
    earlier: parsed.earlier === true,
    later: parsed.later === true,
  };
}

/** The library gives null for an open end and for an unknown one; the text tells them apart. */
function intervalOf(values: readonly ParsedValue[], written: readonly string[]): DateInterval {
  const [from, to] = [0, 1].map((index): DateEnd => {
    const value = values[index];
    const known = value && typeof value === 'object' && !Array.isArray(value) && simpleOf(value);
    return known || (written[index] === '..' ? 'open' : 'unknown');
  });
  return { type: 'interval', from: from ?? 'unknown', to: to ?? 'unknown' };
}

/** In a choice, a run of dates (1670..1672) comes as a list of its two ends. */
function itemOf(value: ParsedValue): (DatePoint | LongYear | DateInterval)[] {
  if (Array.isArray(value)) return [intervalOf(value, [])];
  if (value === null || typeof value === 'number') return [];
  const point = simpleOf(value);
  return point ? [point] : [];
}

function simpleOf(parsed: ParsedEdtf): DatePoint | LongYear | undefined {
  const [year, second, third] = parsed.values;
  if (typeof year !== 'number') return undefined;
  const uncertain = Boolean(parsed.uncertain);
  const approximate = Boolean(parsed.approximate);
  if (parsed.type === 'Year') {
    return { type: 'year', value: year, significant: parsed.significant, uncertain, approximate };
  }
  const mask = parsed.unspecified ?? 0;
  const digits = (value: number, width: number, offset: number): string =>
    [...String(Math.abs(value)).padStart(width, '0')]
      .map((digit, index) => (mask & (1 << (offset + index)) ? 'X' : digit))
      .join('');
  const point: DatePoint = {
    type: 'point',
    negative: year < 0,
    year: digits(year, 4, 0),
    uncertain,
    approximate,
  };
  if (parsed.type === 'Season')
    return typeof second === 'number' ? { ...point, season: second } : undefined;
  if (typeof second === 'number') point.month = digits(second + 1, 2, 4);
  if (typeof third === 'number') point.day = digits(third, 2, 6);
  return point;
}
