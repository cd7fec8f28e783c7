import { describe, expect, test } from 'vitest';
import { doneElsewhere } from '../../../src/journal/homework';
import { LEVELS } from '../../../src/journal/records';
import { minutesFor } from '../../../src/plan/minutes';
import { restOf } from '../../../src/plan/rest';
import { pairStep, voicesIn } from '../../../src/plan/talk';

describe('the minutes of an entry', () => {
  test('its own minutes win', () => {
    expect(minutesFor({ kind: 'question', text: 'Why?', minutes: 12 })).toEqual({
      minutes: 12,
      how: 'The minutes you gave it.',
    });
  });

  test('an assignment that takes an hour at home takes a few minutes to set', () => {
    expect(minutesFor({ kind: 'assignment', text: 'Write.', minutes: 60 }).minutes).toBe(3);
    expect(minutesFor({ kind: 'assignment', text: 'Write.', minutes: 10 }).minutes).toBe(10);
  });

  test('a question takes longer with more people, and longer to analyse than to remember', () => {
    const at = (level: 'remember' | 'analyse', size: number): number =>
      minutesFor({ kind: 'question', text: 'Why?', level }, undefined, size).minutes;
    expect(at('analyse', 8)).toBeGreaterThan(at('analyse', 4));
    expect(at('analyse', 7)).toBeGreaterThan(at('remember', 7));
  });

  test('an hour holds four to five questions of the core, as expected of it', () => {
    const core = ['understand', 'apply', 'analyse', 'evaluate', 'create'] as const;
    const minutes = core.map(
      (level) => minutesFor({ kind: 'question', text: 'Why?', level }, undefined, 7).minutes,
    );
    const mean = minutes.reduce((sum, one) => sum + one, 0) / minutes.length;
    // 42 minutes of core, of which about a quarter is passages (trade.md A1).
    expect((42 * 0.75) / mean).toBeGreaterThan(4);
    expect((42 * 0.75) / mean).toBeLessThan(6);
  });

  test('are whole and at least one, and say where they come from', () => {
    for (const kind of ['note', 'quote', 'question', 'lesson', 'assignment'] as const) {
      for (const level of LEVELS) {
        const { minutes, how } = minutesFor({ kind, text: '', level }, undefined, 1);
        expect(Number.isInteger(minutes) && minutes >= 1).toBe(true);
        expect(how.endsWith('.')).toBe(true);
      }
    }
  });

  test('a lesson idea has its steps', () => {
    const lesson = { steps: ['a', 'b', 'c', 'd'] };
    expect(minutesFor({ kind: 'lesson', text: 'Do.', lesson }).minutes).toBe(14);
  });
});

describe('a large circle', () => {
  test('above eight is offered a step in pairs, and eight is not', () => {
    expect(pairStep(8)).toBeUndefined();
    expect(pairStep(undefined)).toBeUndefined();
    expect(pairStep(9)?.text).toContain('9 people');
  });

  test('has fewer voices than people', () => {
    expect(voicesIn(6)).toBe(6);
    expect(voicesIn(12)).toBe(10);
  });
});

describe('rest', () => {
  test('what was never used is fully rested, and what was used inside the resting time not at all', () => {
    expect(restOf(undefined, '2026-01-01', 24)).toBe(1);
    expect(restOf('2024-03-14', '2026-03-13', 24)).toBe(0);
    expect(restOf('2024-03-14', '2026-03-14', 24)).toBeGreaterThan(0);
  });

  test('comes back with time and stays below what was never used', () => {
    const [just, later, long] = ['2024-03-14', '2022-03-14', '2010-03-14'].map((used) =>
      restOf(used, '2026-03-14', 24),
    );
    expect(just).toBeLessThan(later!);
    expect(later).toBeLessThan(long!);
    expect(long).toBeLessThan(1);
  });

  test('takes a vague date at its latest day, and one that cannot be read as fresh', () => {
    expect(restOf('2024', '2025-12-30', 12)).toBe(0);
    expect(restOf('2024', '2025-12-31', 12)).toBeGreaterThan(0);
    expect(restOf('some day', '2025-12-31', 12)).toBe(0);
  });

  test('a month that is too short ends on its last day', () => {
    expect(restOf('2025-01-31', '2025-02-27', 1)).toBe(0);
    expect(restOf('2025-01-31', '2025-02-28', 1)).toBeGreaterThan(0);
  });

  test('with no resting time everything is fresh; a use planned after the day counts too', () => {
    expect(restOf('2026-01-01', '2026-01-02', 0)).toBe(1);
    expect(restOf('2026-02-01', '2026-01-02', 12)).toBe(0);
  });
});

test('an assignment is done elsewhere unless it is said to take a few minutes', () => {
  const takes = (minutes?: number): boolean => doneElsewhere({ kind: 'assignment', minutes });
  expect([undefined, 0, 10, 15, 16, 60].map(takes)).toEqual([true, true, false, false, true, true]);
  expect(doneElsewhere({ kind: 'question' })).toBe(false);
});
