import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  countWords,
  fold,
  segmentedTokens,
  STOP_WORDS,
  tokens,
} from '../../../src/language/tokens';

/** Text thick with the marks that join and part words. */
const marked = fc
  .array(
    fc.constantFrom(
      ...'aZé7_09',
      "'",
      '’',
      '‘',
      '“',
      '.',
      ',',
      ':',
      ';',
      '-',
      '–',
      ' ',
      '\n',
      '/',
      '(',
      '&',
    ),
    {
      maxLength: 30,
    },
  )
  .map((parts) => parts.join(''));

describe('tokens', () => {
  test('cut text of plain letters just as the segmenter does', () => {
    fc.assert(
      fc.property(marked, (text) => {
        expect(tokens(text)).toEqual(segmentedTokens(text));
      }),
      { numRuns: 2000 },
    );
  });

  test('cut any text just as the segmenter does', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 40 }), (text) => {
        expect(tokens(text)).toEqual(segmentedTokens(text));
      }),
      { numRuns: 500 },
    );
  });

  test('stand where they say they stand, in order and apart', () => {
    fc.assert(
      fc.property(fc.oneof(marked, fc.string({ unit: 'grapheme' })), (text) => {
        let last = 0;
        for (const token of tokens(text)) {
          expect(text.slice(token.start, token.end)).toBe(token.text);
          expect(token.start).toBeGreaterThanOrEqual(last);
          last = token.end;
        }
      }),
    );
  });

  test('part words of other scripts', () => {
    expect(tokens('Война и мир').map(({ folded }) => folded)).toEqual(['воина', 'и', 'мир']);
  });

  test('are cut in one going over where marks alone go on and on', () => {
    const began = performance.now();
    expect(tokens(`a ${'_'.repeat(100_000)} b __c`).map(({ text }) => text)).toEqual([
      'a',
      'b',
      '__c',
    ]);
    expect(performance.now() - began).toBeLessThan(5000);
  });

  test('are counted', () => {
    expect(countWords('Don’t tell—she said—until the 3rd.')).toBe(7);
    expect(countWords('… — !')).toBe(0);
  });
});

describe('fold', () => {
  test('makes accents, case and curly apostrophes one', () => {
    expect(fold('Hände')).toBe('hande');
    expect(fold('Brontë’s')).toBe("bronte's");
    expect(fold('Encyclopædia')).toBe('encyclopaedia');
    expect(fold('Straße')).toBe('strasse');
  });

  test('done twice changes nothing', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        expect(fold(fold(text))).toBe(fold(text));
      }),
    );
  });
});

test('stop words are folded, and words of substance are not among them', () => {
  for (const word of STOP_WORDS) expect(fold(word)).toBe(word);
  for (const word of ['love', 'god', 'war', 'good', 'mother', 'think'])
    expect(STOP_WORDS.has(word)).toBe(false);
});
