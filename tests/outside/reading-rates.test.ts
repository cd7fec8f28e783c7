import { describe, expect, test } from 'vitest';
import {
  READING_RATES,
  aloudWpm,
  minutesAloud,
  minutesSilent,
} from '../../src/language/reading-time';
import { minutesFor } from '../../src/plan/minutes';

/** A passage of so many words. */
const passage = (words: number): string =>
  Array.from({ length: words }, (_, k) => `word${k}`).join(' ');

// Brysbaert 2019, Journal of Memory and Language 109:104047, abstract: 190 studies of silent reading, 77 of reading
// aloud. The minutes for 75,000 words are those of trade.md B29, worked out from the published rates.
describe('adults, after Brysbaert 2019', () => {
  test('75,000 words take the published rates silently and aloud', () => {
    expect(minutesSilent(75_000, 'non-fiction')).toBeCloseTo(315.13, 2);
    expect(minutesSilent(75_000, 'fiction')).toBeCloseTo(288.46, 2);
    expect(minutesAloud(75_000)).toBeCloseTo(409.84, 2);
    expect(75_000 / READING_RATES.audiobook).toBeCloseTo(483.87, 2);
  });

  test('a passage of 1,830 words takes ten minutes to read out, besides the talk', () => {
    const short = minutesFor({ kind: 'quote', text: passage(183) });
    const long = minutesFor({ kind: 'quote', text: passage(183 + 1830) });
    expect(long.minutes - short.minutes).toBe(10);
    expect(long.how).toContain('183 a minute (Brysbaert 2019)');
  });
});

// Hasbrouck & Tindal 2017, BRT Technical Report 1702, 50th percentile, words correct a minute: fall, winter, spring
// (seen on a page that reproduces the table).
const FLUENCY: [grade: number, fall: number | undefined, winter: number, spring: number][] = [
  [1, undefined, 29, 60],
  [2, 50, 84, 100],
  [3, 83, 97, 112],
  [4, 94, 120, 133],
  [5, 121, 133, 146],
  [6, 132, 145, 146],
];

describe('children, after Hasbrouck & Tindal 2017', () => {
  test.each(FLUENCY)(
    'grade %i reads aloud at the published rate in each season',
    (grade, fall, winter, spring) => {
      if (fall !== undefined)
        expect(aloudWpm({ readers: 'grade', grade, season: 'fall' })).toBe(fall);
      expect(aloudWpm({ readers: 'grade', grade, season: 'winter' })).toBe(winter);
      expect(aloudWpm({ readers: 'grade', grade, season: 'spring' })).toBe(spring);
    },
  );

  test('ten minutes of reading aloud for grade 3 in spring are 1,120 words, and the source is said', () => {
    const pace = { readers: 'grade', grade: 3, season: 'spring' } as const;
    const short = minutesFor({ kind: 'quote', text: passage(112) }, pace);
    const long = minutesFor({ kind: 'quote', text: passage(112 + 1120) }, pace);
    expect(long.minutes - short.minutes).toBe(10);
    expect(long.how).toContain('Hasbrouck & Tindal 2017');
  });
});

// Rowe 1974, 1986, as reported by later writers: three seconds of wait or more.
test('each voice asked for adds three seconds of waiting to its turn', () => {
  const question = { kind: 'question', text: 'Why?', level: 'understand' } as const;
  const four = minutesFor(question, undefined, 4).minutes;
  const eight = minutesFor(question, undefined, 8).minutes;
  // Four more voices of 18 + 3 seconds are 84 seconds; minutes are whole.
  expect(Math.abs(eight - four - 84 / 60)).toBeLessThanOrEqual(1);
  expect(minutesFor(question, undefined, 8).how).toContain('3 seconds of waiting');
});
