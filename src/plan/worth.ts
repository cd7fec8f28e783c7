/**
 * What a guide is worth. This is the whole objective; nothing else decides what is chosen.
 *
 * For item i in part p:   m = its minutes,   u = how well it suits the part (0..1),
 *                         q = relevance x rest (0..1), or 1 where the leader marked it must or placed it by hand.
 *
 *   worth =  sum of (q m u - 1)                                                  well-spent minutes, less a turn
 *          + sum over focus headings of  cover(sum of q over items tied to it)    coverage, diminishing
 *          + sum over levels of          level(sum of q m over items of it)       spread against the aim
 *          + sum over parts and kinds of mix(sum of q m over items of it there)   a mix of kinds in each part
 *          - sum over pairs of           SAME * s * (the smaller of their q m)    sameness
 *
 *   cover(z): 4 a unit for the first, 2 for the second, 1 for the third, then level
 *   level(z): 0.6 a minute up to half the level's aim, 0.3 up to the aim, then level
 *   mix(z):   0.5 a minute up to the kind's share of the part's minutes, then level
 *   SAME:     3
 *   s:        (likeness - 0.3) / 0.7 where the likeness of their stems (Jaccard) is above 0.3, else 0
 *
 * The unit is a well-spent minute. Turning from one thing to the next costs one, so that a guide is not made of
 * crumbs and nothing is put in for filling alone. The weights are ours, chosen by reading the guides they compose.
 * Every piece is linear or concave piecewise linear, and sameness is over pairs, so that an integer programme can
 * say the same.
 */
import { LEVELS, type EntryKind, type Level, type Shape } from '../journal/records';
import { heightOf, Placement, type Instance, type Term } from './instance';
import { Stems } from './sameness';
import { suits as usualSuits, wantOf, type PartRequest } from './shapes';

/** An entry that may be chosen, as plain data. */
export interface Candidate {
  id: string;
  kind: EntryKind;
  level?: Level;
  /** 0 or more. */
  minutes: number;
  /** 0 to 1: how near it is to the focus. */
  relevance: number;
  /** 0 to 1: whether it has rested since this circle had it. */
  rest: number;
  /** Headings it is tied to; the first book is the one `place` belongs to. */
  books: string[];
  themes: string[];
  /** Stems of its words without stop words, for sameness. */
  words: ReadonlySet<string> | string[];
  /** Order within its first book: a chapter or page number. */
  place?: number;
  /** By part name, 0 (may not stand there) to 1; worked out from kind and level where left out. */
  suits?: Partial<Record<string, number>>;
  /** Work that is only set here, and done after the meeting. */
  elsewhere?: boolean;
  /** Never left out. */
  must?: boolean;
  /** Kept by the leader as a spare: never placed, first among the spares. */
  spare?: boolean;
  /** Put aside by the leader: neither placed nor a spare. */
  refused?: boolean;
  /** Placed by hand: stands in this part at this position (both from 0), for these minutes. */
  fixed?: { part: number; position: number; minutes?: number };
  reasons?: string[];
  /** What to call it in a sentence; the id where left out. */
  label?: string;
}

export interface PlanRequest {
  shape: Shape;
  /** Minutes of the whole meeting. */
  minutes: number;
  parts: PartRequest[];
  /** Minutes aimed at for each level. */
  aims: Record<Level, number>;
  focusBooks: string[];
  focusThemes: string[];
  /** Minutes of spares to hold ready. */
  spareTarget: number;
}

export const COVER: Term = { name: 'cover', widths: [1, 1, 1], slopes: [4, 2, 1] };
const LEVEL_SLOPES = [0.6, 0.3];
const MIX_SLOPE = 0.5;
export const TURN = 1;
export const SAME = 3;
export const SAME_ABOVE = 0.3;

/** Relevance times rest, 0 to 1; what the leader insists on counts whole. */
export function qualityOf(candidate: Candidate): number {
  if (candidate.must || candidate.fixed) return 1;
  return clamp(candidate.relevance) * clamp(candidate.rest);
}

