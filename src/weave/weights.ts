import type { HeadingKind, TieRole } from '../journal/records';

/**
 * How much a tie of each role says of what an entry is about, 0 to 1. Our own settings: what an entry is about says most, the
 * book it is from is shared by everything else from that book, and whose words they are says least.
 */
export const ROLE_WEIGHT: Readonly<Record<TieRole, number>> = {
  about: 1,
  for: 0.8,
  from: 0.5,
  by: 0.4,
};

/** Weights of relations between headings, on the same scale. */
export const RELATION_WEIGHT = { broader: 0.8, related: 0.8, author: 0.4, character: 0.6 } as const;

/** What sharing a chapter of a book weighs, beside sharing the book. */
export const CHAPTER_WEIGHT = 0.8;

/** A heading with few entries joins them more tightly than one with many: 1 for a single entry, 0.30 for 10, 0.18 for 100. */
export const rarity = (entries: number): number => 1 / (1 + Math.log(Math.max(1, entries)));

/**
 * In strands a theme counts most: every book gathers its own entries and people already, and a strand is worth finding where it
 * runs through several books. Our own settings.
 */
export const STRAND_WEIGHT: Readonly<Record<HeadingKind, number>> = {
  theme: 1,
  person: 0.35,
  book: 0.2,
};
