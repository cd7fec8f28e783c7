import type { HeadingId } from '../journal/records';
import type { Reason } from './reason';
import { broaderThan } from './tied';
import type { WeaveIndex } from './weave-index';

const MOST_REASONS = 3;

/** A reason and how much it says, for choosing which to tell. */
export interface Weighed {
  strength: number;
  reason: Reason;
}

export const strongest = (found: readonly Weighed[]): Reason[] =>
  [...found]
    .sort((a, b) => b.strength - a.strength)
    .slice(0, MOST_REASONS)
    .map(({ reason }) => reason);

export const nameOf = (index: WeaveIndex, id: HeadingId): string =>
  index.journal.tables.headings.get(id)?.name ?? '';

/** How one theme stands to another: "narrower than", "broader than" at any distance, or "related to". */
export function themeRelation(
  index: WeaveIndex,
  id: HeadingId,
  other: HeadingId,
): { code: 'narrower' | 'linked'; how: string } | undefined {
  const { headings } = index.journal.tables;
  const [theme, seed] = [headings.get(id), headings.get(other)];
  if (theme?.kind !== 'theme' || seed?.kind !== 'theme') return undefined;
  if (broaderThan(index.journal, id).has(other)) return { code: 'narrower', how: 'narrower than' };
  if (broaderThan(index.journal, other).has(id)) return { code: 'narrower', how: 'broader than' };
  const related = theme.related.includes(other) || seed.related.includes(id);
  return related ? { code: 'linked', how: 'related to' } : undefined;
}
