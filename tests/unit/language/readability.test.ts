import { describe, expect, test } from 'vitest';
import { countText, syllablesOf } from '../../../src/language/readability';

describe('counting a text', () => {
  test('ends a sentence with its mark or its block, and not with a title or an initial', () => {
    expect(countText('Mr. Darcy came. "Well!" he said.').sentences).toBe(3);
    expect(countText('C. S. Lewis wrote it. J. wept.').sentences).toBe(2);
    expect(countText('# A heading\n\nOne sentence only').sentences).toBe(2);
    expect(countText('He paid 3.50 for it… Truly?').sentences).toBe(2);
  });

  test('counts the words that are read, not the marks about them', () => {
    expect(countText('A **bold** [word](https://example.org/long/address)').words).toBe(3);
  });

  test('of nothing is nothing', () => {
    expect(countText('')).toEqual({ words: 0, sentences: 0, syllables: 0 });
    expect(countText('* * *')).toEqual({ words: 0, sentences: 0, syllables: 0 });
  });
});

test('a figure is one syllable and every word has at least one', () => {
  expect(syllablesOf('1,984')).toBe(1);
  expect(syllablesOf('hmm')).toBe(1);
  expect(syllablesOf('forgiveness')).toBe(3);
});
