import type { Pace } from '../journal/records';

type GradeRates = Readonly<{ fall?: number; winter: number; spring: number }>;

/**
 * Words a minute. Adults: Brysbaert 2019, Journal of Memory and Language 109:104047 (silent English non-fiction and fiction,
 * and aloud). Grades 1 to 6: words read correctly aloud, unpractised, 50th percentile, Hasbrouck & Tindal 2017, BRT
 * Technical Report 1702. Audiobook: within the 150 to 160 quoted by volunteer readers, common practice.
 */
export const READING_RATES = {
  silent: { 'non-fiction': 238, fiction: 260 },
  aloud: 183,
  audiobook: 155,
  grades: {
    1: { winter: 29, spring: 60 },
    2: { fall: 50, winter: 84, spring: 100 },
    3: { fall: 83, winter: 97, spring: 112 },
    4: { fall: 94, winter: 120, spring: 133 },
    5: { fall: 121, winter: 133, spring: 146 },
    6: { fall: 132, winter: 145, spring: 146 },
  } as Readonly<Record<1 | 2 | 3 | 4 | 5 | 6, GradeRates>>,
} as const;

/**
 * Words a minute a circle reads aloud at; adults where nothing is known. A rate set by hand counts before any table. A grade
 * without a season is taken in winter, the middle of the year; grade 1 in the fall, which was not measured, at its winter
 * rate; a grade outside 1 to 6 at the nearest of them.
 */
export function aloudWpm(pace: Pace | undefined): number {
  if (pace?.wordsPerMinute && pace.wordsPerMinute > 0) return pace.wordsPerMinute;
  if (pace?.readers !== 'grade' || !Number.isFinite(pace.grade)) return READING_RATES.aloud;
  const grade = Math.min(
    6,
    Math.max(1, Math.floor(pace.grade ?? 1)),
  ) as keyof typeof READING_RATES.grades;
  const rates: GradeRates = READING_RATES.grades[grade];
  return rates[pace.season ?? 'winter'] ?? rates.winter;
}

/** Minutes, unrounded, to read `words` aloud at a circle's pace. */
export function minutesAloud(words: number, pace?: Pace): number {
  return words / aloudWpm(pace);
}

/** Minutes, unrounded, for an adult to read `words` silently. */
export function minutesSilent(words: number, of: keyof typeof READING_RATES.silent): number {
  return words / READING_RATES.silent[of];
}
