import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ENTRY_KINDS, LEVELS, type Shape } from '../../../src/journal/records';
import { aimsFor } from '../../../src/plan/aims';
import { partsFor, suits, scaledParts } from '../../../src/plan/shapes';

const minutes = (shape: Shape, of: number): number[] =>
  partsFor(shape, of).map((part) => part.minutes);

describe('the parts of a discussion', () => {
  test.each([
    [45, 5, 30, 5],
    [60, 7, 42, 6],
    [90, 10, 65, 8],
  ])(
    'of %i minutes keep to the table: opening %i, core %i, closing %i',
    (whole, opening, core, closing) => {
      const [first, reading, connections, last] = minutes('discussion', whole) as [
        number,
        number,
        number,
        number,
      ];
      expect([first, reading + connections, last]).toEqual([opening, core, closing]);
      expect(reading).toBeGreaterThan(connections);
    },
  );

  test('between two rows lie between them', () => {
    const [opening, reading, connections, closing] = minutes('discussion', 75) as [
      number,
      number,
      number,
      number,
    ];
    expect(opening).toBeGreaterThanOrEqual(8);
    expect(opening).toBeLessThanOrEqual(9);
    expect(reading + connections).toBeGreaterThan(52);
    expect(closing).toBe(7);
  });

  test('have the names of the trade', () => {
    const names = (shape: Shape): string[] => partsFor(shape, 60).map(({ name }) => name);
    expect(names('discussion')).toEqual(['Opening', 'Close reading', 'Connections', 'Closing']);
    expect(names('lesson')).toEqual(['Hook', 'Teaching', 'Practice', 'Check', 'Closing']);
  });
});

test('parts are whole minutes, at least one each, and never more than the meeting', () => {
  fc.assert(
    fc.property(
      fc.constantFrom<Shape>('discussion', 'lesson'),
      fc.integer({ min: 7, max: 600 }),
      (shape, whole) => {
        const parts = minutes(shape, whole);
        expect(parts.every((part) => Number.isInteger(part) && part >= 1)).toBe(true);
        expect(parts.reduce((sum, part) => sum + part, 0)).toBeLessThanOrEqual(whole);
        expect(parts.reduce((sum, part) => sum + part, 0)).toBeGreaterThan(0.8 * whole - 2);
      },
    ),
  );
});

test('aims are whole minutes for every level, within the meeting', () => {
  for (const shape of ['discussion', 'lesson'] as const) {
    const aims = aimsFor(shape, 60);
    expect(Object.keys(aims)).toEqual([...LEVELS]);
    const sum = Object.values(aims).reduce((all, one) => all + one, 0);
    expect(sum).toBeGreaterThan(15);
    expect(sum).toBeLessThan(60);
    expect(Object.values(aims).every(Number.isInteger)).toBe(true);
  }
});

describe('what suits a part', () => {
  test('an opening wants an easy question, a closing one that weighs', () => {
    expect(suits('discussion', 'Opening', 'question', 'understand')).toBeGreaterThan(
      suits('discussion', 'Opening', 'question', 'evaluate'),
    );
    expect(suits('discussion', 'Closing', 'question', 'evaluate')).toBeGreaterThan(
      suits('discussion', 'Closing', 'question', 'remember'),
    );
  });

  test('an assignment never opens a meeting, and a part the leader named takes anything', () => {
    expect(suits('discussion', 'Opening', 'assignment')).toBe(0);
    for (const kind of ENTRY_KINDS) expect(suits('discussion', 'Poems', kind)).toBeGreaterThan(0);
  });
});

describe('parts for another length', () => {
  test('usual parts become the usual parts', () => {
    expect(scaledParts('discussion', partsFor('discussion', 60), 60, 90)).toEqual(
      partsFor('discussion', 90),
    );
  });

  test('parts of the leader’s own keep their names and proportions', () => {
    const own = [
      { name: 'Tea', minutes: 10 },
      { name: 'Reading', minutes: 30 },
      { name: 'Talk', minutes: 20 },
    ];
    expect(scaledParts('discussion', own, 60, 90)).toEqual([
      { name: 'Tea', minutes: 15 },
      { name: 'Reading', minutes: 45 },
      { name: 'Talk', minutes: 30 },
    ]);
    const short = scaledParts('lesson', own, 60, 5);
    expect(short.reduce((sum, { minutes }) => sum + minutes, 0)).toBe(5);
  });
});
