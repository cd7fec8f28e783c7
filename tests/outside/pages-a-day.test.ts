import { expect, test } from 'vitest';
import { pagesADay, readingDays } from '../../src/reading/pace';

// Source: the trade's A6, reckoned there: 52 books of 300 pages over 365 days are 42.7 pages a day.
test('52 books of 300 pages in a year ask for 43 pages a day', () => {
  expect((52 * 300) / 365).toBeCloseTo(42.7, 1);
  expect(pagesADay(52 * 300, readingDays('2025-01-01', '2025-12-31'))).toBe(43);
});
