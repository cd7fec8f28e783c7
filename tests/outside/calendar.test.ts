import { describe, expect, test } from 'vitest';
import { easter, isoWeek, schoolYearOf } from '../../src/language/dates';

// trade.md B26. Source: recomputed with the isocalendar of Python, which keeps ISO 8601 (a week belongs to the year of its Thursday).
test.each([
  ['2005-01-01', '2004-W53-6'],
  ['2008-12-29', '2009-W01-1'],
  ['2010-01-03', '2009-W53-7'],
  ['2026-01-01', '2026-W01-4'],
])('%s is %s', (day, week) => {
  expect(isoWeek(day).text).toBe(week);
});

// Source: the tests of dateutil (test_easter).
test.each([
  [2024, '2024-03-31'],
  [2025, '2025-04-20'],
  [2026, '2026-04-05'],
  [2027, '2027-03-28'],
])('Easter of %i is %s', (year, day) => {
  expect(easter(year)).toBe(day);
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
