/** The problem under a guide: candidates with their relevance, rest and minutes, handed to `plan` to choose from. */
import { doneElsewhere } from '../journal/homework';
import type {
  Circle,
  CircleId,
  Entry,
  EntryId,
  Focus,
  Guide,
  HeadingId,
  Level,
  Shape,
} from '../journal/records';
import { usesBefore, usesOf } from '../journal/uses';
import { sayDate } from '../language/dates';
import { proposeLevel } from '../language/levels';
import { plainText } from '../language/markdown';
import { stem } from '../language/stem';
import { STOP_WORDS, tokens } from '../language/tokens';
import { aimsFor } from '../plan/aims';
import { compose, type Candidate, type Plan, type PlanRequest } from '../plan/compose';
import { minutesFor } from '../plan/minutes';
import { restOf } from '../plan/rest';
import { partsFor, suits, wantOf } from '../plan/shapes';
import { placeNumber } from './chapters';
import type { Core } from './core';
import { freeCandidate, handSet, keptSpare, type HandSet } from './hand-set';
import { relevanceTo, type Relevance } from './relevance';

/** What a leader asks for. Everything has a usual value, so that two words are enough to compose from. */
export interface PlanAsk {
  focus: Focus;
  circle?: CircleId;
  /** Whole minutes of the meeting, 5 to 600; the usual is 60. */
  minutes?: number;
  shape?: Shape;
  /** Months an entry rests after use with this circle, 0 to 120; the usual is 24. */
  restMonths?: number;
  /** The day of the meeting, ISO; today when left out. */
  on?: string;
  starts?: string;
  title?: string;
  parts?: { name: string; minutes: number; aim?: string }[];
  aims?: Partial<Record<Level, number>>;
  /** A guide to compose again: what was fixed by hand stays, what was refused stays out. */
  again?: Guide;
}

const USUAL_MINUTES = 60;
export const USUAL_REST_MONTHS = 24;
/** Fainter than this, an entry has nothing to do with the focus. */
const FAINTEST = 0.25;
/** The nearest so many are weighed; more never changed a demo guide and cost time. */
const MOST_CANDIDATES = 600;

/** Themes of a strand that a guide from it is to cover. */
const STRAND_THEMES = 4;

/** A candidate with what is known of it. */
export interface Weighed {
  candidate: Candidate;
  /** Missing for an item that is not of the journal. */
  entry?: Entry;
  relevance: Relevance;
  restSaid?: string;
  held?: HandSet;
}

/** The problem handed to `plan`, and its answer, with what is known of each candidate. */
export function planProblem(
  engine: Core,
  ask: PlanAsk,
): {
  request: PlanRequest;
  candidates: Candidate[];
  plan: Plan;
  weighed: Map<string, Weighed>;
  circle: Circle | undefined;
} {
  const shape = ask.shape ?? ask.again?.shape ?? 'discussion';
  const minutes = ask.minutes ?? ask.again?.minutes ?? USUAL_MINUTES;
  const circleId = ask.circle ?? ask.again?.circle;
  const circle = circleId && engine.journal.tables.circles.get(circleId);
  const request: PlanRequest = {
    shape,
    minutes,
    parts:
      ask.parts?.map((part) => ({ ...part, want: wantOf(shape, part.name) })) ??
      partsFor(shape, minutes),
    aims: { ...aimsFor(shape, minutes), ...ask.aims },
    focusBooks: focusOf(engine, ask.focus, 'book'),
    focusThemes: [...focusOf(engine, ask.focus, 'theme'), ...strandThemes(engine, ask.focus)],
    spareTarget: minutes,
  };
  const weighed = weigh(engine, ask, circle || undefined, request);
  const candidates = [...weighed.values()].map(({ candidate }) => candidate);
  return {
    request,
    candidates,
    plan: compose(request, candidates),
    weighed,
    circle: circle || undefined,
  };
}

function focusOf(engine: Core, focus: Focus, kind: 'book' | 'theme'): HeadingId[] {
  return focus.headings
    .map(({ heading }) => heading)
    .filter((id) => engine.journal.tables.headings.get(id)?.kind === kind);
}

/** A guide from a strand is to bring in the themes most central to it. */
function strandThemes(engine: Core, { strands = [] }: Focus): HeadingId[] {
  const isTheme = (id: HeadingId): boolean =>
    engine.journal.tables.headings.get(id)?.kind === 'theme';
  return strands.flatMap(({ headings }) => headings.filter(isTheme).slice(0, STRAND_THEMES));
}

