import { describe, expect, test } from 'vitest';
import { countText, fleschEase, kincaidGrade } from '../../src/language/readability';
import {
  aloudWpm,
  minutesAloud,
  minutesSilent,
  READING_RATES,
} from '../../src/language/reading-time';

// Formulas from counts: Flesch 1948, J. Applied Psychology 32:221-233; Kincaid et al. 1975, RBR 8-75.
describe('readability from counts', () => {
  // Source: the tests of textstat, recomputed.
  test('5 words, 1 sentence, 7 syllables', () => {
    const counts = { words: 5, sentences: 1, syllables: 7 };
    expect(fleschEase(counts)).toBeCloseTo(83.32, 2);
    expect(kincaidGrade(counts)).toBeCloseTo(2.88, 2);
  });

  // Source: sentences given with these counts in encyclopaedia articles, from memory, recomputed by the formulas.
  test.each([
    [6, 1, 6, 116.145, -1.45],
    [13, 1, 24, 37.455, 11.265],
  ])('%i words, %i sentence, %i syllables', (words, sentences, syllables, ease, grade) => {
    expect(fleschEase({ words, sentences, syllables })).toBeCloseTo(ease, 2);
    expect(kincaidGrade({ words, sentences, syllables })).toBeCloseTo(grade, 2);
  });

  // Source: figures for a book in words of one syllable, quoted from an encyclopaedia at movingowee.blogspot, recomputed.
  test('5.7 words a sentence at 1.02 syllables a word is grade -1.33, and the floor is -3.40', () => {
    expect(kincaidGrade({ words: 570, sentences: 100, syllables: 581.4 })).toBeCloseTo(-1.33, 2);
    expect(kincaidGrade({ words: 1, sentences: 1, syllables: 1 })).toBeCloseTo(-3.4, 2);
  });
});

// The sentences of the counts above. Words and sentences must be exact; syllables by rule are held to one in six.
test.each([
  ['Cool dogs wear da sunglasses.', 5, 7],
  ['The cat sat on the mat.', 6, 6],
  ['The Australian platypus is seemingly a hybrid of a mammal and reptilian creature.', 13, 24],
])('“%s” is counted', (text, words, syllables) => {
  const counted = countText(text);
  expect(counted).toMatchObject({ words, sentences: 1 });
  expect(Math.abs(counted.syllables - syllables) / syllables).toBeLessThanOrEqual(1 / 6);
});

// Source of the rates: Brysbaert 2019, J. Memory and Language 109:104047; 155 is the middle of a quoted 150 to 160.
test('75,000 words take the published rates', () => {
  expect(minutesSilent(75_000, 'non-fiction')).toBeCloseTo(315.13, 2);
  expect(minutesSilent(75_000, 'fiction')).toBeCloseTo(288.46, 2);
  expect(minutesAloud(75_000)).toBeCloseTo(409.84, 2);
  expect(75_000 / READING_RATES.audiobook).toBeCloseTo(483.87, 2);
});

// Source: Hasbrouck & Tindal 2017, BRT Technical Report 1702, 50th percentile, as reproduced on a third-party page.
test.each([
  [1, undefined, 29, 60],
  [2, 50, 84, 100],
  [3, 83, 97, 112],
  [4, 94, 120, 133],
  [5, 121, 133, 146],
  [6, 132, 145, 146],
])('grade %i reads aloud at the published norms', (grade, fall, winter, spring) => {
  const at = (season: 'fall' | 'winter' | 'spring'): number =>
    aloudWpm({ readers: 'grade', grade, season });
  if (fall !== undefined) expect(at('fall')).toBe(fall);
  expect([at('winter'), at('spring')]).toEqual([winter, spring]);
});
