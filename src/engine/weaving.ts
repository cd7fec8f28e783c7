import type { EntryId, EntryKind, HeadingId } from '../journal/records';
import { plainText } from '../language/markdown';
import { nearTo } from '../weave/near';
import { proposeFor, tiedTo } from '../weave/tied';
import type { NearHit, TiedResult } from './answers';
import type { Core } from './core';
import { entryRow } from './rows';

/** What something is to be near to: any mix of entries, headings and free words. */
export interface NearAsk {
  entries?: EntryId[];
  headings?: HeadingId[];
  text?: string;
  limit?: number;
  /** Only entries, no headings. */
  entriesOnly?: boolean;
}

export function nearResult(engine: Core, ask: NearAsk): NearHit[] {
  const { journal } = engine;
  const { limit = 12, entriesOnly = false, ...seeds } = ask;
  return nearTo(engine.weaveIndex, seeds, { limit: entriesOnly ? limit * 2 : limit })
    .filter((hit) => !entriesOnly || hit.type === 'entry')
    .slice(0, limit)
    .flatMap((hit): NearHit[] => {
      const { id, type, score } = hit;
      const reasons = hit.reasons.map((reason) => reason.text);
      if (type === 'heading') {
        const heading = journal.tables.headings.get(id);
        return heading
          ? [{ id, type, kind: heading.kind, text: heading.name, score, reasons }]
          : [];
      }
      const entry = journal.tables.entries.get(id);
      return entry
        ? [{ id, type, kind: entry.kind, text: plainText(entry.text), score, reasons }]
        : [];
    });
}

export function tiedResult(
  engine: Core,
  id: HeadingId,
  options: { narrower?: boolean; kinds?: string[] },
): TiedResult {
  const { journal } = engine;
  const heading = journal.tables.headings.get(id);
  if (!heading) throw new Error(`no heading ${id}`);
  const kinds = options.kinds?.length ? new Set(options.kinds) : undefined;
  const wanted = (kind: EntryKind): boolean => !kinds || kinds.has(kind);
  const entries = tiedTo(journal, id, { narrower: options.narrower ?? false }).flatMap(
    (entryId) => {
      const entry = journal.tables.entries.get(entryId);
      return entry && wanted(entry.kind) ? [entryRow(journal, entry)] : [];
    },
  );
  const proposed = proposeFor(engine.weaveIndex, id).flatMap((proposal) => {
    const entry = journal.tables.entries.get(proposal.id);
    if (!entry || !wanted(entry.kind)) return [];
    const reasons = proposal.reasons.map((reason) => reason.text);
    const { certainty } = proposal;
    return [{ id: proposal.id, kind: entry.kind, text: plainText(entry.text), certainty, reasons }];
  });
  return { heading: { id, name: heading.name, kind: heading.kind }, entries, proposed };
}
