import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  addDays,
  daysFromTo,
  dayNumber,
  isDay,
  isoDay,
  monthsFromTo,
  weekday,
} from '../../../src/reading/days';
import { figuresFor } from '../../../src/reading/figures';
import { isFree, median, pagesADay, readingDays, schedule } from '../../../src/reading/pace';
import { daysOf, within, yearFinished } from '../../../src/reading/readings';
import { schoolYearOfReading, schoolYearSpan } from '../../../src/reading/school-years';
import { reading } from './few';

const year = { from: '2025-01-01', to: '2025-12-31', today: '2025-11-06', pagesOf: () => 200 };

describe('the figures of a year', () => {
  test('count what was finished in it, with the book’s pages where a reading has none', () => {
    const figures = figuresFor({
      ...year,
      readings: [
        reading('1', 'a', '2025-01-29', { started: '2025-01-03', pages: 532, rating: 5 }),
        reading('2', 'b', '2025-03', { form: 'ebook', rating: 4 }),
        reading('3', 'c', '2025', { form: 'audio', minutes: 300 }),
        reading('4', 'd', '2024-12-31', { pages: 999 }),
        reading('5', 'e', '2025-05-01', { abandoned: true, pages: 999 }),
        reading('6', 'f', undefined, { started: '2025-11-01', days: ['2025-11-02'] }),
      ],
    });
    expect(figures).toMatchObject({
      finished: 3,
      pages: 732,
      minutes: 300,
      byForm: { print: 1, ebook: 1, audio: 1 },
      abandoned: 1,
      rating: { mean: 4.5, rated: 2, spread: { 4: 1, 5: 1 } },
    });
    expect(figures.byMonth['2025-01']).toBe(1);
    expect(figures.byMonth['2025-03']).toBe(1);
    expect(Object.keys(figures.byMonth)).toHaveLength(12);
    // 3 and 29 January, 1 May, 1 and 2 November.
    expect(figures.days).toBe(5);
    // 310 days gone by: a book every 103.3 days, 2.4 pages a day.
    expect(figures.pace).toEqual({ over: 310, daysPerBook: 103.3, pagesPerDay: 2.4 });
  });

  test('of a winter count in the year it is named by; of a date across years in none', () => {
    expect(yearFinished(reading('1', 'a', '2010-24'))).toBe(2010);
    expect(yearFinished(reading('1', 'a', '2009/2010'))).toBeUndefined();
    expect(yearFinished(reading('1', 'a', '2010', { abandoned: true }))).toBeUndefined();
    expect(yearFinished(reading('1', 'a', '201X'))).toBeUndefined();
  });

  test('of nothing are all nought', () => {
    expect(figuresFor({ ...year, readings: [] })).toMatchObject({
      finished: 0,
      pages: 0,
      days: 0,
      rating: { mean: null },
      pace: { daysPerBook: null, pagesPerDay: null },
    });
  });
});

describe('dates of readings', () => {
  test('a vague date is perhaps within a stretch that holds only part of it', () => {
    expect(within('2025-03', '2025-01-01', '2025-12-31')).toBe('yes');
    expect(within('2025', '2025-03-01', '2025-12-31')).toBe('maybe');
    expect(within('2024', '2025-01-01', '2025-12-31')).toBe('no');
    expect(within('2025-01-01/..', '2025-01-01', '2025-12-31')).toBe('maybe');
    expect(within(undefined, '2025-01-01', '2025-12-31')).toBe('no');
  });

  test('days open are those marked and the exact ends, each once', () => {
    const one = reading('1', 'a', '2025-01-05', {
      started: '2025-01',
      days: ['2025-01-05', '2025-01-03'],
    });
    expect(daysOf(one)).toEqual(['2025-01-03', '2025-01-05']);
    expect(daysOf(reading('2', 'a', '2025-01-05~'))).toEqual([]);
  });

  test('the school year is the one set by hand, else the one of its date, else not known', () => {
    expect(schoolYearOfReading(reading('1', 'a', '2025-08-31'))).toBe('2024/25');
    expect(schoolYearOfReading(reading('1', 'a', '2025-09-01'))).toBe('2025/26');
    expect(schoolYearOfReading(reading('1', 'a', '2025'))).toBeUndefined();
    expect(schoolYearOfReading(reading('1', 'a', '2025'), '01-01')).toBe('2025');
    expect(schoolYearOfReading(reading('1', 'a', '2025', { schoolYear: '2024/25' }))).toBe(
      '2024/25',
    );
    expect(schoolYearOfReading(reading('1', 'a', undefined, { started: '2025-10-02' }))).toBe(
      '2025/26',
    );
    expect(schoolYearSpan('2024/25')).toEqual({ from: '2024-09-01', to: '2025-08-31' });
    expect(schoolYearSpan('2024', '01-01')).toEqual({ from: '2024-01-01', to: '2024-12-31' });
    expect(schoolYearSpan('next year')).toBeUndefined();
    expect(schoolYearSpan('2024/25', '02-29')).toBeUndefined();
  });
});

