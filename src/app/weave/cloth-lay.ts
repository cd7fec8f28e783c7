/** Where the threads of the cloth lie, and the outlines of its knots. Nothing here draws; screens fill in what it says. */
import { ENTRY_KINDS, type EntryKind } from '../../journal/records';
import type { ClothThread, ClothView, StrandShown } from '../../engine/weave-answers';

export const KINDS = ENTRY_KINDS.length;

/** The four quarters of a knot, and the kinds each holds. */
export const QUARTERS = ['note', 'quote', 'question', 'lesson'] as const;
export type Quarter = (typeof QUARTERS)[number];
export const QUARTER_KINDS: Record<Quarter, EntryKind[]> = {
  note: ['note'],
  quote: ['quote'],
  question: ['question'],
  lesson: ['lesson', 'assignment'],
};
export const QUARTER_SAYS: Record<Quarter, string> = {
  note: 'note',
  quote: 'quote',
  question: 'question',
  lesson: 'lesson idea',
};

/** Entries by quarter, from five counts by kind. */
export function quartersOf(counts: ArrayLike<number>, from = 0): [number, number, number, number] {
  const [note, quote, question, lesson, assignment] = [0, 1, 2, 3, 4].map(
    (kind) => counts[from + kind] ?? 0,
  ) as [number, number, number, number, number];
  return [note, quote, question, lesson + assignment];
}

export interface Row {
  theme: number;
  /** Middle of the thread, in pixels from the top of the first row. */
  y: number;
}

export interface Head {
  strand: StrandShown | undefined;
  y: number;
  /** The fold it closes, where it stands over an open one. */
  fold?: string;
}

interface Lay {
  rows: Row[];
  heads: Head[];
  height: number;
}

/** Rows one under another, with a line over each strand where themes lie in strands. */
export function layRows(
  { themes, strands }: Pick<ClothView, 'themes' | 'strands'>,
  inStrands: boolean,
  rowHigh: number,
  headHigh: number,
): Lay {
  const byId = new Map(strands.strands.map((strand) => [strand.id, strand]));
  const rows: Row[] = [];
  const heads: Head[] = [];
  let y = 4;
  let last: string | undefined | null = null;
  themes.forEach((theme, at) => {
    // A closed fold is named by its own row.
    const group = theme.folded ? null : theme.strand;
    if (inStrands && group !== last && group !== null) {
      heads.push({
        strand: theme.strand === undefined ? undefined : byId.get(theme.strand),
        y,
        ...(theme.fold ? { fold: theme.fold.key } : {}),
      });
      y += headHigh;
    }
    last = group;
    rows.push({ theme: at, y: y + rowHigh / 2 });
    y += rowHigh;
  });
  return { rows, heads, height: y + 6 };
}