function weigh(
  engine: Core,
  ask: PlanAsk,
  circle: Circle | undefined,
  request: PlanRequest,
): Map<string, Weighed> {
  const relevance = relevanceTo(engine, ask.focus);
  const held = handSet(ask.again, request.parts.length);
  const spare = keptSpare(ask.again);
  const refused = new Set(ask.again?.refused ?? []);
  for (const id of [...held.keys(), ...spare] as EntryId[]) {
    if (!relevance.has(id)) relevance.set(id, { score: FAINTEST, reasons: ['placed by you'] });
  }
  const nearest = [...relevance]
    .filter(([id, { score }]) => score >= FAINTEST || held.has(id) || spare.has(id))
    .sort(([a, x], [b, y]) => y.score - x.score || (a < b ? -1 : 1));
  const kept = nearest.filter(([id], at) => at < MOST_CANDIDATES || held.has(id) || spare.has(id));
  const weighed = new Map<string, Weighed>();
  for (const [id, found] of kept) {
    const entry = engine.journal.tables.entries.get(id);
    if (!entry) continue;
    const { rest, said } = restSaid(engine, entry, circle, ask);
    const fixed = held.get(id);
    const candidate: Candidate = {
      ...candidateOf(engine, entry, circle, request),
      relevance: Math.min(1, found.score),
      rest,
      must: (ask.focus.entries.includes(id) && !spare.has(id)) || (fixed?.item.must ?? false),
      refused: refused.has(id),
      spare: spare.has(id) && !fixed,
      ...(fixed?.item.level ? { level: fixed.item.level } : {}),
      ...(fixed
        ? { fixed: { part: fixed.part, position: fixed.position, minutes: fixed.item.minutes } }
        : {}),
    };
    // Homework that the leader chose is set at the end, whatever the shape.
    if (candidate.elsewhere && candidate.must)
      candidate.suits = { ...candidate.suits, [request.parts.at(-1)?.name ?? '']: 1 };
    const one: Weighed = { candidate, entry, relevance: found, restSaid: said };
    weighed.set(id, fixed ? { ...one, held: fixed } : one);
  }
  for (const one of held.values()) {
    if (weighed.has(one.id)) continue;
    const candidate = freeCandidate(one, request, stemsOf);
    weighed.set(one.id, {
      candidate,
      relevance: { score: 1, reasons: ['placed by you'] },
      held: one,
    });
  }
  return weighed;
}

function restSaid(
  engine: Core,
  entry: Entry,
  circle: Circle | undefined,
  ask: PlanAsk,
): { rest: number; said: string } {
  const months = ask.restMonths ?? ask.again?.restMonths ?? USUAL_REST_MONTHS;
  const on = ask.on ?? ask.starts?.slice(0, 10) ?? engine.nowIso().slice(0, 10);
  if (!circle) {
    const { last } = usesOf(engine.journal, entry.id);
    return { rest: 1, said: last ? `used before, last ${sayDate(last)}` : 'never used' };
  }
  const starts = ask.on ?? ask.starts ?? ask.again?.starts;
  const { last } = ask.again
    ? usesBefore(engine.journal, entry.id, {
        id: ask.again.id,
        circle: circle.id,
        ...(starts ? { starts } : {}),
      })
    : usesOf(engine.journal, entry.id, circle.id);
  return {
    rest: restOf(last, on, months),
    said: last ? `used with ${circle.name} ${sayDate(last)}` : `never used with ${circle.name}`,
  };
}

/** The parts of a candidate that come from the entry alone. */
function candidateOf(
  engine: Core,
  entry: Entry,
  circle: Circle | undefined,
  request: PlanRequest,
): Omit<Candidate, 'relevance' | 'rest'> {
  const { headings } = engine.journal.tables;
  const ofKind = (kind: string): HeadingId[] =>
    entry.ties.map((tie) => tie.heading).filter((id) => headings.get(id)?.kind === kind);
  const books = ofKind('book');
  const text = plainText(entry.text);
  const level = levelOf(entry, text);
  const place = placeNumber(entry.ties.find((tie) => tie.heading === books[0])?.place);
  const elsewhere = doneElsewhere(entry);
  const suited = request.parts.map((part) => [
    part.name,
    suits(request.shape, part.name, entry.kind, level, elsewhere),
  ]);
  return {
    id: entry.id,
    label: labelOf(text),
    kind: entry.kind,
    ...(level === undefined ? {} : { level }),
    minutes: minutesFor(entry, circle?.pace, circle?.size).minutes,
    books,
    themes: ofKind('theme'),
    words: stemsOf(text),
    ...(elsewhere ? { elsewhere } : {}),
    suits: Object.fromEntries(suited) as Record<string, number>,
    ...(place === undefined ? {} : { place }),
  };
}

/** The first words, for sentences that name an entry. */
const labelOf = (text: string): string =>
  text.length > 60 ? `${text.slice(0, text.lastIndexOf(' ', 58))}…` : text;

/** The level kept with the entry, or for a question the one its wording proposes. */
export function levelOf(entry: Entry, text: string): Level | undefined {
  if (entry.level) return entry.level;
  return entry.kind === 'question' ? proposeLevel(text).level : undefined;
}

function stemsOf(text: string): string[] {
  const stems = tokens(text)
    .map((token) => token.folded)
    .filter((word) => !STOP_WORDS.has(word))
    .map((word) => stem(word));
  return [...new Set(stems)];
}
