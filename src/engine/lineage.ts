/**
 * What a journal has in it of other devices' journals, so that when copies are merged it can be told which side has changed a
 * row since the other last had it. A row's `changed` tells when it came to be so in the journal that holds it, by
 * that device's clock; a lineage tells up to when another journal has it all.
 */
import type { Journal } from '../journal/records';

/** For each journal, by its site, the ISO time of its newest copy that is in this one. */
type Had = Record<string, string>;

export interface Lineage {
  /** A journal on one device, from its opening on: an id. */
  site: string;
  /** When it was opened from a copy, and what was in that. */
  begun?: { at: string; had: Had };
  had: Had;
  /** ISO time from which on every row that was changed here tells when; entries have always told it. */
  timed?: string;
}

/** The top-level field of a journal file that holds the lineage of the journal it was saved from. */
export const FIELD = 'copies';

/** A lineage out of a file or the store, or undefined where it is none. */
export function readLineage(value: unknown): Lineage | undefined {
  const { site, begun, had, timed } = (value ?? {}) as Partial<Lineage>;
  if (typeof site !== 'string' || !isHad(had)) return undefined;
  const good =
    typeof begun === 'object' && begun && typeof begun.at === 'string' && isHad(begun.had);
  const since = typeof timed === 'string' ? { timed } : {};
  return { site, had, ...since, ...(good ? { begun } : {}) };
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
  return { site, begun: { at, had }, had, timed: at };
}

/** As it stands in a copy saved at `at`, and in the journal from then on. */
export const saved = (lineage: Lineage, at: string): Lineage => ({
  timed: at,
  ...lineage,
  had: { ...lineage.had, [lineage.site]: at },
});

/** The newest moment at which another journal may have taken over what this one holds. */
const newestOwn = (lineage: Lineage | undefined): string | undefined =>
  lineage && (later(timeIn(lineage.had, lineage.site), lineage.begun?.at ?? '') || undefined);

/** ISO time of what is done at `now`: later than any copy that was saved, whatever the clock says. */
export function laterThanCopies(lineage: Lineage | undefined, now: Date): string {
  const copied = newestOwn(lineage);
  const at = now.toISOString();
  return copied && at <= copied ? new Date(Date.parse(copied) + 1).toISOString() : at;
}

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

/** What of one journal another knows. */
interface Known {
  /** What was changed later than this is not known there; the empty text where that cannot be told. */
  until: string;
  /** Whether every row that was changed later has a time. */
  timed: boolean;
}

/** Since when a journal and a copy have gone apart, each by its own clock. */
export interface Parted {
  ours: Known;
  theirs: Known;
}

export function parted(here: Lineage, there: Lineage | undefined): Parted {
  const known = (until: string, timed: string | undefined): Known => ({
    until,
    timed: until !== '' && timed !== undefined && timed <= until,
  });
  if (!there) return { ours: known('', here.timed), theirs: known('', undefined) };
  return {
    ours: known(knownTo(there, here, false), here.timed),
    theirs: known(knownTo(here, there, true), there.timed),
  };
}

/** Whether a row was changed after that; undefined where it cannot be told. */
export function changedSince(row: { changed?: string }, known: Known): boolean | undefined {
  if (row.changed !== undefined) return row.changed > known.until;
  return known.timed ? false : undefined;
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
