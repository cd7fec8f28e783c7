/** What is asked of very many entries at once, answered without a row of each: rows of a whole journal would hold a screen up. */
import type { FindQuery } from '../find/query';
import type { EntryId, HeadingId, Journal } from '../journal/records';
import type { Summed } from './answers';
import type { Core } from './core';

/** All a query finds, in its order; its offset and limit do not count. */
export function foundIds(engine: Core, query: FindQuery): EntryId[] {
  const all = { ...query, offset: 0, limit: engine.journal.tables.entries.size, bare: true };
  return engine.findIndex.find(all, engine.nowIso()).hits.map(({ id }) => id);
}

/** How many of some entries are of each kind, and tied to each heading. Those that are not in the journal count nowhere. */
export function summed(journal: Journal, ids: readonly EntryId[]): Summed {
  const kinds: Summed['kinds'] = {};
  const counts = new Map<HeadingId, number>();
  for (const id of ids) {
    const entry = journal.tables.entries.get(id);
    if (!entry) continue;
    kinds[entry.kind] = (kinds[entry.kind] ?? 0) + 1;
    for (const heading of new Set(entry.ties.map((tie) => tie.heading)))
      counts.set(heading, (counts.get(heading) ?? 0) + 1);
  }
  const ties = [...counts].flatMap(([id, count]) => {
    const heading = journal.tables.headings.get(id);
    return heading ? [{ heading: id, name: heading.name, kind: heading.kind, count }] : [];
  });
  return { kinds, ties: ties.sort((a, b) => b.count - a.count) };
}
