/** The whole journal as a map: places for everything, what lies at them, and what a search lights up on it. */
import { ENTRY_KINDS, type EntryId, type HeadingId, type TieRole } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { regionPlaces, type Region } from '../weave/regions';
import { thingSaid } from './chains';
import type { Core } from './core';
import { strandMembers, strandsNow } from './strands-held';
import type { JournalMap, KeptStrands, MapEntry, MapHits, MapWithin, Span } from './weave-answers';

const MOST_LINKS = 120;
const LEAST_SHARED = 3;
/** Entries tied to more headings than this tell little of any two of them. */
const MOST_TIES = 12;
const MOST_HITS = 5000;

/** What the last map was made of: numbers of entries and headings are told by it. */
interface Made {
  made: number;
  entries: EntryId[];
  numbers: Map<string, number>;
  headings: HeadingId[];
}
const lastMade = new WeakMap<Core, Made & { key: string; map: JournalMap }>();
let count = 0;
/** The entries of the maps made last, by what each was made as: a screen may hold numbers of one while others are made. */
const ordersMade = new WeakMap<Core, Map<number, EntryId[]>>();
const MOST_ORDERS = 8;

export function journalMap(core: Core, kept?: KeptStrands): JournalMap {
  const { journal } = core;
  const strands = strandsNow(core, kept);
  // Filtering asks again and again for a map that has not changed.
  const key = JSON.stringify([core.revision, strands]);
  const last = lastMade.get(core);
  if (last?.key === key) return last.map;
  const entries = [...journal.tables.entries.values()].map(({ id }) => id).sort();
  const numbers = new Map<string, number>(entries.map((id, at) => [id, at]));
  const groups = groupsOf(core, strands, entries, numbers);
  const placed = regionPlaces(
    groups.map(({ region }) => region),
    entries.length,
  );
  const regionOf = new Uint16Array(entries.length);
  groups.forEach(({ region }, at) => {
    for (const heading of region.headings)
      for (const entry of heading.entries) regionOf[entry] = at;
    for (const entry of region.loose) regionOf[entry] = at;
  });
  const headings = groups.flatMap(({ ids, strand }, group) =>
    ids.map((id, at): JournalMap['headings'][number] => {
      const { kind, name } = journal.tables.headings.get(id)!;
      const place = placed.headings[group]![at]!;
      const own = entriesTiedTo(journal, id).size;
      const head = { id, kind, name, x: place.x, y: place.y, entries: own };
      return strand === undefined ? head : { ...head, strand };
    }),
  );
  const made: Made = { made: ++count, entries, numbers, headings: headings.map(({ id }) => id) };
  headings.forEach(({ id }, at) => made.numbers.set(id, at));
  const map: JournalMap = {
    regions: groups.map(({ strand, name, region }, at) => ({
      ...(strand === undefined ? {} : { id: strand }),
      name,
      ...placed.regions[at]!,
      entries: region.headings.reduce((sum, one) => sum + one.entries.length, region.loose.length),
    })),
    headings,
    places: placed.entries,
    kinds: Uint8Array.from(entries, (id) =>
      ENTRY_KINDS.indexOf(journal.tables.entries.get(id)!.kind),
    ),
    regionOf,
    links: linksOf(core, made),
    strands,
    made: made.made,
  };
  lastMade.set(core, { ...made, key, map });
  rememberOrder(core, made);
  return map;
}

function rememberOrder(core: Core, { made, entries }: Made): void {
  const orders = ordersMade.get(core) ?? new Map<number, EntryId[]>();
  orders.set(made, entries);
  for (const old of orders.keys()) if (orders.size > MOST_ORDERS) orders.delete(old);
  ordersMade.set(core, orders);
}

/**
 * For each entry of a map made earlier its number on a later one, -1 where it is not there; empty where either of them was made too long ago to
 * be told.
 */
export function mapMoved(core: Core, from: number, to: number): Int32Array {
  const orders = ordersMade.get(core);
  const [old, now] = [orders?.get(from), orders?.get(to)];
  if (!old || !now) return new Int32Array();
  const numbers = new Map(now.map((id, at) => [id, at]));
  return Int32Array.from(old, (id) => numbers.get(id) ?? -1);
}

interface Group {
  strand?: string;
  name: string;
  ids: HeadingId[];
  region: Region;
}

