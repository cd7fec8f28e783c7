import { rowsNaming } from '../journal/indexes';
import type { EntryId, EntryKind, HeadingId, HeadingKind, Journal, Tie } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import type { Certainty } from '../language/certainty';
import { baseEvidence, certaintyOf, chanceOf, GUESS_FROM, type Evidence } from './evidence';
import { evidenceForHeading } from './evidence-for-heading';
import { evidenceForText } from './evidence-for-text';
import type { Reason } from './reason';
import { wordsOf } from './shown';
import type { WeaveIndex } from './weave-index';

/** The themes under a theme, however far down, without itself; themes in a circle come once. Other headings have none. */
export function narrowerThan(journal: Journal, id: HeadingId): HeadingId[] {
  const found = new Set<HeadingId>([id]);
  for (const above of found) {
    for (const row of rowsNaming(journal, 'headings', above, 'headings')) {
      const heading = journal.tables.headings.get(row);
      if (heading?.kind === 'theme' && heading.broader.includes(above)) found.add(heading.id);
    }
  }
  found.delete(id);
  return [...found];
}

/** The themes over a theme, however far up, without itself. */
export function broaderThan(journal: Journal, id: HeadingId): Set<HeadingId> {
  const found = new Set<HeadingId>([id]);
  for (const below of found) {
    const heading = journal.tables.headings.get(below);
    if (heading?.kind === 'theme') heading.broader.forEach((above) => found.add(above));
  }
  found.delete(id);
  return found;
}

/** The entries tied to a heading in any role, in order of ids; with `narrower`, those tied to themes under it as well. */
export function tiedTo(
  journal: Journal,
  heading: HeadingId,
  options: { narrower?: boolean; kinds?: readonly EntryKind[] } = {},
): EntryId[] {
  const from = options.narrower ? [heading, ...narrowerThan(journal, heading)] : [heading];
  const found = new Set(from.flatMap((id) => [...entriesTiedTo(journal, id)]));
  const { kinds } = options;
  return [...found]
    .filter((id) => {
      const entry = journal.tables.entries.get(id);
      return entry && (!kinds || kinds.length === 0 || kinds.includes(entry.kind));
    })
    .sort();
}

interface ProposedEntry {
  id: EntryId;
  certainty: Certainty;
  /** What the certainty is taken from, 0 to 1. */
  chance: number;
  reasons: Reason[];
}

interface ProposedHeading {
  id: HeadingId;
  certainty: Certainty;
  chance: number;
  reasons: Reason[];
}

interface ProposeOptions {
  limit?: number;
  /** Chances below this are not proposed; the usual is where a guess begins. With 0 everything is ranked that has any ground. */
  least?: number;
}

const MOST_REASONS = 3;

interface Weighed {
  chance: number;
  base: Evidence;
  evidence: readonly Evidence[];
}

function weighed(
  base: Evidence,
  evidence: readonly Evidence[],
  settled: boolean,
  least: number,
): Weighed | undefined {
  const chance = chanceOf(base.share, evidence, settled);
  return chance < least ? undefined : { chance, base, evidence };
}

/** What speaks for a proposal, the strongest first. Where nothing speaks but how common it is, that is told, beside what little else there is. */
function telling({ base, evidence }: Weighed): Evidence[] {
  const spoken = evidence.filter(({ reason }) => reason);
  const above = spoken.filter(({ share }) => share > base.share);
  return (above.length > 0 ? above : [base, ...spoken]).sort((a, b) => b.share - a.share);
}

/** The surest, and only for them the reasons in words. */
function surest<Id extends string>(
  rows: (Weighed & { id: Id })[],
  most: number,
): { id: Id; certainty: Certainty; chance: number; reasons: Reason[] }[] {
  rows.sort((a, b) => b.chance - a.chance || (a.id < b.id ? -1 : 1));
  return rows.slice(0, most).map((row) => {
    const strongest = telling(row).slice(0, MOST_REASONS);
    const certainty = certaintyOf(row.chance) ?? 'guess';
    const { id, chance } = row;
    return { id, certainty, chance, reasons: strongest.map(({ reason }) => reason!()) };
  });
}

/** Whether an entry has been gone through for headings of a kind: the reader tied it to one. */
const goneThrough = (
  journal: Journal,
  ties: readonly Tie[],
  kind: HeadingKind | undefined,
): boolean =>
  ties.some(
    (tie) => tie.by === 'reader' && journal.tables.headings.get(tie.heading)?.kind === kind,
  );

/**
 * Entries that probably should be tied to a heading, surest first. None that is tied to it or to a theme under it, and none
 * for which the reader has turned this down. See `evidence.ts` for what counts and how much.
 */
export function proposeFor(
  index: WeaveIndex,
  heading: HeadingId,
  options: ProposeOptions = {},
): ProposedEntry[] {
  const { journal } = index;
  const wanted = journal.tables.headings.get(heading);
  if (!wanted) return [];
  const base = baseEvidence(index, wanted);
  const settled = new Set<EntryId>();
  for (const id of [heading, ...narrowerThan(journal, heading)])
    entriesTiedTo(journal, id).forEach((entry) => settled.add(entry));
  for (const id of declinedBy(journal, 'headings', heading)) settled.add(id.entry);
  const least = options.least ?? GUESS_FROM;
  const rows: (Weighed & { id: EntryId })[] = [];
  for (const [id, evidence] of evidenceForHeading(index, heading, least)) {
    if (settled.has(id)) continue;
    const ties = journal.tables.entries.get(id)?.ties ?? [];
    const row = weighed(base, evidence, goneThrough(journal, ties, wanted.kind), least);
    if (row) rows.push({ id, ...row });
  }
  return surest(rows, options.limit ?? 50);
}

/**
 * Headings that an entry, or a text in the writing with the ties it has so far, probably should have, surest first. None that
 * it has, none above a theme it has, and none the reader has turned down for it.
 */
export function proposeHeadingsFor(
  index: WeaveIndex,
  what: EntryId | { text: string; ties?: readonly Tie[]; id?: EntryId },
  options: ProposeOptions = {},
): ProposedHeading[] {
  const { journal } = index;
  const entry = typeof what === 'string' ? journal.tables.entries.get(what) : undefined;
  if (typeof what === 'string' && !entry) return [];
  const id = typeof what === 'string' ? what : what.id;
  const text = typeof what === 'string' ? wordsOf(entry!) : what.text;
  const ties = (typeof what === 'string' ? entry!.ties : what.ties) ?? [];
  const settled = new Set<HeadingId>(ties.map((tie) => tie.heading));
  for (const held of [...settled])
    broaderThan(journal, held).forEach((above) => settled.add(above));
  if (id) for (const row of declinedBy(journal, 'entries', id)) settled.add(row.heading);
  const rows = [...evidenceForText(index, text, ties, id)].flatMap(([heading, evidence]) => {
    const wanted = journal.tables.headings.get(heading);
    if (!wanted || settled.has(heading)) return [];
    // A text in the writing is not gone through yet, whatever it has so far.
    const through = id !== undefined && goneThrough(journal, ties, wanted.kind);
    const least = options.least ?? GUESS_FROM;
    const row = weighed(baseEvidence(index, wanted), evidence, through, least);
    return row ? [{ id: heading, ...row }] : [];
  });
  return surest(rows, options.limit ?? 12);
}

function declinedBy(
  journal: Journal,
  table: 'entries' | 'headings',
  id: string,
): { entry: EntryId; heading: HeadingId }[] {
  return [...rowsNaming(journal, table, id, 'declined')].flatMap(
    (row) => journal.tables.declined.get(row) ?? [],
  );
}
