import fc from 'fast-check';
import snowball from 'snowball-stemmers';
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

// The library stems by one algorithm in 4 kB; the other, which carries two dozen languages in 300, is the check on it.
test('stems are those of an independent implementation of the same algorithm', () => {
  const other = snowball.newStemmer('english');
  const start = fc.constantFrom(
    ...'forgiv courag generat hop mass happ lov univers commun arsen play ski succe'.split(' '),
  );
  const ending = fc.constantFrom(
    ...'e ing ed edly ly ness ful less ation ational ization ize al ity iti ous ement er ers s es ies ism'.split(
      ' ',
    ),
  );
  fc.assert(
    fc.property(start, fc.array(ending, { maxLength: 2 }), (first, endings) => {
      const word = first + endings.join('');
      expect(stem(word)).toBe(other.stem(word));
    }),
    { numRuns: 3000 },
  );
});

test('a possessive has the stem of its word', () => {
  for (const word of ['princess', 'author', 'james', 'family', 'success']) {
    expect(stem(`${word}'s`)).toBe(stem(word));
    expect(stem(`${word}’`)).toBe(stem(word));
  }
});

test('what is longer than any word is left as it is, in no more time than it takes to read', () => {
  const began = performance.now();
  expect(stem('AEIOU'.repeat(20_000))).toBe('aeiou'.repeat(20_000));
  expect(performance.now() - began).toBeLessThan(5000);
});
