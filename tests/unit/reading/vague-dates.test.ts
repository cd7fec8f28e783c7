/** Dates known only about: they are drawn, counted and summed as no more exact than they are. */
import { describe, expect, test } from 'vitest';
import type { Core } from '../../../src/engine/core';
import { allYears } from '../../../src/engine/reading-all-years';
import {
  figuresView,
  type FiguresAsk,
  type FiguresView,
} from '../../../src/engine/reading-figures';
import type { Reading } from '../../../src/journal/records';
import { yearLayout } from '../../../src/reading/year';
import { at, book, journalOf, reading } from './few';

let revision = 0;
const coreOf = (readings: Reading[], today = '2026-11-06'): Core =>
  ({
    journal: journalOf({ headings: [book('a', 'Alpha')], readings }),
    around: at(today),
    revision: (revision += 1),
  }) as unknown as Core;
const figures = (readings: Reading[], ask: FiguresAsk, today?: string): FiguresView =>
  figuresView(coreOf(readings, today), ask);

describe('a reading begun on a day and finished in a year', () => {
  const laid = (year: string, one: Reading): { ends: (number | undefined)[]; loose: string[] } => {
    const ask = { titleOf: () => 'Alpha', from: `${year}-01-01`, to: `${year}-12-31` };
    const { months, loose } = yearLayout({ ...ask, readings: [one] });
    return { ends: months.flatMap(({ lanes }) => lanes.flat().map(({ end }) => end)), loose };
  };

  test('is drawn without an end, and its end is told beside the year', () => {
    const one = reading('r', 'a', '2024', { started: '2024-01-05' });
    expect(laid('2024', one)).toEqual({ ends: [undefined], loose: ['r'] });
  });

  test('stands beside the year it was finished in, not at an end in the year it was begun', () => {
    const one = reading('r', 'a', '2024', { started: '2023-12-20' });
    expect(laid('2023', one)).toEqual({ ends: [undefined], loose: [] });
    expect(laid('2024', one)).toEqual({ ends: [], loose: ['r'] });
  });

  test('ends where its month is known, and one in hand is not beside the year', () => {
    expect(laid('2024', reading('r', 'a', '2024-03', { started: '2024-03-05' }))).toEqual({
      ends: [31],
      loose: [],
    });
    expect(laid('2024', reading('r', 'a', undefined, { started: '2024-03-05' }))).toEqual({
      ends: [undefined],
      loose: [],
    });
  });
});

test('among all years a book stands in its month, and in none where that is not known', () => {
  const readings = ['2014', '2014-24', '2014-05', '2014-12-30'].map((date, n) =>
    reading(`r${n}`, 'a', date),
  );
  const row = allYears(coreOf(readings)).years.find(({ year }) => year === 2014)!;
  expect(row.finished).toBe(4);
  expect(row.months.map(({ count }) => count)).toEqual([0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 1]);
});

describe('the figures of a year', () => {
  const readings = [
    reading('r1', 'a', '2024'),
    reading('r2', 'a', '2024-05-05'),
    reading('r3', 'a', '2025'),
    reading('r4', 'a', '2025'),
    reading('r5', 'a', '2025-05-05'),
  ];

  test('say how many have no month, and compare whole years by all that was finished', () => {
    expect(figures(readings, { year: 2025 })).toMatchObject({
      figures: { finished: 3 },
      noMonth: 2,
      pace: { beforeTitle: '2024', beforeFinished: 2 },
    });
    expect(figures(readings, { all: true }).noMonth).toBe(0);
  });

  test('open on the year last finished in, a season being of the year it is named by', () => {
    expect(figures([reading('r', 'a', '2014-24')], {}).title).toBe('2014');
    expect(figures([reading('r', 'a', '2027-03-01'), reading('s', 'a', '2013')], {}).title).toBe(
      '2013',
    );
    expect(figures([], {}).title).toBe('2026');
  });
});

describe('the figures of all years', () => {
  test.each(['2014', '2010-05', '2014-21', '2012/2014', '201X'])(
    'begin with the oldest reading, finished in %s',
    (oldest) => {
      const readings = [
        reading('r1', 'a', oldest),
        reading('r2', 'a', '2020-05-05', { started: '2020' }),
      ];
      expect(figures(readings, { all: true }).figures.finished).toBe(2);
    },
  );

  test('begin with what was put down in a year, too', () => {
    const readings = [
      reading('r1', 'a', undefined, { started: '2013', abandoned: true }),
      reading('r2', 'a', '2020-05-05'),
    ];
    expect(figures(readings, { all: true }).figures.abandoned).toBe(1);
  });
});

describe('the school year before', () => {
  test('counts what was put into it by hand', () => {
    const { pace } = figures([reading('r', 'a', '2024-09-20', { schoolYear: '2023/24' })], {
      school: '2024/25',
    });
    expect(pace).toMatchObject({ beforeTitle: '2023/24', beforeFinished: 1 });
  });

  test('has its 29 February where school years begin on 1 March', () => {
    const { pace } = figures([reading('r', 'a', '2024-02-29')], {
      school: '2024/25',
      schoolStart: '03-01',
    });
    expect([pace.before.at(-1), pace.beforeFinished]).toEqual([1, 1]);
  });
});
