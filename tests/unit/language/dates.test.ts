import fc from 'fast-check';
import edtf from 'edtf';
import { describe, expect, test } from 'vitest';
import { boundsOf, compareDays } from '../../../src/language/edtf-bounds';
import { partsByLibrary, readParts, type DateParts } from '../../../src/language/edtf-parts';
import { readDate, sayDate, schoolYearOf, yearOf } from '../../../src/language/dates';

const digit = fc.constantFrom(...'0123456789X');
const two = fc.oneof(
  fc.integer({ min: 0, max: 41 }).map((part) => String(part).padStart(2, '0')),
  fc.tuple(digit, digit).map((pair) => pair.join('')),
  fc.constant('XX'),
);
const year = fc.oneof(
  fc.integer({ min: 0, max: 9999 }).map((part) => String(part).padStart(4, '0')),
  fc.tuple(digit, digit, digit, digit).map((each) => each.join('')),
);
const mark = fc.constantFrom('', '', '', '?', '~', '%');
const point = fc
  .tuple(fc.constantFrom('', '', '', '-'), year, fc.option(two), fc.option(two), mark)
  .map(
    ([sign, yyyy, mm, dd, end]) =>
      [sign + yyyy, ...(mm ? [mm, ...(dd ? [dd] : [])] : [])].join('-') + end,
  );
const end = fc.oneof(point, fc.constantFrom('..', ''));
const dateLike = fc.oneof(
  { weight: 4, arbitrary: point },
  { weight: 2, arbitrary: fc.tuple(end, end).map(([from, to]) => `${from}/${to}`) },
  {
    weight: 1,
    arbitrary: fc.array(point, { minLength: 1, maxLength: 3 }).map((all) => `[${all.join(',')}]`),
  },
  {
    weight: 1,
    arbitrary: fc.string({
      unit: fc.constantFrom(...'0123456789X-/.?~%YESTZ:[]{},'),
      maxLength: 14,
    }),
  },
);

/** The parts where some day fits them; the library refuses 2016-02-30 while parsing, the quick way when it is bounded. */
const possible = (parts: DateParts | undefined): DateParts | undefined =>
  parts && boundsOf(parts) ? parts : undefined;

describe('reading dates', () => {
  test('the quick way takes what the library takes and makes the same of it', () => {
    fc.assert(
      fc.property(dateLike, (text) => {
        expect(possible(readParts(text))).toEqual(possible(partsByLibrary(text)));
      }),
      { numRuns: 5000 },
    );
  });

  test('bounds are the library’s for every year, month and day it bounds', () => {
    const known = fc
      .tuple(
        fc.integer({ min: 1, max: 9999 }).map((part) => String(part).padStart(4, '0')),
        fc.integer({ min: 0, max: 12 }),
        fc.integer({ min: 0, max: 28 }),
        fc.integer({ min: 0, max: 2 }),
      )
      .map(([yyyy, month, day, hidden]) => {
        const half = (part: number): string => String(part).padStart(2, '0');
        if (!month) return yyyy.slice(0, 4 - hidden) + 'X'.repeat(hidden);
        return day ? `${yyyy}-${half(month)}-${half(day)}` : `${yyyy}-${half(month)}`;
      });
    fc.assert(
      fc.property(known, (text) => {
        const { min, max } = edtf(text);
        const day = (time: number | null): string =>
          new Date(time ?? Number.NaN).toISOString().slice(0, 10);
        const answer = readDate(text);
        expect(answer).toMatchObject({ ok: true, date: { earliest: day(min), latest: day(max) } });
      }),
      { numRuns: 1000 },
    );
  });

  test('no date ends before it begins, unless it is an interval written so', () => {
    fc.assert(
      fc.property(point, (text) => {
        const parts = readParts(text);
        const bounds = parts && boundsOf(parts);
        if (!bounds?.earliest || !bounds.latest) return;
        expect(compareDays(bounds.earliest, bounds.latest)).toBeLessThanOrEqual(0);
      }),
      { numRuns: 1000 },
    );
  });

  test('no text makes it throw, and a refusal says how a date is written', () => {
    fc.assert(
      fc.property(fc.oneof(dateLike, fc.string()), (text) => {
        const answer = readDate(text);
        if (answer.ok) expect(sayDate(text)).not.toMatch(/undefined|NaN/);
        else
          expect(answer).toMatchObject({
            code: 'bad-date',
            message: expect.stringContaining('2024-03-14'),
          });
      }),
      { numRuns: 2000 },
    );
  });

  test('a date no day fits is refused', () => {
    expect(readDate('20X1-02-29')).toMatchObject({ ok: false, code: 'bad-date' });
    expect(readDate('20X2-02-29')).toMatchObject({
      ok: true,
      date: { earliest: '2012-02-29', latest: '2092-02-29' },
    });
  });

  test('years before the year 0 and past 9999 have a sign and six digits', () => {
    expect(readDate('-0043-03-15')).toMatchObject({ date: { earliest: '-000043-03-15' } });
    expect(readDate('-019X')).toMatchObject({
      date: { earliest: '-000199-01-01', latest: '-000190-12-31' },
    });
    expect(readDate('Y12000')).toMatchObject({ date: { earliest: '+012000-01-01' } });
    expect(readDate('Y-17E7')).toMatchObject({ ok: true });
    expect(readDate('Y-17E7')).not.toHaveProperty('date.earliest');
  });

  test('a winter runs into the next year', () => {
    expect(readDate('2023-24')).toMatchObject({
      date: { earliest: '2023-12-01', latest: '2024-02-29' },
    });
  });

  test('a time of day is a day', () => {
    expect(readDate('1985-04-12T23:20:30-05:00')).toMatchObject({
      date: { earliest: '1985-04-12', latest: '1985-04-12' },
    });
  });
});

