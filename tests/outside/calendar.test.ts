import { describe, expect, test } from 'vitest';
import { schoolYearOf } from '../../src/language/dates';
import { weekday } from '../../src/reading/days';

// trade.md B26: the days of 2004-W53-6, 2009-W01-1, 2009-W53-7 and 2026-W01-4. Source: recomputed with the isocalendar of Python, which keeps ISO 8601.
test.each([
  ['2005-01-01', 6],
  ['2008-12-29', 1],
  ['2010-01-03', 7],
  ['2026-01-01', 4],
])('%s is day %i of its ISO week', (day, expected) => {
  expect(weekday(day)).toBe(expected);
});

// trade.md B28. Source: England’s school year runs from 1 September by convention (common practice).
describe('a school year that begins on 1 September', () => {
  test('ends with 31 August', () => {
    expect(schoolYearOf('2025-08-31')).toBe('2024/25');
    expect(schoolYearOf('2025-09-01')).toBe('2025/26');
  });

  test('2025/26 has 365 days', () => {
    const day = (offset: number): string =>
      new Date(Date.UTC(2025, 7, 1 + offset)).toISOString().slice(0, 10);
    const inYear = Array.from({ length: 500 }, (_, offset) => day(offset)).filter(
      (each) => schoolYearOf(each) === '2025/26',
    );
    expect(inYear).toHaveLength(365);
    expect(inYear.at(-1)).toBe('2026-08-31');
  });
});