/** Each entry lies with the rarest of its headings that is in its strand. Headings without any entry are left out. */
function groupsOf(
  core: Core,
  strands: JournalMap['strands'],
  entries: readonly EntryId[],
  numbers: ReadonlyMap<string, number>,
): Group[] {
  const { journal } = core;
  const placed = new Set<EntryId>();
  const named = new Set<HeadingId>();
  const holds = (id: HeadingId): boolean => entriesTiedTo(journal, id).size > 0;
  const group = (
    ids: HeadingId[],
    own: Iterable<EntryId>,
  ): { ids: HeadingId[]; region: Region } => {
    const at = new Map(ids.map((id, place) => [id, place]));
    const lists: number[][] = ids.map(() => []);
    const loose: number[] = [];
    for (const id of own) {
      const entry = journal.tables.entries.get(id);
      const number = numbers.get(id);
      if (!entry || number === undefined || placed.has(id)) continue;
      placed.add(id);
      let rarest: HeadingId | undefined;
      for (const { heading } of entry.ties) {
        if (!at.has(heading)) continue;
        const size = entriesTiedTo(journal, heading).size;
        if (!rarest || size < entriesTiedTo(journal, rarest).size) rarest = heading;
      }
      if (rarest) lists[at.get(rarest)!]!.push(number);
      else loose.push(number);
    }
    const headings = ids.map((id, place) => ({
      entries: lists[place]!,
      size: entriesTiedTo(journal, id).size,
    }));
    return { ids, region: { headings, loose } };
  };
  const out = strands.strands.flatMap(({ id, name, themes, books, people }): Group[] => {
    const members = strandMembers(core, id);
    const all = [...themes, ...books, ...people].map((heading) => heading.id);
    const ids = all.filter((heading) => !named.has(heading) && holds(heading));
    ids.forEach((heading) => named.add(heading));
    return members ? [{ strand: id, name, ...group(ids, members.entries) }] : [];
  });
  const rest = [...journal.tables.headings.values()]
    .map(({ id }) => id)
    .filter((id) => !named.has(id) && holds(id))
    .sort();
  const others = entries.filter((id) => !placed.has(id));
  if (rest.length + others.length > 0) out.push({ name: 'In no strand', ...group(rest, others) });
  return out;
}

function linksOf({ journal }: Core, { entries, numbers, headings }: Made): JournalMap['links'] {
  const shared = new Map<number, number>();
  for (const id of entries) {
    const ties = journal.tables.entries.get(id)?.ties ?? [];
    const held = [...new Set(ties.map(({ heading }) => numbers.get(heading) ?? -1))]
      .filter((at) => at >= 0)
      .sort((a, b) => a - b);
    if (held.length > MOST_TIES) continue;
    held.forEach((a, at) => {
      for (const b of held.slice(at + 1)) {
        const key = a * headings.length + b;
        shared.set(key, (shared.get(key) ?? 0) + 1);
      }
    });
  }
  return [...shared]
    .filter(([, weight]) => weight >= LEAST_SHARED)
    .sort((a, b) => b[1] - a[1] || a[0] - b[0])
    .slice(0, MOST_LINKS)
    .map(([key, weight]) => ({
      from: Math.floor(key / headings.length),
      to: key % headings.length,
      weight,
    }));
}

/** Entries of a map by number, as they are told; nothing where the map was made before the last one. */
export function mapEntries(core: Core, made: number, at: readonly number[]): MapEntry[] {
  const last = lastMade.get(core);
  if (!last || last.made !== made) return [];
  return at.flatMap((number): MapEntry[] => {
    const id = last.entries[number];
    const thing = id && thingSaid(core, id);
    if (!thing) return [];
    const ties = core.journal.tables.entries.get(id)?.ties ?? [];
    const headings = [...new Set(ties.flatMap(({ heading }) => last.numbers.get(heading) ?? []))];
    return [{ ...thing, number, headings }];
  });
}

/** What of the last map lies within a stretch of time and is tied in one of some roles; nothing where the map was made before the last one. */
export function mapWithin(
  core: Core,
  made: number,
  { span, roles }: { span?: Span; roles?: readonly TieRole[] },
): MapWithin {
  const last = lastMade.get(core);
  const known = last?.made === made ? last : undefined;
  const entries = new Uint8Array(known?.entries.length ?? 0);
  const headings = new Uint32Array(known?.headings.length ?? 0);
  const { cloth } = core.weaveIndex;
  const timed = span?.from !== undefined || span?.to !== undefined;
  known?.entries.forEach((id, at) => {
    const entry = core.journal.tables.entries.get(id);
    if (!entry || (timed && !cloth.holds(id, span))) return;
    const ties = roles ? entry.ties.filter(({ role }) => roles.includes(role)) : entry.ties;
    if (roles && ties.length === 0) return;
    entries[at] = 1;
    for (const heading of new Set(ties.map((tie) => tie.heading))) {
      const number = known.numbers.get(heading);
      if (number !== undefined) headings[number]! += 1;
    }
  });
  return { entries, headings };
}

/** What a search finds, as numbers of the last map; `total` counts also what is past the first five thousand. */
export function mapHits(core: Core, text: string): MapHits {
  const last = lastMade.get(core);
  if (!last || text.trim() === '') return { made: 0, entries: [], headings: [], total: 0 };
  const found = core.findIndex.find({ text, limit: MOST_HITS }, core.nowIso());
  const at = (ids: readonly string[]): number[] => ids.flatMap((id) => last.numbers.get(id) ?? []);
  return {
    made: last.made,
    entries: at(found.hits.map(({ id }) => id)),
    headings: at(found.headings.map(({ id }) => id)),
    total: found.total,
  };
}