test.each([
  ['2024-03-14', '14 Mar 2024', '14 March 2024'],
  ['2024-03', 'Mar 2024', 'March 2024'],
  ['2014-21', 'spring 2014', 'spring 2014'],
  ['2014-23', 'autumn 2014', 'autumn 2014'],
  ['1984~', 'about 1984', 'about 1984'],
  ['1984-06?', 'perhaps Jun 1984', 'perhaps June 1984'],
  ['201X', '2010s', '2010s'],
  ['190X', '1900–1909', '1900–1909'],
  ['19XX', '1900–1999', '1900–1999'],
  ['2016-XX', '2016, month unknown', '2016, month unknown'],
  ['2016-02-XX', 'Feb 2016, day unknown', 'February 2016, day unknown'],
  ['1964/2008', '1964 to 2008', '1964 to 2008'],
  ['../2006', 'until 2006', 'until 2006'],
  ['2006/..', 'from 2006', 'from 2006'],
  ['-0043-03-15', '15 Mar 44 BC', '15 March 44 BC'],
  ['{1960,1961-12}', '1960 and Dec 1961', '1960 and December 1961'],
  ['last summer', 'last summer', 'last summer'],
])('%s is said “%s”', (text, short, long) => {
  expect([sayDate(text), sayDate(text, 'long')]).toEqual([short, long]);
});

test.each([
  ['2014-21', 2014],
  ['2023-24', 2023],
  ['1984?', 1984],
  ['2016-02/2016-05', 2016],
  ['2016/2017', undefined],
  ['2016/..', undefined],
  ['199X', undefined],
  ['0000', 0],
  ['nonsense', undefined],
])('the year of %s is %s', (text, expected) => {
  expect(yearOf(text)).toBe(expected);
});

test('a school year may begin on another day, or with the calendar year', () => {
  expect(schoolYearOf('2025-08-14', '08-15')).toBe('2024/25');
  expect(schoolYearOf('2025-08-15', '08-15')).toBe('2025/26');
  expect(schoolYearOf('2025-08-15', '01-01')).toBe('2025');
  expect(schoolYearOf('1999-10-01')).toBe('1999/00');
});

test('what is not a day is a fault of the caller', () => {
  expect(() => schoolYearOf('2025-02-30')).toThrow(RangeError);
  expect(() => schoolYearOf('2025')).toThrow(RangeError);
});
