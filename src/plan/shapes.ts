/** The two shapes of a guide: their parts, how the minutes are shared out, and what suits each part. */
import type { EntryKind, Level, Shape } from '../journal/records';

export interface PartRequest {
  name: string;
  /** Minutes of the part. */
  minutes: number;
  /** The share of the part's minutes wished for each kind, 0 to 1 each; what is left over is free. */
  want?: Partial<Record<EntryKind, number>>;
  /** A line for the leader on what the part is for. */
  aim?: string;
}

interface PartShape {
  name: string;
  aim: string;
  want: Partial<Record<EntryKind, number>>;
  /** How well each kind suits the part, 0 to 1. A question's suit is multiplied by that of its level. */
  kinds: Record<EntryKind, number>;
  levels: Record<Level, number>;
}

const levels = (
  remember: number,
  understand: number,
  apply: number,
  analyse: number,
  evaluate: number,
  create: number,
): Record<Level, number> => ({ remember, understand, apply, analyse, evaluate, create });

/*
 * What suits a part. Sources: an opening question is accessible, core ones are about the text, closing ones tie
 * understanding together or to life (Roberts & Billings; Israel 2002, from memory); evidence from the text comes
 * first and issues beyond it after (guidelines of a great-books group, nwgreatbooks.com). The numbers are ours.
 */
const DISCUSSION: readonly PartShape[] = [
  {
    name: 'Opening',
    aim: 'An easy way in, so that every voice is heard early.',
    want: { question: 0.7, quote: 0.3 },
    kinds: { note: 0.2, quote: 0.7, question: 1, lesson: 0.2, assignment: 0 },
    levels: levels(0.8, 1, 0.9, 0.5, 0.4, 0.3),
  },
  {
    name: 'Close reading',
    aim: 'What the words say and mean, with the page open.',
    want: { quote: 0.3, question: 0.7 },
    kinds: { note: 0.4, quote: 1, question: 1, lesson: 0.3, assignment: 0 },
    levels: levels(0.7, 1, 0.6, 1, 0.6, 0.4),
  },
  {
    name: 'Connections',
    aim: 'From this page to other books, and beyond them.',
    want: { question: 0.8, quote: 0.2 },
    kinds: { note: 0.5, quote: 0.7, question: 1, lesson: 0.5, assignment: 0.2 },
    levels: levels(0.3, 0.5, 0.9, 1, 1, 0.9),
  },
  {
    name: 'Closing',
    aim: 'Gather what was said, and end on time.',
    want: { question: 0.6, quote: 0.2, assignment: 0.2 },
    kinds: { note: 0.3, quote: 0.7, question: 1, lesson: 0.1, assignment: 0.8 },
    levels: levels(0.2, 0.5, 0.9, 0.5, 1, 0.9),
  },
];

/*
 * The parts of a lesson follow the steps common to lesson-design lists (Hunter's set, input, practice, check,
 * closure; Gagne, Briggs & Wager 1988). Such lists differ in number and order, so parts can be changed.
 */
const LESSON: readonly PartShape[] = [
  {
    name: 'Hook',
    aim: 'Something seen, held or wondered at.',
    want: { lesson: 0.5, question: 0.3, quote: 0.2 },
    kinds: { note: 0.4, quote: 0.8, question: 0.9, lesson: 0.8, assignment: 0 },
    levels: levels(0.9, 1, 0.7, 0.4, 0.4, 0.4),
  },
  {
    name: 'Teaching',
    aim: 'The new thing, shown and explained.',
    want: { lesson: 0.6, quote: 0.2, note: 0.1, question: 0.1 },
    kinds: { note: 0.6, quote: 0.9, question: 0.7, lesson: 1, assignment: 0 },
    levels: levels(0.8, 1, 0.7, 0.8, 0.4, 0.3),
  },
  {
    name: 'Practice',
    aim: 'Doing it together, then alone.',
    want: { lesson: 0.4, assignment: 0.3, question: 0.3 },
    kinds: { note: 0.1, quote: 0.5, question: 0.9, lesson: 1, assignment: 0.9 },
    levels: levels(0.4, 0.7, 1, 1, 0.8, 1),
  },
  {
    name: 'Check',
    aim: 'Has it been understood?',
    want: { question: 1 },
    kinds: { note: 0, quote: 0.2, question: 1, lesson: 0.2, assignment: 0.3 },
    levels: levels(1, 1, 0.8, 0.6, 0.5, 0.4),
  },
  {
    name: 'Closing',
    aim: 'What to take away, and what to do next.',
    want: { question: 0.5, assignment: 0.5 },
    kinds: { note: 0.3, quote: 0.6, question: 0.9, lesson: 0.1, assignment: 1 },
    levels: levels(0.4, 0.7, 0.9, 0.5, 1, 0.9),
  },
];

const SHAPES: Record<Shape, readonly PartShape[]> = { discussion: DISCUSSION, lesson: LESSON };

/*
 * Minutes of a discussion: opening, core, closing and slack for a late start, for meetings of 45, 60 and 90
 * minutes. No authority was found for these; they are our defaults and can be changed. The core is shared
 * between close reading and connections as four to three, so that the text comes first.
 */
