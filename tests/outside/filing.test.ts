import { describe, expect, test } from 'vitest';
import { compareFiling, filingKey, type FilingOptions } from '../../src/language/filing';

const filed = (names: string[], options?: FilingOptions): string[] =>
  names.toSorted((a, b) => compareFiling(filingKey(a, options), filingKey(b, options)));

// Source of the order: Library of Congress, Subject Cataloging Manual: Shelflisting G 100; Classification F 60.
describe('filing by the rules of the Library of Congress', () => {
  // Source of the article rule: US Copyright Office, Compendium (3rd ed.), 2309.13(A)(1).
  test('titles lose an initial article', () => {
    expect(filed(['The Hobbit', 'A Wrinkle in Time', 'An Ember'])).toEqual([
      'An Ember',
      'The Hobbit',
      'A Wrinkle in Time',
    ]);
  });

  // Same source: each of these articles is listed for its language.
  test.each([
    ['es', 'El sombrero', 'sombrero'],
    ['es', 'Las meninas', 'meninas'],
    ['fr', 'L’Étranger', 'etranger'],
    ['fr', "L'Avare", 'avare'],
    ['fr', 'Les misérables', 'miserables'],
    ['de', 'Die Verwandlung', 'verwandlung'],
    ['de', 'Einer von uns', 'von uns'],
  ])('in %s “%s” files as %s', (language, title, key) => {
    expect(filingKey(title, { language })).toBe(key);
  });

  test('an article of another language is no article: Die Hard is under D in English', () => {
    expect(filingKey('Die Hard')).toBe('die hard');
  });

  // Source: Princeton University Library's list of initial articles, which warns of the French preposition.
  test('the French preposition à is not an article', () => {
    expect(filingKey('À la recherche du temps perdu', { language: 'fr' })).toBe(
      'a la recherche du temps perdu',
    );
  });

  test('abbreviations file as written: St. comes after Ss', () => {
    expect(filed(['St. Ives', 'Sstory'])).toEqual(['Sstory', 'St. Ives']);
  });

  test('digits come before letters', () => {
    expect(filed(['A', '1990'])).toEqual(['1990', 'A']);
  });

  test('diacritics are ignored: Hände files as Hande', () => {
    expect(filingKey('Hände')).toBe(filingKey('Hande'));
  });

  test('the article of a place counts: El Paso is under E', () => {
    expect(filingKey('El Paso', { language: 'es', kind: 'name' })).toBe('el paso');
  });

  test('word by word, nothing before something, hyphens as spaces', () => {
    expect(filed(['Newark', 'New York', 'New-born', 'New'])).toEqual([
      'New',
      'New-born',
      'New York',
      'Newark',
    ]);
  });
});
