/** One true line on why an entry is not in a guide. */
import type { Plan } from './compose';
import { Placement } from './instance';
import { Stems } from './sameness';
import { fittedParts } from './stretch';
import {
  instanceOf,
  minutesOf,
  qualityOf,
  SAME_ABOVE,
  suitOf,
  type Candidate,
  type PlanRequest,
} from './worth';

type WhyNot =
  | { code: 'in-guide'; text: string }
  | { code: 'unknown'; text: string }
  | { code: 'put-aside'; text: string }
  | { code: 'kept-spare'; text: string }
  | { code: 'off-focus'; text: string }
  | { code: 'resting'; text: string }
  | { code: 'suits-no-part'; text: string }
  /** `over`: minutes by which it is too long for any part that suits it. */
  | { code: 'no-room'; over: number; text: string }
  | { code: 'says-the-same'; as: string; text: string }
  | { code: 'displaces'; other: string; text: string }
  | { code: 'close'; other: string; text: string }
  | { code: 'adds-nothing'; text: string };

/** Fainter than this is nothing to do with the focus. */
const FAINT = 0.05;

/** The line alone; see `whyNotOf`. */
export function whyNot(
  id: string,
  request: PlanRequest,
  candidates: readonly Candidate[],
  plan: Plan,
): string {
  return whyNotOf(id, request, candidates, plan).text;
}

/** Why a candidate was not taken, with the other entry or the minutes it turns on. `plan` is that of `compose`. */
export function whyNotOf(
  id: string,
  request: PlanRequest,
  candidates: readonly Candidate[],
  plan: Plan,
): WhyNot {
  const candidate = candidates.find((other) => other.id === id);
  if (!candidate) {
    return {
      code: 'unknown',
      text: 'It has nothing to do with the focus: it was not among what was weighed.',
    };
  }
  if (plan.parts.some(({ items }) => items.some((item) => item.id === id))) {
    return { code: 'in-guide', text: 'It is in the guide.' };
  }
  if (candidate.refused)
    return {
      code: 'put-aside',
      text: 'You said Not this time. It can be let in again below the guide.',
    };
  if (candidate.spare) return { code: 'kept-spare', text: 'You keep it as a spare.' };
  if (!(candidate.relevance >= FAINT))
    return { code: 'off-focus', text: 'It has nothing to do with the focus.' };
  if (!(candidate.rest > 0)) {
    return { code: 'resting', text: 'It was used with this circle recently, and is resting.' };
  }
  return weighed(candidate, request, candidates, plan);
}

function weighed(
  candidate: Candidate,
  request: PlanRequest,
  candidates: readonly Candidate[],
  plan: Plan,
): WhyNot {
  const parts = fittedParts(request, candidates);
  const suited = parts.flatMap((part, p) => (suitOf(request, candidate, part) > 0 ? [p] : []));
  if (suited.length === 0)
    return {
      code: 'suits-no-part',
      text: candidate.elsewhere
        ? 'It is work to do at home. Put it in yourself if you will set it.'
        : 'No part of this guide is for its kind.',
    };
  const minutes = minutesOf(candidate);
  const longest = suited.reduce((a, b) => (parts[b]!.minutes > parts[a]!.minutes ? b : a));
  const over = minutes - parts[longest]!.minutes;
  if (over > 1e-9) {
    const text = `There is no room: it takes ${sayMinutes(minutes)}, ${sayMinutes(over)} more than ${parts[longest]!.name} has.`;
    return { code: 'no-room', over, text };
  }
  return againstOthers(candidate, { ...request, parts }, candidates, plan, suited);
}