const CLOSE_READING_OF_CORE = 4 / 7;
const DISCUSSION_KNOTS = [
  { minutes: 45, opening: 5, core: 30, closing: 5 },
  { minutes: 60, opening: 7, core: 42, closing: 6 },
  { minutes: 90, opening: 10, core: 65, closing: 8 },
] as const;

/** Shares of a lesson's minutes, in the order of its parts; ours. About 7% is left as slack. */
const LESSON_SHARES = [0.11, 0.31, 0.31, 0.11, 0.09];

/**
 * The parts of a guide of so many minutes (1 to 600, whole). Their minutes are whole, at least 1 each where there
 * are that many, and add up to a little less than the meeting: the rest is slack, so that the closing is kept.
 */
export function partsFor(shape: Shape, minutes: number): PartRequest[] {
  const wished =
    shape === 'discussion'
      ? discussionMinutes(minutes)
      : LESSON_SHARES.map((share) => share * minutes);
  const shared = wholeMinutes(wished, minutes);
  return SHAPES[shape].map(({ name, want, aim }, index) => ({
    name,
    minutes: shared[index]!,
    want: { ...want },
    aim,
  }));
}

/**
 * A guide's own parts for another length. Parts that were the usual ones become the usual ones; others keep their
 * names and their proportions, and their whole minutes add up as near as rounding allows.
 */
export function scaledParts(
  shape: Shape,
  parts: readonly PartRequest[],
  from: number,
  to: number,
): PartRequest[] {
  const usual = partsFor(shape, from);
  const asUsual =
    usual.length === parts.length &&
    usual.every(({ name, minutes }, p) => {
      const part = parts[p]!;
      return part.name === name && part.minutes === minutes;
    });
  if (asUsual) return partsFor(shape, to);
  const wished = parts.map(({ minutes }) => (minutes * to) / Math.max(from, 1));
  const shared = wholeMinutes(wished, Math.max(to, 1));
  return parts.map((part, p) => ({ ...part, minutes: shared[p]! }));
}

function discussionMinutes(minutes: number): number[] {
  const { opening, core, closing } = between(minutes);
  return [opening, core * CLOSE_READING_OF_CORE, core * (1 - CLOSE_READING_OF_CORE), closing];
}

/** Between two rows of the table by straight line; outside it, in the proportions of the nearest row. */
function between(minutes: number): { opening: number; core: number; closing: number } {
  const [short, middle, long] = DISCUSSION_KNOTS;
  if (minutes <= short.minutes || minutes >= long.minutes) {
    const row = minutes <= short.minutes ? short : long;
    const by = minutes / row.minutes;
    return { opening: row.opening * by, core: row.core * by, closing: row.closing * by };
  }
  const [low, high] = minutes <= middle.minutes ? [short, middle] : [middle, long];
  const way = (minutes - low.minutes) / (high.minutes - low.minutes);
  const at = (name: 'opening' | 'core' | 'closing'): number =>
    low[name] + way * (high[name] - low[name]);
  return { opening: at('opening'), core: at('core'), closing: at('closing') };
}

/** Whole minutes by largest remainders, so that the rounded parts keep the rounded total. */
export function wholeMinutes(wished: readonly number[], atMost: number): number[] {
  const sum = wished.reduce((total, part) => total + part, 0);
  const total = Math.min(Math.floor(atMost), Math.round(sum));
  const whole = wished.map(Math.floor);
  const byRemainder = wished.map((_, index) => index);
  byRemainder.sort((a, b) => wished[b]! - whole[b]! - (wished[a]! - whole[a]!) || a - b);
  let left = total - whole.reduce((held, part) => held + part, 0);
  for (const index of byRemainder) {
    if (left <= 0) break;
    whole[index]! += 1;
    left -= 1;
  }
  for (let index = 0; index < whole.length && total >= whole.length; index += 1) {
    if (whole[index] === 0) {
      whole[index] = 1;
      whole[whole.indexOf(Math.max(...whole))]! -= 1;
    }
  }
  return whole;
}

/** What an unknown part (one the leader named) thinks of anything. */
const UNKNOWN_PART = 0.6;
/** A question whose level nobody has set. */
const UNKNOWN_LEVEL = 0.7;

/**
 * How well an entry of a kind and level suits a part, 0 (it may not stand there) to 1. Work that is done `elsewhere` is
 * nothing to talk about: a lesson sets it in its closing, and in a discussion it is the leader who puts it in.
 */
export function suits(
  shape: Shape,
  part: string,
  kind: EntryKind,
  level?: Level,
  elsewhere = false,
): number {
  const found = SHAPES[shape].find(({ name }) => name === part);
  if (elsewhere && (shape === 'discussion' || found)) return found === LESSON.at(-1) ? 1 : 0;
  if (!found) return UNKNOWN_PART;
  if (kind !== 'question') return found.kinds[kind];
  return found.kinds.question * (level ? found.levels[level] : UNKNOWN_LEVEL);
}

/** The shares of kinds usually wished for in a part; empty for a part the leader named. */
export function wantOf(shape: Shape, part: string): Partial<Record<EntryKind, number>> {
  return SHAPES[shape].find(({ name }) => name === part)?.want ?? {};
}
