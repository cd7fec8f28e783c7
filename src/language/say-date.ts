import type { DateEnd, DateParts, DatePoint, LongYear } from './edtf-parts';

type Style = 'short' | 'long';

const SHORT_MONTHS = 'Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec'.split(' ');
const LONG_MONTHS =
  'January February March April May June July August September October November December'.split(
    ' ',
  );
const SEASONS = ['spring', 'summer', 'autumn', 'winter'];

/** Parts of a date in plain words; see `sayDate`. */
export function sayParts(parts: DateParts, style: Style): string {
  switch (parts.type) {
    case 'point':
      return qualified(sayPoint(parts, style), parts);
    case 'year':
      return qualified(sayLongYear(parts), parts);
    case 'interval':
      return sayInterval(parts.from, parts.to, style);
    case 'choice': {
      const items = parts.items.map((item) => sayParts(item, style));
      if (parts.earlier) items[0] = `${items[0]} or earlier`;
      if (parts.later) items.push(`${items.pop()} or later`);
      if (items.length === 1) return items[0] ?? '';
      const last = items.pop();
      return parts.all
        ? `${items.join(', ')} and ${last}`
        : `one of ${items.join(', ')} or ${last}`;
    }
  }
}

function qualified(words: string, marks: { uncertain: boolean; approximate: boolean }): string {
  const about = marks.approximate ? `about ${words}` : words;
  return marks.uncertain ? `perhaps ${about}` : about;
}

function sayInterval(from: DateEnd, to: DateEnd, style: Style): string {
  if (from === 'open' && to === 'open') return 'any time';
  if (from === 'open' && typeof to !== 'string') return `until ${sayParts(to, style)}`;
  if (to === 'open' && typeof from !== 'string') return `from ${sayParts(from, style)}`;
  const [first, last] = [from, to].map((end) =>
    typeof end === 'string'
      ? end === 'open'
        ? 'any time'
        : 'an unknown date'
      : sayParts(end, style),
  );
  return `${first} to ${last}`;
}

function sayPoint(point: DatePoint, style: Style): string {
  const year = sayYear(point);
  if (point.season !== undefined) return `${saySeason(point.season)} ${year}`;
  if (point.month === undefined) return year;
  const month = sayMonth(point.month, style);
  if (month === undefined) {
    return point.day === undefined || point.day === 'XX'
      ? `${year}, month unknown`
      : `${sayDay(point.day)} of an unknown month, ${year}`;
  }
  if (point.day === undefined) return `${month} ${year}`;
  if (point.day === 'XX') return `${month} ${year}, day unknown`;
  return `${sayDay(point.day)} ${month} ${year}`;
}

/** "1990s" for 199X; a century's and a millennium's years are given by their ends, since "1900s" may mean either. */
function sayYear({ year, negative }: DatePoint): string {
  if (year === 'XXXX') return 'year unknown';
  if (/^\d{4}$/.test(year)) return sayAstronomical(negative ? -Number(year) : Number(year));
  if (!negative && /^\d{2}[1-9]X$/.test(year)) return `${year.slice(0, 3)}0s`;
  const ends = [year.replace(/X/g, '0'), year.replace(/X/g, '9')].map(Number);
  const [first = 0, last = 0] = negative ? ends.map((end) => -end).reverse() : ends;
  const between = /^\d+X+$/.test(year) ? '–' : ' to ';
  return `${sayAstronomical(first)}${between}${sayAstronomical(last)}`;
}

function sayLongYear({ value, significant }: LongYear): string {
  const year = sayAstronomical(value);
  return significant ? `about ${year} (to ${significant} figures)` : year;
}

/** Astronomical 0 is 1 BC. */
function sayAstronomical(year: number): string {
  return year > 0 ? String(year) : `${1 - year} BC`;
}

function sayMonth(month: string, style: Style): string | undefined {
  if (month === 'XX') return undefined;
  const names = style === 'long' ? LONG_MONTHS : SHORT_MONTHS;
  const fitting = names.filter((_, index) => {
    const digits = String(index + 1).padStart(2, '0');
    return [...month].every((digit, place) => digit === 'X' || digit === digits[place]);
  });
  return fitting.length > 2 ? `${fitting[0]} to ${fitting.at(-1)}` : fitting.join(' or ');
}

function sayDay(day: string): string {
  if (!day.includes('X')) return String(Number(day));
  if (/^\dX$/.test(day))
    return `${Number(day.replace('X', '0')) || 1} to ${day.replace('X', day[0] === '3' ? '1' : '9').replace(/^0/, '')}`;
  return `a day ending in ${day[1]},`;
}

function saySeason(season: number): string {
  if (season <= 32) {
    const name = SEASONS[(season - 21) % 4] ?? '';
    return season <= 24 ? name : `${season <= 28 ? 'northern' : 'southern'} ${name}`;
  }
  if (season <= 36) return `quarter ${season - 32} of`;
  if (season <= 39) return `four months ${season - 36} of 3 of`;
  return season === 40 ? 'first half of' : 'second half of';
}
