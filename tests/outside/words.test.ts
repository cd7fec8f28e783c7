import { describe, expect, test } from 'vitest';
import { segmentedTokens, tokens } from '../../src/language/tokens';

// Source: UAX #29's example, as counted in the README of unicode-segmentation and by Intl.Segmenter.
describe.each([
  ['straight', `The quick ("brown") fox can't jump 32.3 feet, right?`, "can't"],
  ['curly', `The quick (“brown”) fox can’t jump 32.3 feet, right?`, 'can’t'],
])('the example of UAX #29 with %s quotation marks', (_, text, cannot) => {
  const expected = ['The', 'quick', 'brown', 'fox', cannot, 'jump', '32.3', 'feet', 'right'];

  test('has nine words, by the quick way and by the segmenter', () => {
    expect(tokens(text).map((token) => token.text)).toEqual(expected);
    expect(segmentedTokens(text).map((token) => token.text)).toEqual(expected);
  });

  test('has 23 segments in the segmenter this rests on', () => {
    expect([...new Intl.Segmenter('en', { granularity: 'word' }).segment(text)]).toHaveLength(23);
  });
});
