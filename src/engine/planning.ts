/** Composes a guide: gathers candidates with their relevance, rest and minutes, lets `plan` choose, and tells the answer. */
import type {
  Circle,
  CircleId,
  Entry,
  EntryId,
  Focus,
  Guide,
  GuideId,
  GuideItem,
  HeadingId,
  Level,
  Shape,
} from '../journal/records';
import { usesOf } from '../journal/uses';
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
import type { Composed, PlannedItem } from './answers';
import { cautionsOf, sourcesOf } from './care';
import type { Core } from './core';
import { placeNumber, relevanceTo, type Relevance } from './relevance';
import { tiesSaid } from './rows';

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
const USUAL_REST_MONTHS = 24;
/** Fainter than this, an entry has nothing to do with the focus. */
const FAINTEST = 0.25;
/** The nearest so many are weighed; more never changed a demo guide and cost time. */
const MOST_CANDIDATES = 600;

interface Weighed {
  candidate: Candidate;
  entry: Entry;
  relevance: Relevance;
  restSaid: string;
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
    focusThemes: focusOf(engine, ask.focus, 'theme'),
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

export function composeGuide(engine: Core, ask: PlanAsk): Composed {
  const { request, plan, weighed, circle } = planProblem(engine, ask);
  const { shape, minutes } = request;
  return told(engine, ask, { shape, minutes, circle, plan, weighed });
}

function focusOf(engine: Core, focus: Focus, kind: 'book' | 'theme'): HeadingId[] {
  return focus.headings
    .map(({ heading }) => heading)
    .filter((id) => engine.journal.tables.headings.get(id)?.kind === kind);
}

function weigh(
  engine: Core,
  ask: PlanAsk,
  circle: Circle | undefined,
  request: PlanRequest,
): Map<string, Weighed> {
  const relevance = relevanceTo(engine, ask.focus);
  const held = fixedIn(ask.again);
  for (const id of held.keys()) {
    if (!relevance.has(id)) relevance.set(id, { score: FAINTEST, reasons: ['placed by you'] });
  }
  const refused = new Set(ask.again?.refused ?? []);
  const nearest = [...relevance]
    .filter(([id, { score }]) => score >= FAINTEST || held.has(id))
    .sort(([a, x], [b, y]) => y.score - x.score || (a < b ? -1 : 1))
    .slice(0, MOST_CANDIDATES);
  const weighed = new Map<string, Weighed>();
  for (const [id, found] of nearest) {
    const entry = engine.journal.tables.entries.get(id);
    if (!entry) continue;
    const { rest, said } = restSaid(engine, entry, circle, ask);
    const chosen = ask.focus.entries.includes(id);
    const fixed = held.get(id);
    const candidate: Candidate = {
      ...candidateOf(engine, entry, circle, request),
      relevance: Math.min(1, found.score),
      rest,
      must: chosen || (fixed?.item.must ?? false),
      refused: refused.has(id),
      ...(fixed
        ? { fixed: { part: fixed.part, position: fixed.position, minutes: fixed.item.minutes } }
        : {}),
    };
    weighed.set(id, { candidate, entry, relevance: found, restSaid: said });
  }
  return weighed;
}

/** Items of an earlier guide that composing again must leave where they are. */
function fixedIn(
  guide: Guide | undefined,
): Map<EntryId, { part: number; position: number; item: GuideItem }> {
  const held = new Map<EntryId, { part: number; position: number; item: GuideItem }>();
  guide?.parts.forEach((part, partIndex) =>
    part.items.forEach((item, position) => {
      if (item.entry && (item.fixed || item.must))
        held.set(item.entry, { part: partIndex, position, item });
    }),
  );
  return held;
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
  const { last } = usesOf(engine.journal, entry.id, circle.id);
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
  const suited = request.parts.map((part) => [
    part.name,
    suits(request.shape, part.name, entry.kind, level),
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

interface Made {
  shape: Shape;
  minutes: number;
  circle: Circle | undefined;
  plan: Plan;
  weighed: Map<string, Weighed>;
}

/** The plan told in words, and the guide to keep. */
function told(engine: Core, ask: PlanAsk, made: Made): Composed {
  const { plan, weighed } = made;
  const item = (
    id: string,
    minutes: number,
    must: boolean,
    reasons: string[] = [],
  ): PlannedItem => {
    const { entry, relevance, restSaid: rest } = weighed.get(id)!;
    const text = plainText(entry.text);
    const level = levelOf(entry, text);
    return {
      entry: entry.id,
      text,
      kind: entry.kind,
      ...(level ? { level } : {}),
      minutes,
      must,
      reasons: [...new Set([...relevance.reasons.slice(0, 3), ...reasons, rest])],
      ties: tiesSaid(engine.journal, entry.ties),
    };
  };
  const parts = plan.parts.map((part) => ({
    name: part.name,
    minutes: part.minutes,
    items: part.items.map((placed) => item(placed.id, placed.minutes, placed.must, placed.reasons)),
  }));
  const spare = plan.spare.map(({ id, minutes }) => item(id, minutes, false));
  const entries = parts.flatMap((part) =>
    part.items.map(({ entry }) => weighed.get(entry!)!.entry),
  );
  const { hazards, said: cautions } = cautionsOf(entries);
  const guide = guideOf(engine, ask, made, parts, spare);
  const { value, bound, gap } = plan.objective;
  return {
    answer: {
      title: guide.title,
      shape: made.shape,
      minutes: made.minutes,
      planned: plan.planned,
      parts,
      spare,
      levels: plan.levels,
      cautions,
      sources: sourcesOf(engine.journal, entries),
      objective: { value, bound, gap },
    },
    guide,
    hazards,
    late: plan.late as EntryId[],
    candidates: weighed.size,
  };
}

function guideOf(
  engine: Core,
  ask: PlanAsk,
  made: Made,
  parts: { name: string; minutes: number; items: PlannedItem[] }[],
  spare: PlannedItem[],
): Guide {
  const fixed = fixedIn(ask.again);
  const asItem = (planned: PlannedItem): GuideItem => ({
    ...fixed.get(planned.entry!)?.item,
    entry: planned.entry!,
    minutes: planned.minutes,
    must: planned.must,
  });
  const { again } = ask;
  return {
    ...again,
    id: again?.id ?? (engine.around.newId() as GuideId),
    title: ask.title ?? again?.title ?? titleOf(engine, ask.focus),
    shape: made.shape,
    focus: ask.focus,
    ...(made.circle ? { circle: made.circle.id } : {}),
    minutes: made.minutes,
    ...(ask.starts ? { starts: ask.starts } : {}),
    parts: parts.map((part, index) => ({
      ...again?.parts[index],
      ...ask.parts?.[index],
      name: part.name,
      minutes: part.minutes,
      items: part.items.map(asItem),
    })),
    spare: spare.map(asItem),
    restMonths: ask.restMonths ?? again?.restMonths ?? USUAL_REST_MONTHS,
    ...(ask.aims ? { aims: ask.aims } : {}),
    made: again?.made ?? engine.nowIso(),
  };
}

/** A working title from the focus: "Learning to read, in Frankenstein and Narrative". */
export function titleOf(engine: Core, focus: Focus): string {
  const named = (kind: string): string[] =>
    focus.headings.flatMap(({ heading }) => {
      const found = engine.journal.tables.headings.get(heading);
      return found?.kind === kind ? [found.name] : [];
    });
  const list = new Intl.ListFormat('en-GB');
  const about = [...focus.words.map(capitalised), ...named('theme'), ...named('person')];
  const books = named('book');
  if (about.length === 0) return books.length > 0 ? list.format(books) : 'From the whole journal';
  return books.length > 0 ? `${list.format(about)}, in ${list.format(books)}` : list.format(about);
}

const capitalised = (text: string): string =>
  text.charAt(0).toLocaleUpperCase('en-GB') + text.slice(1);
