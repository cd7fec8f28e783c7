/**
 * What a journal has in it of other devices' journals, so that when copies are merged it can be told which side has changed a
 * row since the other last had it. A row's `changed` tells when it came to be so in the journal that holds it, by
 * that device's clock; a lineage tells up to when another journal has it all.
 */
import type { Entry, Journal } from '../journal/records';

/** For each journal, by its site, the ISO time of its newest copy that is in this one. */
type Had = Record<string, string>;

export interface Lineage {
  /** A journal on one device, from its opening on: an id. */
  site: string;
  /** When it was opened from a copy, and what was in that. */
  begun?: { at: string; had: Had };
  had: Had;
}

/** The top-level field of a journal file that holds the lineage of the journal it was saved from. */
export const FIELD = 'copies';

/** A lineage out of a file or the store, or undefined where it is none. */
export function readLineage(value: unknown): Lineage | undefined {
  const { site, begun, had } = (value ?? {}) as Partial<Lineage>;
  if (typeof site !== 'string' || !isHad(had)) return undefined;
  const good =
    typeof begun === 'object' && begun && typeof begun.at === 'string' && isHad(begun.had);
  return { site, had, ...(good ? { begun } : {}) };
}

const isHad = (had: unknown): had is Had =>
  typeof had === 'object' &&
  had !== null &&
  !Array.isArray(had) &&
  Object.values(had).every((time) => typeof time === 'string');

const timeIn = (had: Had, site: string): string => (Object.hasOwn(had, site) ? had[site]! : '');
const later = (one: string, other: string): string => (one > other ? one : other);

/** The lineage of a journal that is opened from a copy at `at`. `print` tells a file without a lineage from others. */
export function begunFrom(
  copy: Lineage | undefined,
  print: string,
  site: string,
  at: string,
): Lineage {
  const had = copy?.had ?? { [`file ${print}`]: '' };
  return { site, begun: { at, had }, had };
}

/** As it stands in a copy saved at `at`, and in the journal from then on. */
export const saved = (lineage: Lineage, at: string): Lineage => ({
  ...lineage,
  had: { ...lineage.had, [lineage.site]: at },
});

/** The newest moment at which another journal may have taken over what this one holds. */
export const newestOwn = (lineage: Lineage | undefined): string | undefined =>
  lineage && (later(timeIn(lineage.had, lineage.site), lineage.begun?.at ?? '') || undefined);

/** After another journal has been merged in. */
export function joinedWith(lineage: Lineage, there: Lineage | undefined): Lineage {
  const had = { ...lineage.had };
  for (const [site, time] of Object.entries(there?.had ?? {}))
    had[site] = later(timeIn(had, site), time);
  return { ...lineage, had };
}

/** The last moment up to which `other` has everything that `one` holds; the empty text where it cannot be told. */
function knownTo(other: Lineage, one: Lineage, oneIsCopy: boolean): string {
  // A copy may have been altered after it was saved: what it says it is counts, not what came after.
  const saved = timeIn(one.had, one.site);
  const seen = other.site === one.site && oneIsCopy ? saved : timeIn(other.had, one.site);
  const known = oneIsCopy && saved < seen ? saved : seen;
  const { begun } = one;
  if (!begun) return known;
  const covered = Object.entries(begun.had).every(
    ([site, time]) =>
      site === other.site || (Object.hasOwn(other.had, site) && other.had[site]! >= time),
  );
  return covered ? later(known, begun.at) : known;
}

export interface Parted {
  /** Entries changed later than this here are not known there; the empty text where that cannot be told. */
  ours: string;
  theirs: string;
}

/** Since when a journal and a copy have gone apart, each by its own clock. */
export function parted(here: Lineage, there: Lineage | undefined): Parted {
  if (!there) return { ours: '', theirs: '' };
  return { ours: knownTo(there, here, false), theirs: knownTo(here, there, true) };
}

/** A journal and the lineage its file had. */
export function withoutLineage(journal: Journal): {
  journal: Journal;
  lineage: Lineage | undefined;
} {
  const { [FIELD]: found, ...rest } = journal.unknown ?? {};
  const { unknown: _unknown, ...known } = journal;
  const lineage = readLineage(found);
  if (!lineage) return { journal, lineage };
  return { journal: Object.keys(rest).length > 0 ? { ...known, unknown: rest } : known, lineage };
}

export const withLineage = (journal: Journal, lineage: Lineage): Journal => ({
  ...journal,
  unknown: { ...journal.unknown, [FIELD]: lineage },
});

/** An entry but for the time at which it came to be so. */
export const saidBy = ({ changed: _changed, ...entry }: Entry): Omit<Entry, 'changed'> => entry;