/** Minutes an item takes in the guide. */
export function minutesOf(candidate: Candidate): number {
  return candidate.fixed?.minutes ?? candidate.minutes;
}

/** How well a candidate suits a part, 0 to 1. */
export function suitOf(request: PlanRequest, candidate: Candidate, part: PartRequest): number {
  const given = candidate.suits?.[part.name];
  return clamp(given ?? usualSuits(request.shape, part.name, candidate.kind, candidate.level));
}

function clamp(value: number): number {
  return Number.isFinite(value) ? Math.min(1, Math.max(0, value)) : 0;
}

/** The number of the part a fixed item stands in: the last part where the guide has become shorter. */
function fixedPart(request: PlanRequest, candidate: Candidate): number {
  return Math.min(candidate.fixed!.part, request.parts.length - 1);
}

/** Whether it may be placed at all. What was placed by hand is never refused. */
export function mayBePlaced(candidate: Candidate): boolean {
  if (candidate.fixed) return true;
  if (candidate.refused || candidate.spare) return false;
  return candidate.must === true || qualityOf(candidate) > 0;
}

/**
 * The bare problem for a request. Item numbers are those of `candidates`. Room is at least what was placed by hand
 * takes, so that it always fits. `O(candidates x parts)`; likenesses are worked out when asked for.
 */
export function instanceOf(request: PlanRequest, candidates: readonly Candidate[]): Instance {
  const parts = request.parts.length;
  const terms = termsOf(request);
  const minutes = Float64Array.from(candidates, minutesOf);
  const amounts = amountsOf(request, candidates, terms);
  const own = new Float64Array(candidates.length * parts).fill(NaN);
  const partTerm = new Int32Array(candidates.length * parts).fill(-1);
  candidates.forEach((candidate, item) => {
    if (!mayBePlaced(candidate)) return;
    const worth = qualityOf(candidate) * minutes[item]!;
    request.parts.forEach((part, p) => {
      if (candidate.fixed && fixedPart(request, candidate) !== p) return;
      const suit = suitOf(request, candidate, part);
      if (suit === 0 && !candidate.must && !candidate.fixed) return;
      own[item * parts + p] = worth * suit - TURN;
      partTerm[item * parts + p] = terms.mix.get(`${p} ${candidate.kind}`) ?? -1;
    });
  });
  const pinned = candidates.flatMap((candidate, item) =>
    candidate.fixed ? [{ item, part: fixedPart(request, candidate) }] : [],
  );
  return {
    items: candidates.length,
    parts,
    minutes,
    ...roomFor(request, minutes, pinned),
    own,
    terms: terms.list,
    ...amounts,
    partTerm,
    partAmount: Float64Array.from(
      candidates,
      (candidate, item) => qualityOf(candidate) * minutes[item]!,
    ),
    must: Uint8Array.from(candidates, (candidate) =>
      mayBePlaced(candidate) && (candidate.must || candidate.fixed) ? 1 : 0,
    ),
    pinned,
    same: samenessOf(candidates, minutes),
  };
}

function roomFor(
  request: PlanRequest,
  minutes: Float64Array,
  pinned: Instance['pinned'],
): { room: Float64Array; whole: number } {
  const held = new Float64Array(request.parts.length);
  for (const { item, part } of pinned) held[part]! += minutes[item]!;
  return {
    room: Float64Array.from(request.parts, (part, p) => Math.max(part.minutes, held[p]!)),
    whole: Math.max(
      request.minutes,
      held.reduce((sum, part) => sum + part, 0),
    ),
  };
}

interface Terms {
  list: Term[];
  headings: Map<string, number>;
  levels: Map<Level, number>;
  /** By "part kind". */
  mix: Map<string, number>;
}

