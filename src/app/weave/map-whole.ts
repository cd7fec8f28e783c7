/** The whole journal as a scene: which headings and entries are shown under what is filtered, and where they stand. */
import type { JournalMap, MapEntry, MapWithin, StrandShown } from '../../engine/weave-answers';
import { ENTRY_KINDS, type EntryKind, type HeadingKind } from '../../journal/records';
import type { Scene, SceneNode } from './map-scene';

export type MapKind = EntryKind | HeadingKind;

/** What a map leaves out. */
interface MapFilters {
  kinds: readonly MapKind[];
  strand?: string | undefined;
}

/** So many headings are named wherever there is room. */
const NAMED = 24;

type Heading = JournalMap['headings'][number];
const strandsOf = (whole: JournalMap): Map<string, StrandShown> =>
  new Map(whole.strands.strands.map((strand) => [strand.id, strand]));

/** Headings that are shown, each with how many of its entries lie within what is asked for. */
export function shownHeadings(
  whole: JournalMap,
  { kinds, strand }: MapFilters,
  within: MapWithin | undefined,
): Heading[] {
  return whole.headings.flatMap((heading, at) => {
    if (!kinds.includes(heading.kind) || (strand && heading.strand !== strand)) return [];
    if (!within) return [heading];
    const entries = within.headings[at] ?? 0;
    return entries > 0 ? [{ ...heading, entries }] : [];
  });
}

/** Which entries are shown, by number: those of every kind unless some are asked for. */
export function shownDots(
  whole: JournalMap,
  { kinds, strand }: MapFilters,
  within: MapWithin | undefined,
): (dot: number) => boolean {
  const own = ENTRY_KINDS.map((kind) => kinds.includes(kind));
  const every = !own.includes(true);
  return (dot) =>
    (every || own[whole.kinds[dot]!] === true) &&
    (!within || within.entries[dot] === 1) &&
    (!strand || whole.regions[whole.regionOf[dot]!]?.id === strand);
}

/** How many of the entries shown lie in each region, by its number. */
export function shownIn(whole: JournalMap, shown: (dot: number) => boolean): number[] {
  const counts = whole.regions.map(() => 0);
  whole.regionOf.forEach((region, dot) => {
    if (shown(dot)) counts[region]! += 1;
  });
  return counts;
}

/** Numbers of the entries among keys of a whole map's nodes. */
export const entryNumbers = (keys: Iterable<string>): number[] =>
  [...keys].flatMap((key) => (key.startsWith('e:') ? +key.slice(2) : []));

/** Keys of a map on the one that took its place: entries by their numbers there, and nothing that is gone from it. */
export function keysOn(
  keys: Iterable<string>,
  last: JournalMap,
  whole: JournalMap,
  moved: Int32Array,
): string[] {
  const there = new Set<string>(whole.headings.map(({ id }) => id));
  const gone = new Set<string>(last.headings.flatMap(({ id }) => (there.has(id) ? [] : id)));
  return [...keys].flatMap((key) => {
    if (!key.startsWith('e:')) return gone.has(key) ? [] : key;
    const at = moved[+key.slice(2)] ?? -1;
    return at < 0 ? [] : `e:${at}`;
  });
}

export function wholeScene(
  whole: JournalMap,
  filters: MapFilters,
  within: MapWithin | undefined,
): Scene {
  const strands = strandsOf(whole);
  const most = Math.max(1, ...whole.headings.map(({ entries }) => entries));
  const shown = shownHeadings(whole, filters, within);
  const large = new Set(
    [...shown]
      .sort((a, b) => b.entries - a.entries || (a.id < b.id ? -1 : 1))
      .slice(0, NAMED)
      .map(({ id }) => id),
  );
  const nodes = shown.map((heading): SceneNode => {
    const strand = heading.strand && strands.get(heading.strand);
    return {
      key: heading.id,
      kind: heading.kind,
      label: heading.name,
      x: heading.x,
      y: heading.y,
      size: 4 + 7 * Math.sqrt(heading.entries / most),
      first: large.has(heading.id),
      ...(strand ? { strand } : {}),
    };
  });
  const keyOf = (at: number): string => whole.headings[at]!.id;
  const dyes = whole.regions.map(({ id }) => (id === undefined ? undefined : strands.get(id)));
  return {
    nodes,
    links: whole.links.map(({ from, to, weight }) => ({
      from: keyOf(from),
      to: keyOf(to),
      weight: weight / 6,
      faint: true,
    })),
    regions: whole.regions.flatMap(({ id, name, x, y, radius }, at) => {
      if (filters.strand && id !== filters.strand) return [];
      const strand = dyes[at];
      return [{ name, x, y, radius, ...(strand ? { strand } : {}) }];
    }),
    dots: {
      places: whole.places,
      regionOf: whole.regionOf,
      strands: dyes,
      shown: shownDots(whole, filters, within),
    },
  };
}

/** Entries that came near, as nodes with words; `unit` is how many pixels a unit of the plane takes. */
export function entryNodes(
  whole: JournalMap,
  rows: readonly MapEntry[],
  unit: number,
): SceneNode[] {
  const strands = strandsOf(whole);
  return rows.map((row): SceneNode => {
    const region = whole.regions[whole.regionOf[row.number]!];
    const strand = region?.id && strands.get(region.id);
    return {
      key: `e:${row.number}`,
      kind: row.kind,
      label: row.text,
      x: whole.places[row.number * 2]!,
      y: whole.places[row.number * 2 + 1]!,
      size: Math.min(7, unit * 0.36),
      ...(strand ? { strand } : {}),
    };
  });
}
