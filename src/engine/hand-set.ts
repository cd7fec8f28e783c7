/** What a leader has set by hand in a guide, which composing it again must leave alone. */
import type { EntryId, EntryKind, Guide, GuideItem } from '../journal/records';
import { plainText } from '../language/markdown';
import type { Candidate, PlanRequest } from '../plan/compose';

/** An item that stays: by the id it is weighed under, which is its entry's where it has one. */
export interface HandSet {
  id: string;
  item: GuideItem;
  part: number;
  position: number;
}

/**
 * Items of an earlier guide that stay where they are: those moved, altered or marked by hand, and all that are not
 * of the journal (breaks, readings aloud, own words), since no composing could bring those back. Where the guide
 * has other parts now, what ended it still ends it.
 *
 * @param parts number of parts the guide is composed for now, 1 or more; its own where left out.
 */
export function handSet(guide: Guide | undefined, parts?: number): Map<string, HandSet> {
  const held = new Map<string, HandSet>();
  const last = (guide?.parts.length ?? 0) - 1;
  const now = (parts ?? last + 1) - 1;
  guide?.parts.forEach((part, at) => {
    const to = at === last ? now : Math.min(at, Math.max(0, now - 1));
    part.items.forEach((item, position) => {
      if (item.entry && !item.fixed && !item.must) return;
      const id = item.entry && !held.has(item.entry) ? item.entry : `free ${at} ${position}`;
      held.set(id, { id, item, part: now === last ? at : to, position });
    });
  });
  return held;
}

/** Entries the leader keeps as spares: never placed, first to reach for. */
export function keptSpare(guide: Guide | undefined): Set<EntryId> {
  return new Set((guide?.spare ?? []).flatMap(({ entry, fixed }) => (entry && fixed ? entry : [])));
}

/** What a free item is weighed as: it takes its minutes and counts at its level, and is tied to nothing. */
export function freeCandidate(
  { id, item, part, position }: HandSet,
  request: PlanRequest,
  words: (text: string) => string[],
): Candidate {
  const text = plainText(item.text ?? '');
  return {
    id,
    label: text.slice(0, 60),
    kind: kindOf(item),
    ...(item.level ? { level: item.level } : {}),
    minutes: item.minutes,
    relevance: 1,
    rest: 1,
    books: [],
    themes: [],
    words: words(text),
    suits: Object.fromEntries(request.parts.map(({ name }) => [name, 1])),
    must: item.must,
    fixed: { part, position, minutes: item.minutes },
  };
}

/** The kind a free item is told as; a break or talk in pairs is nearest to a note of the leader's. */
export const kindOf = (item: GuideItem): EntryKind => item.kind ?? 'note';
