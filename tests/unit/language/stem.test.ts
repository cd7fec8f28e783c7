import fc from 'fast-check';
import { expect, test } from 'vitest';
import { stem } from '../../../src/language/stem';

test('case, accents and curly apostrophes make no difference to a stem', () => {
  expect(stem('Forgiveness')).toBe(stem('forgiveness'));
  expect(stem('Brontë’s')).toBe(stem("bronte's"));
});

test('a remembered stem is the stem', () => {
  fc.assert(
    fc.property(fc.string({ unit: fc.constantFrom(...'aeioustrngly'), maxLength: 12 }), (word) => {
      expect(stem(word)).toBe(stem(word.toUpperCase()));
    }),
  );
});

test('words that would name members of an object are words like others', () => {
  expect(stem('constructor')).toBe('constructor');
  expect(stem('hasownproperty')).toBe('hasownproperti');
});
