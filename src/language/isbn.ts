import { parse } from 'isbn3';

type IsbnAnswer =
  | { ok: true; isbn13: string; isbn10?: string; hyphenated: string }
  | { ok: false; code: 'bad-isbn'; message: string };

/**
 * Reads an ISBN of ten or thirteen digits, with hyphens, spaces or a leading "ISBN". `isbn13` and `isbn10` are bare digits
 * (and X); `hyphenated` is the ISBN-13 parted by the ranges of the International ISBN Agency. A 979 number has no ISBN-10.
 * Check digits by ISO 2108: weights 1 and 3 modulo 10, or 10 to 1 modulo 11.
 */
export function readIsbn(text: string): IsbnAnswer {
  const bare = text
    .trim()
    .replace(/^isbn(?:-1[03])?:?\s*/i, '')
    .replace(/[\s\u00ad\u2010-\u2015\u2212-]/g, '')
    .toUpperCase();
  if (!/^(?:\d{9}[\dX]|97[89]\d{10})$/.test(bare)) {
    return refused(
      'An ISBN has ten digits, the last of which may be X, or thirteen beginning 978 or 979.',
    );
  }
  if (!checks(bare))
    return refused('The last digit does not agree with the others. One of them may be mistyped.');
  const known = parse(bare);
  // A number that checks but lies in no range assigned when the library was made is still an ISBN.
  const isbn13 = known?.isbn13 ?? toIsbn13(bare);
  const isbn10 = known?.isbn10 ?? toIsbn10(isbn13);
  const answer: IsbnAnswer = { ok: true, isbn13, hyphenated: known?.isbn13h ?? isbn13 };
  return isbn10 ? { ...answer, isbn10 } : answer;
}

function refused(message: string): IsbnAnswer {
  return { ok: false, code: 'bad-isbn', message };
}

function checks(bare: string): boolean {
  return bare.at(-1) === (bare.length === 10 ? checkDigit10(bare) : checkDigit13(bare));
}

/** Check digit of the first twelve digits. */
export function checkDigit13(digits: string): string {
  const sum = [...digits.slice(0, 12)].reduce(
    (total, digit, index) => total + Number(digit) * (index % 2 ? 3 : 1),
    0,
  );
  return String((10 - (sum % 10)) % 10);
}

/** Check digit, 0 to 9 or X, of the first nine digits. */
export function checkDigit10(digits: string): string {
  const sum = [...digits.slice(0, 9)].reduce(
    (total, digit, index) => total + Number(digit) * (10 - index),
    0,
  );
  const check = (11 - (sum % 11)) % 11;
  return check === 10 ? 'X' : String(check);
}

function toIsbn13(bare: string): string {
  if (bare.length === 13) return bare;
  const first = `978${bare.slice(0, 9)}`;
  return first + checkDigit13(first);
}

function toIsbn10(isbn13: string): string | undefined {
  if (!isbn13.startsWith('978')) return undefined;
  const first = isbn13.slice(3, 12);
  return first + checkDigit10(first);
}
