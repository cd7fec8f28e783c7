/**
 * The composer against HiGHS, an independent solver of integer programmes (Huangfu & Hall 2018). The programme is
 * written here from the formula documented at the top of src/plan/worth.ts and shares no code with it, so that it
 * checks the formula as well as the search. COMPOSE_CASES sets how many cases are tried; 500 is usual.
 */
import loadHighs from 'highs';
import { beforeAll, describe, expect, test } from 'vitest';
import { LEVELS, type EntryKind } from '../../src/journal/records';
import { compose, type Candidate, type PlanRequest } from '../../src/plan/compose';
import { suits } from '../../src/plan/shapes';
import type { Effort } from '../../src/plan/solve';
import { randomCandidates, request, seeded } from '../unit/plan/cases';

const CASES = Number(process.env['COMPOSE_CASES'] ?? 500);
const COVER = [4, 2, 1];
const LEVEL = [0.6, 0.3];
const MIX = 0.5;
const TURN = 1;
const SAME = 3;
const ALIKE = 0.3;

let highs: Awaited<ReturnType<typeof loadHighs>>;
beforeAll(async () => {
  highs = await loadHighs();
});

interface Programme {
  objective: string[];
  rows: string[];
  bounds: string[];
  binaries: string[];
}

const plus = (coefficient: number, name: string): string =>
  `${coefficient < 0 ? '-' : '+'} ${Math.abs(coefficient).toFixed(12)} ${name}`;

/** A concave piecewise-linear reward: one bounded column a piece, together no more than what is gathered. */
function reward(
  into: Programme,
  name: string,
  pieces: [width: number, slope: number][],
  gathered: string[],
): void {
  const columns = pieces.map(([width, slope], k) => {
    into.objective.push(plus(slope, `${name}_${k}`));
    into.bounds.push(`0 <= ${name}_${k} <= ${width.toFixed(12)}`);
    return `+ ${name}_${k}`;
  });
  const negated = gathered.map((piece) =>
    piece.startsWith('+') ? `-${piece.slice(1)}` : `+${piece.slice(1)}`,
  );
  into.rows.push(`${columns.join(' ')} ${negated.join(' ')} <= 0`);
}

function likeness(a: Iterable<string>, b: Iterable<string>): number {
  const [x, y] = [new Set(a), new Set(b)];
  const both = [...x].filter((word) => y.has(word)).length;
  const all = x.size + y.size - both;
  return all === 0 ? 0 : both / all;
}

function programmeOf(ask: PlanRequest, candidates: readonly Candidate[]): string {
  const into: Programme = { objective: [], rows: [], bounds: [], binaries: [] };
  const insisted = (c: Candidate): boolean => Boolean(c.must || c.fixed);
  const quality = (c: Candidate): number => (insisted(c) ? 1 : c.relevance * c.rest);
  const minutes = (c: Candidate): number => c.fixed?.minutes ?? c.minutes;
  const usable = candidates.filter((c) => c.fixed || (!c.refused && !c.spare && quality(c) > 0));
  const columns = new Map<Candidate, [part: number, name: string][]>();
  usable.forEach((c, i) => {
    const places: [number, string][] = [];
    ask.parts.forEach((part, p) => {
      if (c.fixed && c.fixed.part !== p) return;
      const suit = c.suits?.[part.name] ?? suits(ask.shape, part.name, c.kind, c.level);
      if (suit === 0 && !insisted(c)) return;
      const name = `x${i}_${p}`;
      places.push([p, name]);
      into.binaries.push(name);
      into.objective.push(plus(quality(c) * minutes(c) * suit - TURN, name));
    });
    columns.set(c, places);
    if (places.length === 0) return;
    into.rows.push(
      `${places.map(([, name]) => `+ ${name}`).join(' ')} ${insisted(c) ? '=' : '<='} 1`,
    );
  });
  const gathered = (amount: (c: Candidate) => number, part?: number): string[] =>
    usable.flatMap((c) =>
      columns
        .get(c)!
        .filter(([p]) => part === undefined || p === part)
        .flatMap(([, name]) => (amount(c) === 0 ? [] : [plus(amount(c), name)])),
    );
  limits(into, ask, gathered, minutes);
  [...ask.focusBooks, ...ask.focusThemes].forEach((heading, h) => {
    const tied = gathered((c) => ([...c.books, ...c.themes].includes(heading) ? quality(c) : 0));
    if (tied.length > 0)
      reward(
        into,
        `cover${h}`,
        COVER.map((slope) => [1, slope]),
        tied,
      );
  });
  for (const level of LEVELS) {
    const at = gathered((c) => (c.level === level ? quality(c) * minutes(c) : 0));
    const half = ask.aims[level] / 2;
    if (at.length > 0 && half > 0)
      reward(
        into,
        `level_${level}`,
        LEVEL.map((slope) => [half, slope]),
        at,
      );
  }
  ask.parts.forEach((part, p) => {
    for (const [kind, share] of Object.entries(part.want ?? {}) as [EntryKind, number][]) {
      const of = gathered((c) => (c.kind === kind ? quality(c) * minutes(c) : 0), p);
      if (of.length > 0) reward(into, `mix${p}_${kind}`, [[share * part.minutes, MIX]], of);
    }
  });
  usable.forEach((a, i) =>
    usable.slice(i + 1).forEach((b, k) => {
      const over = (likeness(a.words, b.words) - ALIKE) / (1 - ALIKE);
      if (over <= 0) return;
      const cost = SAME * over * Math.min(quality(a) * minutes(a), quality(b) * minutes(b));
      const name = `both${i}_${i + 1 + k}`;
      into.objective.push(plus(-cost, name));
      into.bounds.push(`0 <= ${name} <= 1`);
      const together = [...columns.get(a)!, ...columns.get(b)!].map(([, x]) => `+ ${x}`).join(' ');
      into.rows.push(`${together} - ${name} <= 1`);
    }),
  );
  const rows = into.rows.map((row, k) => ` r${k}: ${row}`).join('\n');
  return `Maximize\n obj: ${into.objective.join('\n ')}\nSubject To\n${rows}\nBounds\n ${into.bounds.join('\n ')}\nBinary\n ${into.binaries.join('\n ')}\nEnd\n`;
}

