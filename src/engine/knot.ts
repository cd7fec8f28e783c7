/** What lies where a book crosses a theme, or along a whole thread; and what might be borrowed where a kind is missing. */
import {
  ENTRY_KINDS,
  type Entry,
  type EntryId,
  type EntryKind,
  type HeadingId,
} from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { nearTo } from '../weave/near';
import type { Core } from './core';
import { entryRow } from './rows';
import type { KnotAsk, KnotView } from './weave-answers';

const USUAL_LIMIT = 3;
/** How far down the list of what is near a missing kind is looked for. */
const LOOKED_THROUGH = 160;

export function knotView(core: Core, ask: KnotAsk): KnotView {
  const { journal } = core;
  const entries = [...idsOf(core, ask)].flatMap((id) => journal.tables.entries.get(id) ?? []);
  const counts = Object.fromEntries(ENTRY_KINDS.map((kind) => [kind, 0])) as KnotView['counts'];
  for (const { kind } of entries) counts[kind] += 1;
  const rows = varied(entries)
    .slice(0, ask.limit ?? USUAL_LIMIT)
    .map((entry) => entryRow(journal, entry));
  const missing = (ask.missing ?? []).filter((kind) => counts[kind] === 0);
  const lacking = ask.missing !== undefined && missing.length === ask.missing.length;
  const nearest = lacking && missing.length > 0 ? nearestOf(core, ask, missing) : undefined;
  return { total: entries.length, counts, rows, ...(nearest ? { nearest } : {}) };
}

function idsOf(core: Core, { books, themes, span }: KnotAsk): Set<EntryId> {
  const union = (ids: readonly HeadingId[]): Set<EntryId> =>
    new Set(ids.flatMap((id) => [...entriesTiedTo(core.journal, id)]));
  const sides = [books, themes].filter((side) => side.length > 0).map(union);
  const [one = new Set<EntryId>(), other] = sides;
  const both = other ? new Set([...one].filter((id) => other.has(id))) : one;
  if (!span?.from && !span?.to) return both;
  return new Set([...both].filter((id) => core.weaveIndex.cloth.holds(id, span)));
}

/** In the order of the book; but first one of each kind, so that a few rows show what there is. */
function varied(entries: readonly Entry[]): Entry[] {
  const place = (entry: Entry): string =>
    entry.ties
      .map((tie) => tie.place?.page ?? tie.place?.chapter)
      .filter((text) => text !== undefined)
      .map((text) => text.padStart(6, '0'))
      .sort()[0] ?? '~';
  const sorted = entries
    .map((entry) => ({ entry, key: `${place(entry)} ${entry.id}` }))
    .sort((a, b) => (a.key < b.key ? -1 : 1))
    .map(({ entry }) => entry);
  const order: EntryKind[] = ['note', 'question', 'quote', 'lesson', 'assignment'];
  const first = order.flatMap((kind) => sorted.find((entry) => entry.kind === kind) ?? []);
  return [...first, ...sorted.filter((entry) => !first.includes(entry))];
}

function nearestOf(core: Core, ask: KnotAsk, kinds: readonly EntryKind[]): KnotView['nearest'] {
  const { journal } = core;
  const headings = [...ask.books.slice(0, 4), ...ask.themes.slice(0, 4)];
  const near = nearTo(core.weaveIndex, { headings }, { limit: LOOKED_THROUGH });
  for (const { id, type, reasons } of near) {
    const entry = type === 'entry' ? journal.tables.entries.get(id) : undefined;
    if (!entry || !kinds.includes(entry.kind)) continue;
    const book = entry.ties.find(
      ({ heading }) => journal.tables.headings.get(heading)?.kind === 'book',
    );
    return {
      row: entryRow(journal, entry),
      from: (book && journal.tables.headings.get(book.heading)?.name) ?? '',
      reasons: reasons.map(({ text }) => text),
    };
  }
  return undefined;
}
