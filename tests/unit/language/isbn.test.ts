import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkDigit10, checkDigit13, readIsbn } from '../../../src/language/isbn';

const nine = fc.stringMatching(/^\d{9}$/);

describe('reading ISBNs', () => {
  test('ten digits and thirteen come to the same number', () => {
    fc.assert(
      fc.property(nine, (digits) => {
        const ten = readIsbn(digits + checkDigit10(digits));
        const thirteen = readIsbn(`978${digits}${checkDigit13(`978${digits}`)}`);
        expect(ten).toMatchObject({ ok: true });
        expect(ten).toEqual(thirteen);
      }),
    );
  });

  test('one wrong digit is always found', () => {
    fc.assert(
      fc.property(nine, fc.nat(9), fc.integer({ min: 1, max: 9 }), (digits, place, by) => {
        const right = digits + checkDigit10(digits);
        const old = right[place] === 'X' ? 10 : Number(right[place]);
        const wrong = right.slice(0, place) + String((old + by) % 10) + right.slice(place + 1);
        if (wrong !== right) expect(readIsbn(wrong)).toMatchObject({ ok: false, code: 'bad-isbn' });
      }),
    );
  });

  test('is not put off by how it was written down', () => {
    for (const text of [
      'ISBN 0-306-40615-2',
      'isbn: 0 306 40615 2',
      'ISBN-13: 978‑0‑306‑40615‑7',
      '080442957x',
    ]) {
      expect(readIsbn(text).ok).toBe(true);
    }
  });

  test('hyphens come back to the same digits', () => {
    fc.assert(
      fc.property(nine, (digits) => {
        const answer = readIsbn(digits + checkDigit10(digits));
        if (answer.ok) expect(answer.hyphenated.replaceAll('-', '')).toBe(answer.isbn13);
      }),
    );
  });

  test.each(['', 'hello', '978030640615', 'X306406152', '12345678901234', '977-0-306-40615-7'])(
    'refuses “%s”',
    (text) => {
      expect(readIsbn(text)).toMatchObject({ ok: false, code: 'bad-isbn' });
    },
  );
});