describe('days', () => {
  test('numbers go there and back, and weekdays follow each other', () => {
    fc.assert(
      fc.property(fc.integer({ min: -200_000, max: 200_000 }), (number) => {
        const day = isoDay(number);
        expect(dayNumber(day)).toBe(number);
        expect(isDay(day)).toBe(true);
        expect(weekday(addDays(day, 1))).toBe((weekday(day) % 7) + 1);
      }),
    );
    expect(weekday('2025-11-06')).toBe(4);
    expect(isDay('2025-02-29')).toBe(false);
    expect(monthsFromTo('2025-11-06', '2026-02-01')).toEqual([
      '2025-11',
      '2025-12',
      '2026-01',
      '2026-02',
    ]);
  });
});

describe('pages a day', () => {
  test('are pages left over days left, rounded up', () => {
    expect(pagesADay(100, 3)).toBe(34);
    expect(pagesADay(99, 3)).toBe(33);
    expect(pagesADay(0, 0)).toBe(0);
    expect(pagesADay(10, 0)).toBeUndefined();
  });

  test('at that pace the plan is done in time, and one page fewer a day is not enough', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 500 }), { minLength: 1, maxLength: 8 }),
        fc.integer({ min: 1, max: 200 }),
        fc.uniqueArray(fc.integer({ min: 1, max: 7 }), { maxLength: 5 }),
        (pages, span, weekdays) => {
          const from = '2025-09-01';
          const by = addDays(from, span - 1);
          const free = { weekdays, stretches: [{ from: '2025-10-20', to: '2025-10-31' }] };
          const total = pages.reduce((sum, each) => sum + each, 0);
          const perDay = pagesADay(total, readingDays(from, by, free));
          if (perDay === undefined || perDay === 0) return;
          const books = pages.map((each, id) => ({ id, pages: each }));
          const plan = schedule(books, from, perDay, free);
          const last = plan.at(-1)!;
          expect(last.to! <= by).toBe(true);
          for (const { from: begins, to } of plan) {
            expect(isFree(begins!, free)).toBe(false);
            expect(isFree(to!, free)).toBe(false);
            expect(begins! <= to!).toBe(true);
          }
          if (perDay === 1) return;
          const slower = schedule(books, from, perDay - 1, free).at(-1)!;
          expect(slower.to === undefined || slower.to > by).toBe(true);
        },
      ),
    );
  });

  test('a book of no pages takes no day of its own, even after a day that was full', () => {
    const books = [
      { id: 'a', pages: 10 },
      { id: 'b', pages: 0 },
      { id: 'c', pages: 5 },
    ];
    const days = schedule(books, '2025-09-01', 10).map(({ from, to }) => [from, to]);
    expect(days).toEqual([
      ['2025-09-01', '2025-09-01'],
      ['2025-09-01', '2025-09-01'],
      ['2025-09-02', '2025-09-02'],
    ]);
  });

  test('books follow one another, sharing a day where pages of it are left', () => {
    const books = [
      { id: 'a', pages: 25 },
      { id: 'b', pages: 15 },
      { id: 'c', pages: 10 },
    ];
    // Mondays to Fridays from Friday 5 September 2025, ten pages a day.
    expect(schedule(books, '2025-09-05', 10, { weekdays: [6, 7] })).toEqual([
      { id: 'a', pages: 25, from: '2025-09-05', to: '2025-09-09' },
      { id: 'b', pages: 15, from: '2025-09-09', to: '2025-09-10' },
      { id: 'c', pages: 10, from: '2025-09-11', to: '2025-09-11' },
    ]);
    expect(schedule(books, '2025-09-05', 10, { weekdays: [1, 2, 3, 4, 5, 6, 7] })[0]).toEqual({
      id: 'a',
      pages: 25,
    });
    expect(readingDays('2025-09-05', '2025-09-11', { weekdays: [6, 7] })).toBe(5);
    expect(daysFromTo('2025-09-05', '2025-09-04')).toBe(0);
  });

  test('a book of unknown length is taken as long as the middle one', () => {
    expect(median([])).toBeUndefined();
    expect(median([300, 100, 200])).toBe(200);
    expect(median([100, 201])).toBe(151);
  });
});
