/** A composed guide told: the answer in words, the guide to keep, and how near the best a guide stands. */
import type { Circle, EntryId, Focus, Guide, GuideId, GuideItem, Shape } from '../journal/records';
import { plainText } from '../language/markdown';
import { worthOf, type Plan } from '../plan/compose';
import type { Composed, PlannedItem, Standing } from './answers';
import { cautionsOf, sourcesOf } from './care';
import type { Core } from './core';
import { handSet, keptSpare, kindOf } from './hand-set';
import { levelOf, planProblem, USUAL_REST_MONTHS, type PlanAsk, type Weighed } from './planning';
import { tiesSaid } from './rows';

export function composeGuide(engine: Core, ask: PlanAsk): Composed {
  const { request, plan, weighed, circle } = planProblem(engine, ask);
  const { shape, minutes } = request;
  return told(engine, ask, { shape, minutes, circle, plan, weighed });
}

/**
 * How the guide as it stands compares with the best for the same purpose that keeps what was set by hand. The
 * value can be above the bound only where it runs over its time.
 */
export function standing(engine: Core, ask: PlanAsk, guide: Guide): Standing {
  const { request, candidates, plan } = planProblem(engine, { ...ask, again: guide });
  const held = handSet(guide, request.parts.length);
  const known = new Set(candidates.map(({ id }) => id));
  const freely = new Map([...held.values()].map((one) => [one.item, one.id]));
  const parts = guide.parts.map((part) =>
    part.items.flatMap((item) => {
      const id = freely.get(item) ?? item.entry;
      return id !== undefined && known.has(id) ? [id] : [];
    }),
  );
  const value = worthOf(request, candidates, parts);
  const { bound } = plan.objective;
  return { value, bound, gap: Math.max(0, bound - value) / Math.max(Math.abs(bound), 1e-9) };
}

type Placed = PlannedItem & { id: string };

const withoutId = ({ id: _id, ...item }: Placed): PlannedItem => item;

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
  const item = (id: string, minutes: number, must: boolean, reasons: string[] = []): Placed => {
    const { entry, relevance, restSaid: rest, held } = weighed.get(id)!;
    const text = plainText(held?.item.text ?? entry?.text ?? '');
    const level = held?.item.level ?? (entry && levelOf(entry, text));
    return {
      id,
      ...(entry ? { entry: entry.id } : {}),
      text,
      kind: entry?.kind ?? kindOf(held!.item),
      ...(level ? { level } : {}),
      minutes,
      must,
      reasons: [...new Set([...relevance.reasons.slice(0, 3), ...reasons, rest ?? []].flat())],
      ties: tiesSaid(engine.journal, entry?.ties ?? []),
    };
  };
  const parts = plan.parts.map((part) => ({
    name: part.name,
    minutes: part.minutes,
    items: part.items.map((placed) => item(placed.id, placed.minutes, placed.must, placed.reasons)),
  }));
  const spare = plan.spare.map(({ id, minutes }) => item(id, minutes, false));
  const entries = parts.flatMap((part) =>
    part.items.flatMap(({ id }) => weighed.get(id)!.entry ?? []),
  );
  const careful = parts.flatMap((part) =>
    part.items.flatMap(({ id }) => {
      const { entry, held } = weighed.get(id)!;
      return entry ?? held?.item ?? [];
    }),
  );
  const { hazards, said: cautions } = cautionsOf(careful);
  const guide = guideOf(engine, ask, made, parts, spare);
  const { value, bound, gap } = plan.objective;
  return {
    answer: {
      title: guide.title,
      shape: made.shape,
      minutes: made.minutes,
      planned: plan.planned,
      parts: parts.map((part) => ({ ...part, items: part.items.map(withoutId) })),
      spare: spare.map(withoutId),
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
  parts: { name: string; minutes: number; items: Placed[] }[],
  spare: Placed[],
): Guide {
  const { again } = ask;
  const kept = keptSpare(again);
  const { entries } = engine.journal.tables;
  const asItem = (planned: Placed): GuideItem => ({
    ...made.weighed.get(planned.id)?.held?.item,
    ...(planned.entry ? { entry: planned.entry } : {}),
    minutes: planned.minutes,
    must: planned.must,
  });
  const asSpare = (planned: Placed): GuideItem => {
    const { must: _must, ...item } = asItem(planned);
    return { ...item, must: false, ...(kept.has(planned.entry!) ? { fixed: true } : {}) };
  };
  const own = (again?.spare ?? []).filter(({ entry }) => !entry);
  return {
    ...again,
    id: again?.id ?? (engine.around.newId() as GuideId),
    title: ask.title ?? again?.title ?? titleOf(engine, ask.focus),
    shape: made.shape,
    focus: { ...ask.focus, entries: ask.focus.entries.filter((id) => entries.has(id)) },
    ...(made.circle ? { circle: made.circle.id } : {}),
    minutes: made.minutes,
    ...(ask.starts ? { starts: ask.starts } : {}),
    parts: parts.map((part, index) => ({
      ...(again?.parts[index]?.name === part.name ? again.parts[index] : {}),
      ...ask.parts?.[index],
      name: part.name,
      minutes: part.minutes,
      items: part.items.map(asItem),
    })),
    spare: [...own, ...spare.map(asSpare)],
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
  const about = [
    ...focus.words.map(capitalised),
    ...(focus.strands ?? []).map(({ name }) => name),
    ...named('theme'),
    ...named('person'),
  ];
  const books = named('book');
  if (about.length === 0) return books.length > 0 ? list.format(books) : 'From the whole journal';
  return books.length > 0 ? `${list.format(about)}, in ${list.format(books)}` : list.format(about);
}

const capitalised = (text: string): string =>
  text.charAt(0).toLocaleUpperCase('en-GB') + text.slice(1);
