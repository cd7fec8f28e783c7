import { describe, expect, it } from 'vitest';
import { reminds } from '../../../src/app/keep/copy-reminder';

const NOW = new Date('2026-11-30T12:00:00.000Z');
const daysAgo = (days: number): string =>
  new Date(NOW.getTime() - days * 24 * 60 * 60 * 1000).toISOString();
const age = (days: number, own: number): { begun: string; own: number } => ({
  begun: daysAgo(days),
  own,
});

describe('a reader is reminded to save a copy', () => {
  const old = { copyAt: daysAgo(31), sinceCopy: 1 };

  it('when the last one is older than thirty days and something has changed since', () => {
    expect(reminds(old, age(400, 1), {}, NOW)).toBe(true);
    expect(reminds({ ...old, copyAt: daysAgo(30) }, age(400, 1), {}, NOW)).toBe(false);
    expect(reminds({ ...old, sinceCopy: 0 }, age(400, 1), {}, NOW)).toBe(false);
  });

  it('when there is none and the journal is older than a week with twenty entries', () => {
    const none = { sinceCopy: 25 };
    expect(reminds(none, age(8, 20), {}, NOW)).toBe(true);
    expect(reminds(none, age(7, 20), {}, NOW)).toBe(false);
    expect(reminds(none, age(8, 19), {}, NOW)).toBe(false);
  });

  it('never for a journal that holds nothing of the reader’s own', () => {
    expect(reminds(old, age(400, 0), {}, NOW)).toBe(false);
  });

  it('once a day, and a week after “Later”', () => {
    expect(reminds(old, age(400, 1), { shown: daysAgo(0) }, NOW)).toBe(false);
    expect(reminds(old, age(400, 1), { shown: daysAgo(1) }, NOW)).toBe(true);
    expect(reminds(old, age(400, 1), { later: daysAgo(6) }, NOW)).toBe(false);
    expect(reminds(old, age(400, 1), { later: daysAgo(7) }, NOW)).toBe(true);
  });
});
