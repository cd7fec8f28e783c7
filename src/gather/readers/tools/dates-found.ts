import { readDate } from '../../../language/dates';

/** Which comes first in a date of numbers: the day, as is British, or the month. */
export type DayOrder = 'dmy' | 'mdy';

interface DateFound {
  edtf: string;
  /** Offsets into the text, `to` exclusive. */
  from: number;
  to: number;
  exact: 'day' | 'month' | 'season' | 'year' | 'span';
}

const MONTHS =
  'january february march april may june july august september october november december'.split(
    ' ',
  );
/** EDTF level 1: 21 spring, 22 summer, 23 autumn, 24 winter. */
const SEASONS: Readonly<Record<string, string>> = {
  spring: '21',
  summer: '22',
  autumn: '23',
  fall: '23',
  winter: '24',
};

const MONTH =
  '(jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)\\.?';
const YEAR = '((?:1[5-9]|20)\\d\\d)';
const SHORT_YEAR = "((?:1[5-9]|20)\\d\\d|['’]?\\d\\d)";
const DAY = '(\\d{1,2})(?:st|nd|rd|th)?';

interface Form {
  at: RegExp;
  exact: DateFound['exact'];
  make(parts: RegExpExecArray, order: DayOrder): string | undefined;
}

/** Longer forms first: the first that fits at a place is taken. */
const FORMS: readonly Form[] = [
  form(`${YEAR}([-_.])(\\d{2})\\2(\\d{2})(?!\\d)`, 'day', ([, year, , month, day]) =>
    ymd(year, month, day),
  ),
  form(`${YEAR}/(\\d{1,2})/(\\d{1,2})(?!\\d)`, 'day', ([, year, month, day]) =>
    ymd(year, month, day),
  ),
  form(`${DAY}(?: of)?[ -]${MONTH},?[ -]${SHORT_YEAR}(?!\\d)`, 'day', ([, day, month, year]) =>
    ymd(fullYear(year), monthOf(month), day),
  ),
  form(`${MONTH} ${DAY},? ${YEAR}(?!\\d)`, 'day', ([, month, day, year]) =>
    ymd(year, monthOf(month), day),
  ),
  form(
    `(\\d{1,2})([/.-])(\\d{1,2})\\2((?:19|20)?\\d\\d)(?!\\d|[/.-]\\d)`,
    'day',
    ([, a, , b, year], order) => numbers(a, b, year, order),
  ),
  form(`${MONTH},? ?${YEAR}(?!\\d)`, 'month', ([, month, year]) => ym(year, monthOf(month))),
  form(`${MONTH} ['’](\\d\\d)(?!\\d)`, 'month', ([, month, year]) =>
    ym(fullYear(year), monthOf(month)),
  ),
  form(
    `(spring|summer|autumn|fall|winter)(?: term)?,? (?:of )?${YEAR}(?!\\d)`,
    'season',
    ([, season, year]) => `${year}-${SEASONS[season?.toLowerCase() ?? '']}`,
  ),
  form(
    `${YEAR} (spring|summer|autumn|winter)(?: term)?(?![\\p{L}])`,
    'season',
    ([, year, season]) => `${year}-${SEASONS[season?.toLowerCase() ?? '']}`,
  ),
  form(`${YEAR}[-–/](\\d{4}|\\d{2}|\\d)(?![\\d-])`, 'span', ([, from, to]) =>
    spanOrMonth(from, to),
  ),
  form(`(?:c\\.|ca\\.|circa|about) ?${YEAR}(?!\\d)`, 'year', ([, year]) => `${year}~`),
  form(`${YEAR}s(?![\\p{L}])`, 'year', ([, year]) =>
    year?.endsWith('0') ? `${year.slice(0, 3)}X` : undefined,
  ),
  form(`${YEAR}\\?`, 'year', ([, year]) => `${year}?`),
  form(`${YEAR}(?!\\d)`, 'year', ([, year]) => year),
];

function form(source: string, exact: DateFound['exact'], make: Form['make']): Form {
  return { at: new RegExp(source, 'iuy'), exact, make };
}

/**
 * Every date written in a text, in order, not overlapping. Years 1500 to 2099; two figures mean 2000 to 2049 or 1950 to 1999. Numbers
 * that could be read both ways (03/04/2014) are read in `order` and marked uncertain.
 */
export function datesIn(text: string, order: DayOrder = 'dmy'): DateFound[] {
  const found: DateFound[] = [];
  let end = 0;
  const starts =
    /(?<![\p{L}\d])(?=\d|jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec|spring|summer|autumn|fall|winter|c\.|ca\.|circa|about)/giu;
  for (const { index } of text.matchAll(starts)) {
    if (index < end) continue;
    const date = dateAt(text, index, order);
    if (!date) continue;
    found.push(date);
    end = date.to;
  }
  return found;
}

function dateAt(text: string, from: number, order: DayOrder): DateFound | undefined {
  for (const { at, exact, make } of FORMS) {
    at.lastIndex = from;
    const parts = at.exec(text);
    const edtf = parts && make(parts, order);
    if (!parts || !edtf || !readDate(edtf).ok) continue;
    return { edtf, from, to: from + parts[0].length, exact: exactness(edtf, exact) };
  }
  return undefined;
}