function limits(
  into: Programme,
  ask: PlanRequest,
  gathered: (amount: (c: Candidate) => number, part?: number) => string[],
  minutes: (c: Candidate) => number,
): void {
  ask.parts.forEach((part, p) => {
    const used = gathered(minutes, p);
    if (used.length > 0) into.rows.push(`${used.join(' ')} <= ${part.minutes}`);
  });
  const used = gathered(minutes);
  if (used.length > 0) into.rows.push(`${used.join(' ')} <= ${ask.minutes}`);
}

function optimum(ask: PlanRequest, candidates: readonly Candidate[]): number {
  const solution = highs.solve(programmeOf(ask, candidates), {
    output_flag: false,
    mip_rel_gap: 1e-9,
    mip_abs_gap: 1e-9,
  });
  expect(solution.Status).toBe('Optimal');
  return solution.ObjectiveValue;
}

/** A small case: 8 to 27 candidates, some musts, some placed by hand, parts that sometimes exceed the whole. */
function smallCase(number: number): { ask: PlanRequest; candidates: Candidate[] } {
  const random = seeded(1000 + number * 7919);
  const shape = number % 3 === 2 ? 'lesson' : 'discussion';
  const ask = request([20, 30, 45, 60][number % 4]!, shape);
  const candidates = randomCandidates(random, 8 + Math.floor(random() * 20));
  if (random() < 0.3) ask.minutes = Math.round(ask.minutes * 0.7);
  const long = ask.parts.findIndex(({ minutes }) => minutes >= 9);
  if (random() < 0.4 && long >= 0) {
    candidates[0]!.fixed = { part: long, position: 0, minutes: 3 };
  }
  if (random() < 0.4 && long >= 0) Object.assign(candidates[1]!, { must: true, minutes: 4 });
  if (random() < 0.3) candidates[2]!.refused = true;
  return { ask, candidates };
}

const HURRIED: Effort = { rounds: 60, pool: 30, fills: 60, branching: 0 };

describe('on small random cases, against the true optimum found by an integer programme', () => {
  const told: {
    value: number;
    bound: number;
    exact: boolean;
    hurried: number;
    hurriedBound: number;
    best: number;
  }[] = [];
  beforeAll(() => {
    for (let number = 0; number < CASES; number += 1) {
      const { ask, candidates } = smallCase(number);
      const plan = compose(ask, candidates);
      const { value, bound, exact } = plan.objective;
      const hurried = compose(ask, candidates, HURRIED).objective;
      // The composer may lend slack to the ends of a guide; the programme is given the parts it settled on.
      const parts = plan.parts.map(({ minutes }, p) => ({
        ...ask.parts[p]!,
        minutes,
      }));
      const best = optimum({ ...ask, parts }, candidates);
      told.push({ value, bound, exact, hurried: hurried.value, hurriedBound: hurried.bound, best });
    }
    const short = (of: 'value' | 'hurried'): number[] => told.map((t) => (t.best - t[of]) / t.best);
    const mean = (list: number[]): number => list.reduce((sum, x) => sum + x, 0) / list.length;
    console.info(
      `${CASES} cases: exact ${told.filter(({ exact }) => exact).length}; below the optimum on average ` +
        `${(100 * mean(short('value'))).toFixed(4)}%, without branching ${(100 * mean(short('hurried'))).toFixed(3)}% ` +
        `(worst ${(100 * Math.max(...short('hurried'))).toFixed(2)}%)`,
    );
  }, 600_000);

  const near = (best: number): number => 1e-6 * Math.max(1, Math.abs(best));

  test('no guide is told to be worth more than the true optimum', () => {
    expect(told).toHaveLength(CASES);
    for (const { value, hurried, best } of told) {
      expect(value).toBeLessThanOrEqual(best + near(best));
      expect(hurried).toBeLessThanOrEqual(best + near(best));
    }
  });

  test('the bound is never below the true optimum, with branching or without', () => {
    for (const { bound, hurriedBound, best } of told) {
      expect(bound).toBeGreaterThanOrEqual(best - near(best));
      expect(hurriedBound).toBeGreaterThanOrEqual(best - near(best));
    }
  });

  test('a guide said to be the best is the best', () => {
    for (const { value, exact, best } of told)
      if (exact) expect(value).toBeGreaterThanOrEqual(best - near(best));
    expect(told.filter(({ exact }) => exact).length).toBeGreaterThan(0.9 * CASES);
  });

  test('guides are within 1% of the optimum on average, and within 2% even with no branching', () => {
    const mean = (of: 'value' | 'hurried'): number =>
      told.reduce((sum, t) => sum + (t.best - t[of]) / t.best, 0) / told.length;
    expect(mean('value')).toBeLessThan(0.01);
    expect(mean('hurried')).toBeLessThan(0.02);
  });
});
