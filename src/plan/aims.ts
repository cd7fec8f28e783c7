/** How many minutes of a guide are aimed at each level of thinking, unless the leader says otherwise. */
import { LEVELS, type Level, type Shape } from '../journal/records';
import { wholeMinutes } from './shapes';

/*
 * Shares of the time that carries a level; ours. They lean away from what studies of recitation found teachers
 * do: about 60% of questions asked for recall (Gall 1970, from memory), and mostly factual ones were heard from
 * 1893 to 1963 (Hoetker & Ahlbrand 1968, abstract). A discussion centres on what a text means.
 */
const SHARES: Record<Shape, Record<Level, number>> = {
  discussion: {
    remember: 0.06,
    understand: 0.22,
    apply: 0.15,
    analyse: 0.28,
    evaluate: 0.2,
    create: 0.09,
  },
  lesson: {
    remember: 0.15,
    understand: 0.25,
    apply: 0.25,
    analyse: 0.15,
    evaluate: 0.1,
    create: 0.1,
  },
};

/** Passages, notes and activities take minutes and carry no level; about this much of a meeting is questions. */
const QUESTIONS_OF_MEETING: Record<Shape, number> = { discussion: 0.65, lesson: 0.4 };

/** Minutes aimed at for each level in a meeting of so many minutes: whole, 0 or more. */
export function aimsFor(shape: Shape, minutes: number): Record<Level, number> {
  const spoken = minutes * QUESTIONS_OF_MEETING[shape];
  const shared = wholeMinutes(
    LEVELS.map((level) => SHARES[shape][level] * spoken),
    minutes,
  );
  return Object.fromEntries(LEVELS.map((level, index) => [level, shared[index]!])) as Record<
    Level,
    number
  >;
}
