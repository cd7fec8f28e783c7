/** Ties of one entry: when two are the same, and how one is added without doubling. */
import { same } from './same';
import type { HeadingKind, Tie, TieRole } from './records';

/** A tie as it may be asked for: without a role it has that of a tie there is to the heading, else the usual one. */
export type TieAsked = Omit<Tie, 'role'> & Partial<Pick<Tie, 'role'>>;

/** What an entry usually is to a heading: from a book, and about all else. */
const usualRole = (kind: HeadingKind | undefined): TieRole => (kind === 'book' ? 'from' : 'about');

/** The tie that is meant beside those there are. */
export function meantTie(
  ties: readonly Tie[],
  asked: TieAsked,
  kind: HeadingKind | undefined,
): Tie {
  const there = ties.find(({ heading }) => heading === asked.heading);
  return { ...asked, role: asked.role ?? there?.role ?? usualRole(kind) };
}

/** Two ties with the same key (heading, role and place) say the same thing. */
export const tieKey = ({ heading, role, place }: Tie): string =>
  JSON.stringify([heading, role, place?.page, place?.chapter, place?.note]);

const hasPlace = ({ place }: Tie): boolean =>
  place?.page !== undefined || place?.chapter !== undefined || place?.note !== undefined;

/**
 * The ties with one more. A tie that is there already is not added again, but counts as the reader's own once the reader has
 * made it; a place makes an earlier tie without one more exact instead of standing beside it, and a
 * tie without a place adds nothing to one that has it. Answers the same list where nothing changes.
 */
export function withTie(ties: Tie[], added: Tie): Tie[] {
  const alike = (tie: Tie): boolean => tie.heading === added.heading && tie.role === added.role;
  const key = tieKey(added);
  let at = ties.findIndex((tie) => tieKey(tie) === key);
  if (at < 0) at = ties.findIndex((tie) => alike(tie) && hasPlace(tie) !== hasPlace(added));
  const found = ties[at];
  if (!found) return [...ties, added];
  const by = found.by === 'reader' || added.by === 'reader' ? 'reader' : found.by;
  const joined: Tie = hasPlace(found) ? { ...added, ...found, by } : { ...found, ...added, by };
  if (same(joined, found)) return ties;
  return ties.map((tie, index) => (index === at ? joined : tie));
}

/** The ties in order with none said twice. */
export const withoutDoubles = (ties: readonly Tie[]): Tie[] =>
  ties.reduce<Tie[]>((kept, tie) => withTie(kept, tie), []);
