import { describe, expect, test } from 'vitest';
import { checkDigit13, readIsbn } from '../../src/language/isbn';

const read = (text: string) => {
  const answer = readIsbn(text);
  return answer.ok ? answer : answer.code;
};

describe('ISBNs by ISO 2108', () => {
  // Source: ISBN Users' Manual, 4.5, worked example.
  test('the worked example of the ISBN manual gets check digit 4', () => {
    expect(checkDigit13('978011000222')).toBe('4');
    expect(read('978-0-11-000222-4')).toMatchObject({ isbn13: '9780110002224' });
  });

  // Source: encyclopaedia articles on the ISBN, which all print this number.
  test('the usual specimen number is read', () => {
    expect(read('978-3-16-148410-0')).toMatchObject({
      isbn13: '9783161484100',
      hyphenated: '978-3-16-148410-0',
    });
  });

  // Source: widely printed pair, from memory; digits recomputed by the standard's weights.
  test('a number of ten digits and its thirteen stand for each other', () => {
    const expected = {
      isbn13: '9780306406157',
      isbn10: '0306406152',
      hyphenated: '978-0-306-40615-7',
    };
    expect(read('0-306-40615-2')).toMatchObject(expected);
    expect(read('978-0-306-40615-7')).toMatchObject(expected);
  });

  // Source: first from memory; the others from the tests of isbnlib (test_core.py).
  test('a check digit of ten is written X, and conversion gives the published number', () => {
    expect(read('0-8044-2957-X')).toMatchObject({ isbn10: '080442957X' });
    expect(read('954430603X')).toMatchObject({ isbn10: '954430603X' });
    expect(read('0826497527')).toMatchObject({ isbn13: '9780826497529' });
  });

  // Source: tests of isbnlib (test_core.py).
  test.each(['0826497520', '9780826497520', '9700000000000', '08X6497527'])(
    '%s is refused',
    (text) => {
      expect(read(text)).toBe('bad-isbn');
    },
  );

  // Source: tests of isbnlib.
  test('a 979 number has no form of ten digits', () => {
    expect(read('979-10-90636-07-1')).toMatchObject({ isbn13: '9791090636071' });
    expect(read('979-10-90636-07-1')).not.toHaveProperty('isbn10');
  });

  // Source: a property of the two checks, recomputed. Neighbours that differ by 5 may be swapped in thirteen digits unseen.
  test('swapping 6 and 1 still checks in thirteen digits and not in ten', () => {
    expect(read('978-0-306-40165-7')).toMatchObject({ isbn13: '9780306401657' });
    expect(read('0-306-40165-2')).toBe('bad-isbn');
  });
});
