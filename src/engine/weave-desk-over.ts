/** The weaving part of the desk over an engine. What it stands on is heavy, so that it is loaded when first asked. */
import type { Edit } from '../journal/edits';
import { aroundView } from './around';
import { chainsView } from './chains';
import { clothView } from './cloth';
import type { Done } from './desk';
import { gapsView } from './gaps';
import { journalMap, mapEntries, mapHits, mapWithin } from './journal-map';
import { knotView } from './knot';
import { strandAsTheme, themeOf, type ThemeMade } from './making-themes';
import type { DeskPart } from './reading-desk-over';
import { strandChoices } from './strand-choices';
import { strandsNow } from './strands-held';
import { forwardStrand, nameStrand, placeHeading, takeOver } from './strands-kept';
import type { WeaveDesk } from './weave-desk';

export function weaveDesk({ core, apply, loaded }: DeskPart): WeaveDesk {
  const make = async (made: ThemeMade): Promise<Done> =>
    made.ok ? apply(made.edit, made.id) : { ...made };
  const said = async (edit: Edit | undefined): Promise<Done> =>
    edit ? apply(edit) : { ok: false, said: 'That strand is no longer there.', code: 'gone' };
  return {
    cloth: async (ask) => clothView(core(), ask),
    knot: async (ask) => knotView(core(), ask),
    chains: async (from, to) => chainsView(core(), from, to),
    gaps: async (limit) => gapsView(core(), limit),
    neighbourhood: async (ask) => aroundView(core(), ask),
    journalMap: async (kept) => journalMap(core(), kept),
    mapEntries: async (made, at) => mapEntries(core(), made, at),
    mapWithin: async (made, ask) => mapWithin(core(), made, ask),
    mapHits: async (text) => mapHits(core(), text),
    strandChoices: async (kept) => strandChoices(core(), kept),
    nameStrand: async (id, name) => said(nameStrand(core().journal, strandsNow(core()), id, name)),
    forwardStrand: async (id) =>
      said(forwardStrand(core().journal, strandsNow(core()), id, core().nowIso())),
    placeHeading: async (heading, strand) =>
      said(placeHeading(core().journal, strandsNow(core()), heading, strand)),
    takeStrandsOver: async (kept) => {
      await loaded();
      const edit = takeOver(core().journal, strandsNow(core(), kept), kept, core().nowIso());
      return edit !== undefined && edit.changes.length > 0 && (await apply(edit)).ok;
    },
    makeTheme: async (name, entries) => make(themeOf(core(), name, entries)),
    adoptStrand: async (strand, name) => make(strandAsTheme(core(), strand, name)),
  };
}