/** Tries the candidate in the guide as it stands, and in the place of each item that may go. */
function againstOthers(
  candidate: Candidate,
  request: PlanRequest,
  candidates: readonly Candidate[],
  plan: Plan,
  suited: readonly number[],
): WhyNot {
  const numbers = new Map(candidates.map(({ id }, item) => [id, item]));
  const item = numbers.get(candidate.id)!;
  const placement = asPlaced(request, candidates, plan, numbers);
  const twin = mostAlike(candidate, candidates, placement);
  if (twin) {
    return {
      code: 'says-the-same',
      as: twin.id,
      text: `It says the same as ${nameOf(twin)}, which is in the guide.`,
    };
  }
  let best: { other: Candidate; change: number } | undefined;
  for (const other of [...placement.members]) {
    if (placement.instance.must[other]) continue;
    const before = placement.value;
    const part = placement.part[other]!;
    placement.take(other);
    for (const p of suited) {
      if (!placement.fits(item, p)) continue;
      const change = placement.value + placement.gain(item, p) - before;
      if (!best || change > best.change) best = { other: candidates[other]!, change };
    }
    placement.put(other, part);
  }
  const open = suited.filter((p) => placement.fits(item, p));
  if (open.some((p) => placement.gain(item, p) > 1e-7) || (best && best.change > 1e-7)) {
    const other = best?.other.id ?? '';
    return {
      code: 'close',
      other,
      text: 'It was a close thing: it would do as well as what was chosen.',
    };
  }
  if (open.length > 0)
    return {
      code: 'adds-nothing',
      text: 'There is room, but it would add less than one more item costs.',
    };
  if (best) {
    const { other } = best;
    const text =
      Math.abs(best.change) <= 1e-7
        ? `It would take the place of ${nameOf(other)}, which is worth as much here.`
        : `It would displace ${nameOf(other)}, which is worth more here.`;
    return { code: 'displaces', other: other.id, text };
  }
  return crowdedOut(candidate, placement, suited, request);
}

/** No one item that may go would make room: say by how many minutes. */
function crowdedOut(
  candidate: Candidate,
  placement: Placement,
  suited: readonly number[],
  request: PlanRequest,
): WhyNot {
  const { instance } = placement;
  const free = (part: number): number => {
    const mayGo = placement.members.filter((item) => !instance.must[item]);
    const here = mayGo.filter((item) => placement.part[item] === part);
    const longest = (items: number[]): number =>
      Math.max(0, ...items.map((item) => instance.minutes[item]!));
    return Math.min(placement.room[part]! + longest(here), placement.whole + longest(mayGo));
  };
  const roomiest = suited.reduce((a, b) => (free(b) > free(a) ? b : a));
  const over = minutesOf(candidate) - free(roomiest);
  const { name } = request.parts[roomiest]!;
  const text = `There is no room: with one item of ${name} left out for it, it would still run ${sayMinutes(over)} over.`;
  return { code: 'no-room', over, text };
}

function asPlaced(
  request: PlanRequest,
  candidates: readonly Candidate[],
  plan: Plan,
  numbers: ReadonlyMap<string, number>,
): Placement {
  const placement = new Placement({ ...instanceOf(request, candidates), pinned: [] });
  plan.parts.forEach(({ items }, part) => {
    for (const { id } of items) {
      const item = numbers.get(id);
      if (item !== undefined) placement.put(item, part);
    }
  });
  return placement;
}

/** An item of the guide so like the candidate that the cost of both is more than half of what it is worth itself. */
function mostAlike(
  candidate: Candidate,
  candidates: readonly Candidate[],
  placement: Placement,
): Candidate | undefined {
  const members = [...placement.members];
  const likeness = new Stems(
    [candidate, ...members.map((item) => candidates[item]!)].map(({ words }) => words),
  ).likeness(0);
  let most = -1;
  members.forEach((_, k) => {
    if (most < 0 || likeness[k + 1]! > likeness[most + 1]!) most = k;
  });
  if (most < 0 || likeness[most + 1]! <= SAME_ABOVE) return undefined;
  const number = candidates.indexOf(candidate);
  const cost = placement.instance.same(members[most]!)[number]!;
  return cost > 0.5 * qualityOf(candidate) * minutesOf(candidate)
    ? candidates[members[most]!]
    : undefined;
}

const nameOf = ({ label, id }: Candidate): string => (label ? `“${label}”` : id);

/** "1 minute", "2.5 minutes". */
function sayMinutes(minutes: number): string {
  const rounded = Math.round(minutes * 10) / 10;
  return rounded === 1 ? '1 minute' : `${rounded} minutes`;
}
