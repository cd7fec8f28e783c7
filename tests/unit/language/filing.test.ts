import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { compareFiling, filingKey, nameKey, withoutArticle } from '../../../src/language/filing';

describe('a filing key', () => {
  test('files numbers by value', () => {
    const titles = ['12 Angry Men', '9 Tales', '100 Years', '1,001 Nights'];
    expect(titles.toSorted((a, b) => compareFiling(filingKey(a), filingKey(b)))).toEqual([
      '9 Tales',
      '12 Angry Men',
      '100 Years',
      '1,001 Nights',
    ]);
  });

  test('is the reader’s own where they gave one, articles and all', () => {
    expect(filingKey('The A. B. C. Murders', { filing: 'ABC murders' })).toBe('abc murders');
    expect(filingKey('The Hobbit', { filing: 'The Hobbit' })).toBe('the hobbit');
    expect(filingKey('The Hobbit', { filing: '  ' })).toBe('hobbit');
  });

  test('takes the language from the first part of its tag, and English if none is given', () => {
    expect(filingKey('Le Grand Meaulnes', { language: 'fr-CA' })).toBe('grand meaulnes');
    expect(filingKey('Le Grand Meaulnes')).toBe('le grand meaulnes');
    expect(filingKey('The Sea', { language: 'constructor' })).toBe('the sea');
  });

  test('never comes out empty for a name that says something', () => {
    expect(filingKey('?')).toBe('?');
    expect(filingKey('The')).toBe('the');
    expect(filingKey('A')).toBe('a');
  });

  test('orders any names the same way round whichever is asked first', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), fc.string({ unit: 'grapheme' }), (a, b) => {
        const [left, right] = [filingKey(a), filingKey(b)];
        expect(compareFiling(left, right)).toBe(-compareFiling(right, left) || 0);
      }),
    );
  });
});

test('an article is a word of its own', () => {
  expect(withoutArticle('A-Z of Birds')).toBe('A-Z of Birds');
  expect(withoutArticle('A. A. Milne')).toBe('A. A. Milne');
  expect(withoutArticle('Another Country')).toBe('Another Country');
  expect(withoutArticle('“The Dead”')).toBe('Dead”');
});

describe('a name key', () => {
  test('is the same for names that are the same heading', () => {
    expect(nameKey('The Secret Garden', 'book')).toBe(nameKey('secret garden', 'book'));
    expect(nameKey('Pride & Prejudice', 'book')).toBe(nameKey('Pride and Prejudice', 'book'));
    expect(nameKey('Lewis, C. S.', 'person')).toBe(nameKey('C.S. Lewis', 'person'));
    expect(nameKey('Charlotte Brontë', 'person')).toBe(nameKey('charlotte bronte', 'person'));
  });

  test('differs for names that are not', () => {
    expect(nameKey('King, Jr.', 'person')).not.toBe(nameKey('Jr. King', 'person'));
    expect(nameKey('Emma', 'book')).not.toBe(nameKey('Emmas', 'book'));
    expect(nameKey('The Fox', 'person')).not.toBe(nameKey('Fox', 'person'));
  });
});
