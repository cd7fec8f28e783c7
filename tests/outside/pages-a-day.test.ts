import { expect, test } from 'vitest';
import { pagesADay, readingDays } from '../../src/reading/pace';

// Source: the trade's A6, reckoned there: 52 books of 300 pages over 365 days are 42.7 pages a day.
test('52 books of 300 pages in a year ask for 43 pages a day', () => {
  expect((52 * 300) / 365).toBeCloseTo(42.7, 1);
  expect(pagesADay(52 * 300, readingDays('2025-01-01', '2025-12-31'))).toBe(43);
});

// Source: recomputed with the calendar of Python (weekday() below 5), day by day.
test.each([
  [2024, 262],
  [2025, 261],
  [2026, 261],
])('%i with its weekends free has %i days for reading', (year, days) => {
  const free = { weekdays: [6, 7] };
  expect(readingDays(`${year}-01-01`, `${year}-12-31`, free)).toBe(days);
});
