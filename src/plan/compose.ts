/** Composes a guide: what is worth most under the minutes, in order, with spares and what to leave out when late. */
import { LEVELS, type Level } from '../journal/records';
import { Placement, type Instance } from './instance';
import { leaveOutFirst, spares } from './late';
import { inOrder } from './order';
import { solve, USUAL_EFFORT, type Effort } from './solve';
import { fittedParts } from './stretch';
import { instanceOf, minutesOf, type Candidate, type PlanRequest } from './worth';

export type { Candidate, PlanRequest } from './worth';

export interface Plan {
  parts: {
    name: string;
    /** Minutes of the part, which its items keep to unless what must stay needs more. */
    minutes: number;
    items: { id: string; minutes: number; must: boolean; reasons: string[] }[];
  }[];
  /** Held ready, in the order to reach for them. */
  spare: { id: string; minutes: number }[];
  /** Minutes of all items placed. */
  planned: number;
  /** Minutes placed at each level. */
  levels: Record<Level, number>;
  objective: {
    /** Worth of the guide by the formula in `worth.ts`. */
    value: number;
    /** Proven: no guide of these candidates in this time is worth more. */
    bound: number;
    /** (bound - value) / bound, 0 to 1: the most that can have been missed. */
    gap: number;
    /** Whether the guide was proven to be the best. */
    exact: boolean;
  };
  /** Ids to leave out first when time runs short, in order. */
  late: string[];
}

/**
 * Composes a guide. The same request and candidates give the same guide, in whatever order they are handed in.
 * What was placed by hand stays where it is; what must stay stays, even where it does not fit the time; what was
 * put aside is left out. A part for which nothing is worth taking stays empty.
 *
 * @throws where two candidates share an id, or minutes are negative or not finite: these are bugs of the caller.
 */
export function compose(
  request: PlanRequest,
  candidates: readonly Candidate[],
  effort: Effort = USUAL_EFFORT,
): Plan {
  const sorted = [...candidates].sort((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0));
  check(sorted);
  if (request.parts.length === 0) return emptyPlan();
  const fitted = { ...request, parts: fittedParts(request, sorted) };
  const { part, value, bound, exact, instance } = solve(instanceOf(fitted, sorted), effort);
  const placement = new Placement(instance);
  placement.restore({ part });
  const numbers = new Map(sorted.map(({ id }, item) => [id, item]));
  const parts = fitted.parts.map((_, p) =>
    inOrder(sorted.filter((__, item) => part[item] === p)).map(({ id }) => numbers.get(id)!),
  );
  const levels = noLevels();
  for (const item of parts.flat()) {
    const { level } = sorted[item]!;
    if (level) levels[level] += minutesOf(sorted[item]!);
  }
  return {
    parts: fitted.parts.map(({ name, minutes }, p) => ({
      name,
      minutes,
      items: parts[p]!.map((item) => ({
        id: sorted[item]!.id,
        minutes: minutesOf(sorted[item]!),
        must: sorted[item]!.must ?? false,
        reasons: reasonsFor(instance, placement, sorted[item]!, item),
      })),
    })),
    spare: spares(instance, placement, sorted, request.spareTarget).map((item) => ({
      id: sorted[item]!.id,
      minutes: minutesOf(sorted[item]!),
    })),
    planned: parts.flat().reduce((sum, item) => sum + minutesOf(sorted[item]!), 0),
    levels,
    objective: { value, bound, gap: gapOf(value, bound), exact },
    late: leaveOutFirst(instance, placement, parts).map((item) => sorted[item]!.id),
  };
}

/**
 * What a guide is worth as it stands, by the formula in `worth.ts`, whether or not it keeps to its minutes.
 *
 * @param parts ids by part; those that are no candidates, or may not be placed, are left out.
 */
export function worthOf(
  request: PlanRequest,
  candidates: readonly Candidate[],
  parts: readonly (readonly string[])[],
): number {
  const instance = { ...instanceOf(request, candidates), pinned: [] };
  const placement = new Placement(instance);
  const numbers = new Map(candidates.map(({ id }, item) => [id, item]));
  parts.slice(0, instance.parts).forEach((ids, part) => {
    for (const id of ids) {
      const item = numbers.get(id);
      if (item === undefined || placement.part[item]! >= 0 || !placement.may(item, part)) continue;
      placement.put(item, part);
    }
  });
  return placement.value;
}

const noLevels = (): Record<Level, number> =>
  Object.fromEntries(LEVELS.map((level) => [level, 0])) as Record<Level, number>;

function emptyPlan(): Plan {
  const objective = { value: 0, bound: 0, gap: 0, exact: true };
  return { parts: [], spare: [], planned: 0, levels: noLevels(), objective, late: [] };
}

/** Sameness can make a guide of musts worth less than nothing; the gap is then told as a share of its size. */
function gapOf(value: number, bound: number): number {
  const size = Math.max(Math.abs(bound), Math.abs(value));
  return size < 1e-9 ? 0 : Math.min(1, Math.max(0, (bound - value) / size));
}

function check(sorted: readonly Candidate[]): void {
  sorted.forEach((candidate, index) => {
    if (index > 0 && sorted[index - 1]!.id === candidate.id) {
      throw new Error(`Two candidates have the id ${candidate.id}.`);
    }
    const minutes = minutesOf(candidate);
    if (!(minutes >= 0 && Number.isFinite(minutes))) {
      throw new Error(`Candidate ${candidate.id} has minutes that are not a length of time.`);
    }
  });
}

/** What can be said truly of why an item stands here, beside the reasons handed in with it. */
function reasonsFor(
  instance: Instance,
  placement: Placement,
  candidate: Candidate,
  item: number,
): string[] {
  const reasons = [...(candidate.reasons ?? [])];
  if (candidate.fixed) reasons.push('placed by you');
  if (candidate.must) reasons.push('must stay');
  let onlyHere = false;
  let fillsLevel = false;
  for (let k = instance.termStart[item]!; k < instance.termStart[item + 1]!; k += 1) {
    const term = instance.termIndex[k]!;
    const without = placement.amounts[term]! - instance.termAmount[k]!;
    const { name, widths } = instance.terms[term]!;
    if (name.startsWith('cover ') && without < 1e-9) onlyHere = true;
    if (name.startsWith('level ') && without < widths[0]!) fillsLevel = true;
  }
  if (onlyHere) reasons.push('brings in part of the focus that nothing else here does');
  if (fillsLevel && candidate.level) reasons.push(`brings ${candidate.level} nearer its aim`);
  return [...new Set(reasons)];
}