function termsOf(request: PlanRequest): Terms {
  const terms: Terms = { list: [], headings: new Map(), levels: new Map(), mix: new Map() };
  for (const heading of new Set([...request.focusBooks, ...request.focusThemes])) {
    terms.headings.set(heading, terms.list.push({ ...COVER, name: `cover ${heading}` }) - 1);
  }
  for (const level of LEVELS) {
    const half = request.aims[level] / 2;
    if (!(half > 0)) continue;
    terms.levels.set(
      level,
      terms.list.push({ name: `level ${level}`, widths: [half, half], slopes: [...LEVEL_SLOPES] }) -
        1,
    );
  }
  request.parts.forEach((part, p) => {
    for (const [kind, share] of Object.entries(part.want ?? wantOf(request.shape, part.name))) {
      const width = (share ?? 0) * part.minutes;
      if (!(width > 0)) continue;
      const name = `${p} ${kind}`;
      terms.mix.set(
        name,
        terms.list.push({ name: `mix ${name}`, widths: [width], slopes: [MIX_SLOPE] }) - 1,
      );
    }
  });
  return terms;
}

function amountsOf(
  request: PlanRequest,
  candidates: readonly Candidate[],
  terms: Terms,
): Pick<Instance, 'termStart' | 'termIndex' | 'termAmount'> {
  const termStart = new Int32Array(candidates.length + 1);
  const index: number[] = [];
  const amount: number[] = [];
  candidates.forEach((candidate, item) => {
    const quality = mayBePlaced(candidate) ? qualityOf(candidate) : 0;
    if (quality > 0) {
      const bring = (term: number | undefined, much: number): void => {
        if (term === undefined) return;
        index.push(term);
        amount.push(much);
      };
      for (const heading of new Set([...candidate.books, ...candidate.themes])) {
        bring(terms.headings.get(heading), quality);
      }
      if (candidate.level) bring(terms.levels.get(candidate.level), quality * minutesOf(candidate));
    }
    termStart[item + 1] = index.length;
  });
  return { termStart, termIndex: Int32Array.from(index), termAmount: Float64Array.from(amount) };
}

/** Rows of the cost of sameness, worked out once each. */
function samenessOf(candidates: readonly Candidate[], minutes: Float64Array): Instance['same'] {
  let stems: Stems | undefined;
  const rows = new Map<number, Float64Array>();
  const spent = Float64Array.from(
    candidates,
    (candidate, item) => qualityOf(candidate) * minutes[item]!,
  );
  return (item) => {
    let row = rows.get(item);
    if (row) return row;
    stems ??= new Stems(candidates.map(({ words }) => words));
    row = stems.likeness(item);
    for (let other = 0; other < row.length; other += 1) {
      const over = Math.max(0, row[other]! - SAME_ABOVE) / (1 - SAME_ABOVE);
      row[other] =
        over === 0 || other === item ? 0 : SAME * over * Math.min(spent[item]!, spent[other]!);
    }
    rows.set(item, row);
    return row;
  };
}

/** A set of items in parts and what each piece of the formula makes of it. */
export interface Worth {
  value: number;
  own: number;
  cover: number;
  level: number;
  mix: number;
  sameness: number;
}

/** The worth of any placement, from scratch. `placed` gives for each part the ids in it. */
export function worthOf(
  request: PlanRequest,
  candidates: readonly Candidate[],
  placed: readonly (readonly string[])[],
): Worth {
  const instance = instanceOf(request, candidates);
  const numbers = new Map(candidates.map(({ id }, item) => [id, item]));
  const placement = new Placement({ ...instance, pinned: [] });
  const worth: Worth = { value: 0, own: 0, cover: 0, level: 0, mix: 0, sameness: 0 };
  placed.forEach((ids, part) => {
    for (const id of ids) {
      const item = numbers.get(id)!;
      worth.own += instance.own[item * instance.parts + part]!;
      worth.sameness += placement.sameAs(item);
      placement.put(item, part);
    }
  });
  instance.terms.forEach((term, index) => {
    const piece = term.name.split(' ')[0] as 'cover' | 'level' | 'mix';
    worth[piece] += heightOf(term, placement.amounts[index]!);
  });
  worth.value = worth.own + worth.cover + worth.level + worth.mix - worth.sameness;
  return worth;
}
