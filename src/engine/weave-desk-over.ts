/** The weaving part of the desk over an engine. What it stands on is heavy, so that it is loaded when first asked. */
import type { Edit } from '../journal/edits';
import { aroundView } from './around';
import { chainsView } from './chains';
import { clothView } from './cloth';
import type { Core } from './core';
import type { DeskPart } from './desk-part';
import type { Done } from './desk';
import { FindingStrands } from './finding-strands';
import type { Grouper } from './grouping';
import { gapsView } from './gaps';
import { journalMap, mapEntries, mapHits, mapMoved, mapWithin } from './journal-map';
import { knotView } from './knot';
import { strandAsTheme, themeOf, type ThemeMade } from './making-themes';
import { strandChoices } from './strand-choices';
import { strandsNow } from './strands-held';
import { forwardStrand, nameStrand, placeHeading, takeOver } from './strands-kept';
import type { KeptStrands, StrandsView } from './weave-answers';
import type { WeaveDesk } from './weave-desk';

/**
 * What is woven is woven from the whole journal: whatever is asked while the first entries are read waits for the last. Strands above all
 * begin from the last run, and one of a part of the journal would shape all that follow.
 */
export function weaveDesk({ core, apply, loaded }: DeskPart, groups?: Grouper): WeaveDesk {
  const finding = new FindingStrands(groups);
  const whole = async (): Promise<Core> => {
    await loaded();
    return core();
  };
  const withStrands = async (kept?: KeptStrands): Promise<Core> => {
    const held = await whole();
    await finding.ready(held, kept);
    return held;
  };
  const make = async (made: ThemeMade): Promise<Done> =>
    made.ok ? apply(made.edit, made.id) : { ...made };
  const say = async (
    edit: (journal: Core['journal'], view: StrandsView, now: string) => Edit | undefined,
  ): Promise<Done> => {
    const held = await withStrands();
    const made = edit(held.journal, strandsNow(held), held.nowIso());
    return made
      ? apply(made)
      : { ok: false, said: 'That strand is no longer there.', code: 'gone' };
  };
  return {
    cloth: async (ask) => clothView(await withStrands(ask.strands), ask),
    progress: async () => finding.progress(),
    knot: async (ask) => knotView(await whole(), ask),
    chains: async (from, to) => chainsView(await whole(), from, to),
    gaps: async (limit) => gapsView(await whole(), limit),
    neighbourhood: async (ask) => aroundView(await withStrands(ask.kept), ask),
    journalMap: async (kept) => journalMap(await withStrands(kept), kept),
    mapMoved: async (from, to) => mapMoved(await whole(), from, to),
    mapEntries: async (made, at) => mapEntries(await whole(), made, at),
    mapWithin: async (made, ask) => mapWithin(await whole(), made, ask),
    mapHits: async (text) => mapHits(await whole(), text),
    strandChoices: async (kept) => strandChoices(await withStrands(kept), kept),
    nameStrand: async (id, name) => say((journal, view) => nameStrand(journal, view, id, name)),
    forwardStrand: async (id) => say((journal, view, now) => forwardStrand(journal, view, id, now)),
    placeHeading: async (heading, strand) =>
      say((journal, view) => placeHeading(journal, view, heading, strand)),
    takeStrandsOver: async (kept) => {
      const held = await withStrands(kept);
      const edit = takeOver(held.journal, strandsNow(held, kept), kept, held.nowIso());
      return edit !== undefined && edit.changes.length > 0 && (await apply(edit)).ok;
    },
    makeTheme: async (name, entries) => make(themeOf(await whole(), name, entries)),
    adoptStrand: async (strand, name) => make(strandAsTheme(await withStrands(), strand, name)),
  };
}
