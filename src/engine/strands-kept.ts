/**
 * What a reader says of strands, as edits of the journal, and what the journal knows of them. The rest of what is remembered of strands, the last run
 * and dyes nobody chose, is of the sitting alone and lies with the screen.
 */
import { Draft } from '../journal/draft';
import type { Edit } from '../journal/edits';
import type { HeadingId, Journal, KeptStrand } from '../journal/records';
import type { KeptStrands, StrandShown, StrandsView } from './weave-answers';

/** So many headings tell a strand from the others. */
const KNOWN_BY = 12;

/** A strand as a row, where it has none yet. */
function rowOf(journal: Journal, strand: StrandShown, resolution: number): KeptStrand {
  const held = journal.tables.strands.get(strand.id);
  const { dye = held?.dye } = strand;
  const headings = strand.central.slice(0, KNOWN_BY);
  return { ...held, id: strand.id, headings, ...(dye === undefined ? {} : { dye }), resolution };
}

/** Says something of one strand; the dyes of all that have one are kept along with it, so that a copy looks the same. */
function saying(
  journal: Journal,
  { strands, resolution }: StrandsView,
  id: string,
  does: string,
  said: (row: KeptStrand) => KeptStrand,
): Edit | undefined {
  const strand = strands.find((one) => one.id === id);
  if (!strand) return undefined;
  const draft = new Draft(journal);
  for (const one of strands) {
    if (one.dye !== undefined && one !== strand) {
      draft.put('strands', rowOf(journal, one, resolution));
    }
  }
  draft.put('strands', said(rowOf(journal, strand, resolution)));
  return draft.edit(does);
}

/** A name for a strand; an empty one gives it back the name that was found. */
export function nameStrand(
  journal: Journal,
  view: StrandsView,
  id: string,
  name: string,
): Edit | undefined {
  const to = name.trim();
  const found = view.strands.find((one) => one.id === id);
  const does = to ? `Call the strand ${found?.name} ${to}` : `Call the strand as it was found`;
  return saying(journal, view, id, does, ({ name: _, ...row }) =>
    to ? { ...row, name: to } : row,
  );
}

export function forwardStrand(
  journal: Journal,
  view: StrandsView,
  id: string,
  now: string,
): Edit | undefined {
  const name = view.strands.find((one) => one.id === id)?.name;
  return saying(journal, view, id, `Bring ${name} forward`, (row) => ({ ...row, forward: now }));
}

/** Puts a heading in a strand, or back where it was found. */
export function placeHeading(
  journal: Journal,
  view: StrandsView,
  heading: HeadingId,
  to?: string,
): Edit | undefined {
  const name = journal.tables.headings.get(heading)?.name;
  const strand = view.strands.find((one) => one.id === to);
  if (!name || (to && !strand)) return undefined;
  const draft = new Draft(journal);
  for (const { id, placed } of journal.tables.strands.values()) {
    const row = draft.get('strands', id)!;
    if (placed?.includes(heading)) {
      draft.put('strands', { ...row, placed: placed.filter((one) => one !== heading) });
    }
  }
  if (strand) {
    const row = draft.get('strands', strand.id) ?? rowOf(journal, strand, view.resolution);
    draft.put('strands', { ...row, placed: [...(row.placed ?? []), heading] });
  }
  return draft.edit(
    strand
      ? `Put ${name} in the strand ${strand.name}`
      : `Leave ${name} in the strand it was found in`,
  );
}

/** What was kept by a screen before the journal held it; nothing where the journal knows of strands already. */
export function takeOver(
  journal: Journal,
  { strands, resolution }: StrandsView,
  old: KeptStrands,
  now: string,
): Edit | undefined {
  if (journal.tables.strands.size > 0) return undefined;
  const draft = new Draft(journal);
  const { names = {}, forward = [], moved = {} } = old;
  for (const strand of strands) {
    const name = Object.hasOwn(names, strand.id) ? names[strand.id] : undefined;
    const placed = (Object.keys(moved) as HeadingId[]).filter(
      (id) => moved[id] === strand.id && journal.tables.headings.has(id),
    );
    const at = forward.indexOf(strand.id);
    if (strand.dye === undefined && !name && placed.length === 0 && at < 0) continue;
    draft.put('strands', {
      ...rowOf(journal, strand, resolution),
      ...(name ? { name } : {}),
      ...(placed.length > 0 ? { placed } : {}),
      // The newest came first.
      ...(at < 0 ? {} : { forward: new Date(Date.parse(now) - at).toISOString() }),
    });
  }
  return draft.edit('Take over the names of strands');
}

/** What the journal knows of strands, in the form in which they are looked for. */
export interface StrandsSaid {
  known: { id: string; headings: HeadingId[] }[];
  names: Map<string, string>;
  dyes: Record<string, number>;
  /** The newest first. */
  forward: string[];
  placed: Map<HeadingId, string>;
  resolution?: number;
}

export function strandsSaid(journal: Journal): StrandsSaid {
  const rows = [...journal.tables.strands.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
  const forward = rows.filter((row) => row.forward);
  forward.sort((a, b) => (a.forward! < b.forward! ? 1 : -1));
  const resolution = rows.find((row) => row.resolution !== undefined)?.resolution;
  return {
    known: rows.filter(({ headings }) => headings.length > 0),
    names: new Map(rows.flatMap(({ id, name }) => (name ? [[id, name] as const] : []))),
    dyes: Object.fromEntries(rows.flatMap(({ id, dye }) => (dye === undefined ? [] : [[id, dye]]))),
    forward: forward.map(({ id }) => id),
    placed: new Map(rows.flatMap(({ id, placed = [] }) => placed.map((one) => [one, id] as const))),
    ...(resolution === undefined ? {} : { resolution }),
  };
}