/** The rows whose middles lie between two heights, as indexes: first, and one past the last. */
export function rowsBetween(rows: readonly Row[], top: number, bottom: number): [number, number] {
  const after = (limit: number): number => {
    let [low, high] = [0, rows.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (rows[middle]!.y < limit) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  return [after(top), after(bottom)];
}

/** Half the diagonal of a lozenge of one entry, in pixels; it grows with the square root of entries up to `most`, and is never too small to see. */
export function lozengeScale(counts: ArrayLike<number>, most: number): number {
  let largest = 1;
  for (let at = 0; at < counts.length; at += KINDS) {
    largest = Math.max(largest, ...quartersOf(counts, at));
  }
  return Math.min(most / 2, Math.max(2.7, most / Math.sqrt(largest)));
}

const LOZENGE_GAP = 0.5;
const STEPS = [
  [0, -1],
  [1, 0],
  [0, 1],
  [-1, 0],
] as const;

const round = (value: number): number => Math.round(value * 10) / 10;

function lozenge(x: number, y: number, quarter: number, half: number): string {
  const [dx, dy] = STEPS[quarter]!;
  const [cx, cy] = [x + dx * (half + LOZENGE_GAP), y + dy * (half + LOZENGE_GAP)];
  return `M${round(cx)} ${round(cy - half)}l${round(half)} ${round(half)} ${round(-half)} ${round(half)} ${round(-half)} ${round(-half)}z`;
}

/** The outline of a knot: a lozenge for each quarter that holds something. */
export function knotPath(
  x: number,
  y: number,
  quarters: readonly number[],
  scale: number,
  most: number,
): string {
  return quarters
    .map((count, quarter) =>
      count === 0 ? '' : lozenge(x, y, quarter, Math.min(most, scale * Math.sqrt(count))),
    )
    .join('');
}

/** The open lozenge of a quarter that is looked for and missing; it is as large as the knot it belongs to. */
export function openPath(
  x: number,
  y: number,
  quarter: number,
  knot: readonly number[],
  scale: number,
  most: number,
): string {
  const largest = Math.max(1, ...knot);
  return lozenge(
    x,
    y,
    quarter,
    Math.max(3.2, Math.min(most - 0.6, scale * Math.sqrt(largest) * 0.9)),
  );
}

/** Dash patterns of threads in ink, for strands past the five dyes. */
const INK_LINES = ['9 3 2 3 2 3', '15 5', '1.5 6', '5 2 5 6', '2 2 10 2'] as const;
/** Dash patterns of the dyes: walnut is double and indigo plain. */
const DYE_LINES = ['', '', '1.6 4.4', '8 4', '10 3 2 3'] as const;
const DYE_NAMES = ['walnut', 'indigo', 'woad', 'weld', 'madder'] as const;

interface ThreadLook {
  /** Colours as tokens: for marks and for words. */
  thread: string;
  word: string;
  dash: string;
  double: boolean;
  /** What the line is called, for a key. */
  says: string;
}

const DYE_SAYS = ['double line', 'plain line', 'dotted line', 'dashed line', 'dash and dot'];

/** How a strand's threads look. Without a strand: thin ink. */
export function lookOf(strand: Pick<StrandShown, 'dye' | 'line'> | undefined): ThreadLook {
  if (strand?.dye !== undefined) {
    const name = DYE_NAMES[strand.dye] ?? 'indigo';
    return {
      thread: `var(--thread-${name})`,
      word: `var(--dye-${name})`,
      dash: DYE_LINES[strand.dye] ?? '',
      double: strand.dye === 0,
      says: DYE_SAYS[strand.dye] ?? '',
    };
  }
  const ink = { thread: 'var(--ink-2)', word: 'var(--ink-2)', double: false };
  if (!strand) return { ...ink, dash: '', says: 'thin line' };
  return { ...ink, dash: INK_LINES[strand.line % INK_LINES.length]!, says: 'broken line in ink' };
}

/** How far the weft keeps from a warp it passes under. */
const UNDER = 6;

/**
 * A weft from `from` to `to`: over the warp where there is a knot, under it where there is none. `crossings` are the middles of the warps it meets,
 * with whether there is a knot.
 */
export function weftPath(
  from: number,
  to: number,
  y: number,
  crossings: Iterable<{ x: number; knot: boolean }>,
): string {
  let path = '';
  let start = from;
  for (const { x, knot } of crossings) {
    if (knot) continue;
    if (x - UNDER > start) path += `M${round(start)} ${y}H${round(x - UNDER)}`;
    start = x + UNDER;
  }
  if (to > start) path += `M${round(start)} ${y}H${round(to)}`;
  return path;
}

/** Book years as they are told under the warps: the same year again is told short. */
export function yearsTold(books: readonly Pick<ClothThread, 'year'>[]): string[] {
  return books.map(({ year }, at) => {
    if (year === undefined) return '';
    const again = books[at - 1]?.year === year;
    return again ? `’${String(year).slice(-2)}` : String(year);
  });
}
