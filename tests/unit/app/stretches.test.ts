import fc from 'fast-check';
import { expect, test } from 'vitest';
import { stretches } from '../../../src/app/parts/stretches';

test('a long text comes in stretches that end with a line', () => {
  expect(stretches('one\ntwo\nthree', 8)).toEqual(['one\ntwo', 'three']);
  expect(stretches('one two three', 8)).toEqual(['one two', 'three']);
  expect(stretches('short', 8)).toEqual(['short']);
  expect(stretches('', 8)).toEqual(['']);
});

test('nothing is lost but the break where two stretches meet, whatever the text', () => {
  const text = fc.string({
    unit: fc.constantFrom('a', 'é', '\n', ' ', '🧶', 'שלום'),
    maxLength: 200,
  });
  fc.assert(
    fc.property(text, fc.integer({ min: 2, max: 40 }), (whole, long) => {
      const cut = stretches(whole, long);
      for (const one of cut) {
        expect(one).not.toMatch(/[\uD800-\uDBFF]$/);
        expect(one.length).toBeLessThanOrEqual(long + 1);
      }
      const bare = (of: string): string => of.replace(/[\n ]/g, '');
      expect(bare(cut.join(''))).toBe(bare(whole));
      expect(whole.length - cut.join('').length).toBeLessThan(cut.length);
    }),
  );
});
