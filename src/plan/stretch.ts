/** Fitting the usual parts to what there is to put in them. Parts the leader has set are left as they are. */
import { partsFor, type PartRequest } from './shapes';
import { mayBePlaced, qualityOf, suitOf, type Candidate, type PlanRequest } from './worth';

/** How well a candidate must suit a part to be worth making room for. */
const SUITS_WELL = 0.5;
/** How near the focus, and how rested, a lesson idea must be for a lesson to be built round it. */
const WORTH_BUILDING_ON = 0.5;

/**
 * The parts to compose for. Two things are changed, and only where the minutes are the usual ones:
 * - a lesson takes Teaching's minutes from Practice and from slack where every good lesson idea is longer than
 *   either, so that a lesson can hold one;
 * - the first and the last part take from slack where nothing that suits them well would fit, so that a guide has a
 *   beginning and an ending.
 */
export function fittedParts(request: PlanRequest, candidates: readonly Candidate[]): PartRequest[] {
  const parts = request.parts.map((part) => ({ ...part }));
  if (!areUsual(request)) return parts;
  const usable = candidates.filter((candidate) => mayBePlaced(candidate) && !candidate.fixed);
  if (request.shape === 'lesson') makeRoomForLesson(request, parts, usable);
  stretchEnds(request, parts, usable);
  return parts;
}

function areUsual(request: PlanRequest): boolean {
  const usual = partsFor(request.shape, request.minutes);
  return (
    usual.length === request.parts.length &&
    usual.every(({ name, minutes }, p) => {
      const part = request.parts[p]!;
      return part.name === name && part.minutes === minutes;
    })
  );
}

const slackOf = (request: PlanRequest, parts: readonly PartRequest[]): number =>
  request.minutes - parts.reduce((sum, { minutes }) => sum + minutes, 0);

function makeRoomForLesson(
  request: PlanRequest,
  parts: PartRequest[],
  usable: readonly Candidate[],
): void {
  const teaching = parts.find(({ name }) => name === 'Teaching');
  const practice = parts.find(({ name }) => name === 'Practice');
  if (!teaching || !practice) return;
  const ideas = usable.filter(
    (candidate) => candidate.kind === 'lesson' && qualityOf(candidate) >= WORTH_BUILDING_ON,
  );
  const longest = Math.max(teaching.minutes, practice.minutes);
  if (ideas.some(({ minutes }) => minutes <= longest)) return;
  const most = teaching.minutes + practice.minutes + slackOf(request, parts);
  const fitting = ideas.filter(({ minutes }) => minutes <= most);
  fitting.sort(
    (a, b) => qualityOf(b) - qualityOf(a) || a.minutes - b.minutes || (a.id < b.id ? -1 : 1),
  );
  const idea = fitting[0];
  if (!idea) return;
  const both = teaching.minutes + practice.minutes;
  teaching.minutes = idea.minutes;
  practice.minutes = Math.max(0, both - idea.minutes);
}

function stretchEnds(
  request: PlanRequest,
  parts: PartRequest[],
  usable: readonly Candidate[],
): void {
  for (const index of new Set([parts.length - 1, 0])) {
    const part = parts[index]!;
    const suited = usable.filter((candidate) => suitOf(request, candidate, part) >= SUITS_WELL);
    const least = suited.reduce((min, { minutes }) => Math.min(min, minutes), Infinity);
    const needed = least - part.minutes;
    if (needed > 0 && needed <= slackOf(request, parts)) part.minutes = least;
  }
}
