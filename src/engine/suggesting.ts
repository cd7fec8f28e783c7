/** Suggestions beside a guide in the making, and why an entry was not taken. */
import type { CircleId, EntryId, GuideItem } from '../journal/records';
import { capital } from '../journal/labels';
import { usesBefore, usesOf } from '../journal/uses';
import { sayDate } from '../language/dates';
import { plainText } from '../language/markdown';
import { minutesFor } from '../plan/minutes';
import { restOf } from '../plan/rest';
import { suits } from '../plan/shapes';
import { whyNot } from '../plan/why-not';
import { aheadOf } from './chapters';
import type { SuggestAsk, Suggestion } from './desk';
import type { Core } from './core';
import { levelOf, planProblem, type PlanAsk } from './planning';
import { relevanceTo } from './relevance';
import { tiesSaid } from './rows';
import { nearResult } from './weaving';
import { aimsFor } from '../plan/aims';

const LIMIT = 24;
/** How much a thin level raises an entry that would fill it. */
const FILLS = 0.25;

/** Entries that would go well in a part, or beside an item, the best first. None that the guide holds or has refused. */
export function suggestions(engine: Core, ask: SuggestAsk): Suggestion[] {
  const { guide, part, beside } = ask;
  const held = new Set([
    ...guide.parts.flatMap((one) => one.items.flatMap((item) => item.entry ?? [])),
    ...(guide.refused ?? []),
  ]);
  const relevance = relevanceTo(engine, ask.plan.focus);
  const near = new Map(
    beside
      ? nearResult(engine, { entries: [beside], limit: 60, entriesOnly: true }).map(
          (hit) => [hit.id, hit] as const,
        )
      : [],
  );
  const nearest = Math.max(...[...near.values()].map((hit) => hit.score), Number.MIN_VALUE);
  const thin = thinLevels(
    guide.parts.flatMap((one) => one.items),
    engine,
    ask.plan,
  );
  const circle = guide.circle && engine.journal.tables.circles.get(guide.circle);
  const on = guide.starts?.slice(0, 10) ?? engine.nowIso().slice(0, 10);
  const found: (Suggestion & { rank: number })[] = [];
  const ids = new Set<string>([...relevance.keys(), ...near.keys()]);
  for (const id of ids) {
    const entry = engine.journal.tables.entries.get(id);
    if (!entry || held.has(entry.id)) continue;
    const text = plainText(entry.text);
    const level = levelOf(entry, text);
    const told = relevance.get(entry.id);
    const beside = near.get(id);
    const { last } = circle
      ? usesBefore(engine.journal, entry.id, guide)
      : usesOf(engine.journal, entry.id);
    const rest = circle ? restOf(last, on, guide.restMonths ?? 24) : 1;
    const fit = part ? suits(guide.shape, part, entry.kind, level) : 1;
    const fills = level && thin.has(level) ? FILLS : 0;
    const nearness = beside ? beside.score / nearest : 0;
    const rank =
      ((told?.score ?? 0) + (near.size > 0 ? 1.2 * nearness : 0) + fills) *
      (0.35 + 0.65 * rest) *
      fit;
    if (rank <= 0) continue;
    const reasons = [
      ...(beside ? beside.reasons.slice(0, 2) : []),
      ...(told?.reasons ?? []),
      ...(level && fills ? [`gives minutes to ${capital(level)}, which has few`] : []),
    ];
    found.push({
      entry: entry.id,
      text,
      kind: entry.kind,
      ...(level ? { level } : {}),
      minutes: minutesFor(entry, circle?.pace, circle?.size).minutes,
      must: false,
      reasons: [...new Set(reasons)].slice(0, 3),
      ties: tiesSaid(engine.journal, entry.ties),
      fresh: freshSaid(last, circle?.id, engine, entry.id),
      rested: rest > 0.5,
      rank,
    });
  }
  return found
    .sort((a, b) => b.rank - a.rank || (a.entry < b.entry ? -1 : 1))
    .slice(0, ask.limit ?? LIMIT)
    .map(({ rank: _rank, ...suggestion }) => suggestion);
}

function freshSaid(
  last: string | undefined,
  circle: CircleId | undefined,
  engine: Core,
  id: EntryId,
): string {
  if (last) return circle ? `Used with this circle ${sayDate(last)}` : `Used ${sayDate(last)}`;
  const elsewhere = usesOf(engine.journal, id).meetings.find((use) => use.circle !== circle)?.on;
  return elsewhere ? `Used elsewhere ${sayDate(elsewhere)}` : 'Never used';
}

/** Levels with less than half the minutes aimed at. */
function thinLevels(items: readonly GuideItem[], engine: Core, plan: PlanAsk): ReadonlySet<string> {
  const aims = { ...aimsFor(plan.shape ?? 'discussion', plan.minutes ?? 60), ...plan.aims };
  const held: Record<string, number> = {};
  for (const item of items) {
    const entry = item.entry && engine.journal.tables.entries.get(item.entry);
    const level = item.level ?? (entry ? levelOf(entry, plainText(entry.text)) : undefined);
    if (level) held[level] = (held[level] ?? 0) + item.minutes;
  }
  return new Set(
    Object.entries(aims).flatMap(([level, aim]) => ((held[level] ?? 0) < aim / 2 ? [level] : [])),
  );
}

/** One line why an entry is not in the guide that would be composed for this ask. */
export function whyNotThis(engine: Core, ask: PlanAsk, id: EntryId): string {
  const { request, candidates, plan } = planProblem(engine, ask);
  const isWeighed = candidates.some((candidate) => candidate.id === id);
  if (!isWeighed && aheadOf(engine.journal, ask.focus).has(id))
    return 'It comes after the chapters this guide is on.';
  return whyNot(id, request, candidates, plan);
}
