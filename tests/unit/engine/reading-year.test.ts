import { describe, expect, it } from 'vitest';
import { yearToOpen } from '../../../src/engine/reading-year';
import type { Reading } from '../../../src/journal/records';

const finished = (...dates: string[]): Reading[] =>
  dates.map((date, at) => ({
    id: `reading ${at}` as Reading['id'],
    book: 'book' as Reading['book'],
    form: 'print',
    finished: date,
  }));

describe('the year the log opens on', () => {
  it('is this year while the log is kept, also early in January', () => {
    expect(yearToOpen(finished('2025-12-20'), '2026-01-04')).toBe(2026);
    expect(yearToOpen(finished('2024-02-01', '2026-03-01'), '2026-04-01')).toBe(2026);
  });

  it('is this year where nothing is known, or only what lies ahead', () => {
    expect(yearToOpen([], '2026-04-01')).toBe(2026);
    expect(yearToOpen(finished('2027-01-01'), '2026-04-01')).toBe(2026);
  });

  it('is the last year it was kept in where it was laid aside', () => {
    expect(yearToOpen(finished('2024-06-01', '2025-05-30', '2019'), '2026-11-25')).toBe(2025);
  });
});