function exactness(edtf: string, exact: DateFound['exact']): DateFound['exact'] {
  return exact === 'span' && /^\d{4}-\d\d$/.test(edtf) ? 'month' : exact;
}

/** A month as spreadsheets write it: "Jan-13". In running text that may be a day. */
const SHEET_MONTH = new RegExp(`^${MONTH}-(\\d\\d)$`, 'i');

/** A cell or a field that is a date and nothing else, as EDTF; also EDTF itself. */
export function dateOf(text: string, order: DayOrder = 'dmy'): string | undefined {
  const trimmed = text
    .trim()
    .replace(/^(?:mon|tues?|wed(?:nes)?|thu(?:rs)?|fri|sat(?:ur)?|sun)(?:day)?,? (?=\d)/i, '')
    .replace(/(?<=\d)[T ]\d{1,2}:\d{2}.*$/, '');
  if (trimmed === '' || trimmed.length > 60) return undefined;
  const [only] = datesIn(trimmed, order);
  if (only?.from === 0 && only.to === trimmed.length) return only.edtf;
  const [, month, year] = SHEET_MONTH.exec(trimmed) ?? [];
  if (month) return ym(fullYear(year), monthOf(month));
  return /^-?[\dXY]{4}/.test(trimmed) && readDate(trimmed).ok ? trimmed : undefined;
}

/** Of what a document says of itself: a day, from "2014-03-14T10:00:00Z" or "D:20140314100000". */
export function dateOfMetadata(value: string | undefined): string | undefined {
  if (!value) return undefined;
  const packed = /^D?:?(\d{4})(\d\d)(\d\d)(?:\d{2})*/.exec(value.trim());
  if (packed) return valid(ymd(packed[1], packed[2], packed[3]));
  return dateOf(value);
}

/** The date in the name of a file, its folders left aside; "1984.txt" alone is a title and no date. */
export function dateOfName(path: string): string | undefined {
  const name = (path.split('/').at(-1) ?? '').replace(/\.[A-Za-z0-9]{1,8}$/, '');
  if (/^\d{4}$/.test(name)) return undefined;
  const packed = /(?<!\d)((?:19|20)\d\d)(0[1-9]|1[0-2])(0[1-9]|[12]\d|3[01])(?!\d)/.exec(name);
  const day = packed && valid(ymd(packed[1], packed[2], packed[3]));
  if (day) return day;
  const spaced = name.replace(/_/g, ' ').replace(/(?<=\p{L})-(?=\d)|(?<=\d)-(?=\p{L})/gu, ' ');
  const dates = datesIn(spaced).filter(({ edtf }) => /^(?:19[5-9]|20)/.test(edtf));
  return (dates.find(({ exact }) => exact === 'day') ?? dates[0])?.edtf;
}

function ymd(year?: string, month?: string, day?: string): string | undefined {
  if (!year || !month || !day) return undefined;
  return `${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`;
}

function ym(year?: string, month?: string): string | undefined {
  return year && month ? `${year}-${month.padStart(2, '0')}` : undefined;
}

function valid(edtf: string | undefined): string | undefined {
  return edtf && readDate(edtf).ok ? edtf : undefined;
}

function monthOf(name: string | undefined): string | undefined {
  const start = name?.toLowerCase().slice(0, 3);
  const index = start ? MONTHS.findIndex((month) => month.startsWith(start)) : -1;
  return index < 0 ? undefined : String(index + 1);
}

function fullYear(year: string | undefined): string | undefined {
  const figures = year?.replace(/\D/g, '');
  if (figures?.length !== 2) return figures;
  return (Number(figures) < 50 ? '20' : '19') + figures;
}

function numbers(a?: string, b?: string, year?: string, order?: DayOrder): string | undefined {
  const [first, second] = [Number(a), Number(b)];
  const dayFirst = first > 12 || (second <= 12 && order === 'dmy');
  const edtf = ymd(fullYear(year), dayFirst ? b : a, dayFirst ? a : b);
  return edtf && first <= 12 && second <= 12 && first !== second ? `${edtf}?` : edtf;
}

/** "2014-03" is a month, "1868-69" and "2025/26" two years. */
function spanOrMonth(from?: string, to?: string): string | undefined {
  if (!from || !to) return undefined;
  if (to.length === 2 && Number(to) >= 1 && Number(to) <= 12) {
    const nextYear = Number(to) === (Number(from) + 1) % 100;
    if (!nextYear) return `${from}-${to}`;
  }
  const until = from.slice(0, 4 - to.length) + to;
  return Number(until) > Number(from) && Number(until) - Number(from) < 100
    ? `${from}/${until}`
    : undefined;
}

/** The order of day and month in a column of dates: whichever its dates allow, the British where all allow both. */
export function orderOfDates(cells: readonly string[]): DayOrder {
  let monthFirst = 0;
  for (const cell of cells) {
    const parts = /^\s*(\d{1,2})[/.-](\d{1,2})[/.-]\d{2,4}\s*$/.exec(cell);
    if (!parts) continue;
    if (Number(parts[1]) > 12) return 'dmy';
    if (Number(parts[2]) > 12) monthFirst += 1;
  }
  return monthFirst > 0 ? 'mdy' : 'dmy';
}
