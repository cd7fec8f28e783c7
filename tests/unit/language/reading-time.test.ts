import { describe, expect, test } from 'vitest';
import { aloudWpm, minutesAloud } from '../../../src/language/reading-time';

describe('the pace of reading aloud', () => {
  test('is an adult’s where nothing else is known', () => {
    expect(aloudWpm(undefined)).toBe(183);
    expect(aloudWpm({ readers: 'adult', grade: 2 })).toBe(183);
    expect(aloudWpm({ readers: 'grade' })).toBe(183);
  });

  test('set by hand counts before any table, unless it is no pace at all', () => {
    expect(aloudWpm({ readers: 'grade', grade: 3, wordsPerMinute: 70 })).toBe(70);
    expect(aloudWpm({ readers: 'grade', grade: 3, wordsPerMinute: 0 })).toBe(97);
  });

  test('of a grade without a season is winter’s', () => {
    expect(aloudWpm({ readers: 'grade', grade: 4 })).toBe(120);
  });

  test('falls back on the nearest measured where nothing was measured', () => {
    expect(aloudWpm({ readers: 'grade', grade: 1, season: 'fall' })).toBe(29);
    expect(aloudWpm({ readers: 'grade', grade: 0, season: 'spring' })).toBe(60);
    expect(aloudWpm({ readers: 'grade', grade: 11, season: 'fall' })).toBe(132);
  });

  test('gives minutes that are not rounded', () => {
    expect(minutesAloud(150, { readers: 'adult', wordsPerMinute: 100 })).toBe(1.5);
    expect(minutesAloud(0)).toBe(0);
  });
});
