/** How people talk in a circle: the usual lengths, and what to do when there are many. */
import type { Level } from '../journal/records';

/** People taken for granted where a circle's size is not known: 6 to 8 are preferred (Krueger 2002). */
export const USUAL_SIZE = 7;

/**
 * Above this, offer talk in pairs: eight is about the largest for a study group (bostonleadershipbuilders.com),
 * and groups of ten talk in serial monologue (Fay, Garrod & Carletta 2000).
 */
const LARGEST_SINGLE_CIRCLE = 8;

/**
 * Usual lengths of talk. No authority gives minutes by level: opening answers take under a minute a person
 * (Krueger & Casey, from memory); the rest is common practice, set so that an hour holds four or five questions.
 */
export const TALK = {
  /** After a passage is read: a pause and first reactions. Common practice. */
  quoteMinutes: 3,
  /** After a leader's note is told. Common practice. */
  noteMinutes: 2,
  /** An activity with no steps written. Common practice. */
  lessonMinutes: 12,
  lessonStartMinutes: 2,
  stepMinutes: 3,
  /** Wait after a question, and before taking up an answer: 3 seconds or more (Rowe 1974, 1986). */
  waitSeconds: 3,
  /**
   * Minutes of talk back and forth whatever the number of people, and seconds for one turn of each voice, by the
   * level of the question. Common practice.
   */
  question: {
    remember: { minutes: 1, secondsAVoice: 6 },
    understand: { minutes: 2, secondsAVoice: 18 },
    apply: { minutes: 3, secondsAVoice: 20 },
    analyse: { minutes: 4, secondsAVoice: 30 },
    evaluate: { minutes: 3, secondsAVoice: 25 },
    create: { minutes: 4, secondsAVoice: 30 },
  } satisfies Record<Level, { minutes: number; secondsAVoice: number }>,
} as const;

/**
 * Voices heard in all on one question. Past eight people each one more counts half: few speak in a large group
 * (four or five students do about 75% of the talk in classes under 40, Ledlow), and pairs share the rest.
 */
export function voicesIn(size: number): number {
  const single = Math.min(size, LARGEST_SINGLE_CIRCLE);
  return single + (size - single) / 2;
}

interface PairStep {
  /** Whole minutes of talk in pairs before talk by all. */
  minutes: number;
  text: string;
}

/**
 * A step to offer for a circle of more than eight, or undefined. Half a minute to a minute alone, 3 to 5 minutes
 * in pairs, then all together, once or twice a session (think-pair-share, Lyman 1992, as cited by fbsbl.info).
 */
export function pairStep(size: number | undefined): PairStep | undefined {
  if (size === undefined || size <= LARGEST_SINGLE_CIRCLE) return undefined;
  return {
    minutes: 4,
    text: `With ${size} people, let one question be talked over in pairs first: a minute alone, three in pairs, then everyone.`,
  };
}
