/** The weaving part of the desk over an engine. What it stands on is heavy, so that it is loaded when first asked. */
import type { Edit } from '../journal/edits';
import { aroundView } from './around';
import { chainsView } from './chains';
import { clothView } from './cloth';
import type { Core } from './core';
import type { DeskPart } from './desk-part';
import type { Done } from './desk';
import { gapsView } from './gaps';
import { journalMap, mapEntries, mapHits, mapWithin } from './journal-map';
import { knotView } from './knot';
import { strandAsTheme, themeOf } from './making-themes';
import { strandChoices } from './strand-choices';
import { strandsNow } from './strands-held';
import { forwardStrand, nameStrand, placeHeading, takeOver } from './strands-kept';
import type { WeaveDesk } from './weave-desk';

/**
 * What is woven is woven from the whole journal: whatever is asked while the first entries are read waits for the last. Strands above all
 * begin from the last run, and one of a part of the journal would shape all that follow.
 */
export function weaveDesk({ core, apply, change, loaded }: DeskPart): WeaveDesk {
  const whole = async (): Promise<Core> => {
    await loaded();
    return core();
  };
  const said = async (edit: Edit | undefined): Promise<Done> =>
    edit ? apply(edit) : { ok: false, said: 'That strand is no longer there.', code: 'gone' };
  return {
    cloth: async (ask) => clothView(await whole(), ask),
    knot: async (ask) => knotView(await whole(), ask),
    chains: async (from, to) => chainsView(await whole(), from, to),
    gaps: async (limit) => gapsView(await whole(), limit),
    neighbourhood: async (ask) => aroundView(await whole(), ask),
    journalMap: async (kept) => journalMap(await whole(), kept),
    mapEntries: async (made, at) => mapEntries(await whole(), made, at),
    mapWithin: async (made, ask) => mapWithin(await whole(), made, ask),
    mapHits: async (text) => mapHits(await whole(), text),
    strandChoices: async (kept) => strandChoices(await whole(), kept),
    nameStrand: async (id, name) =>
      said(nameStrand((await whole()).journal, strandsNow(core()), id, name)),
    forwardStrand: async (id) =>
      said(forwardStrand((await whole()).journal, strandsNow(core()), id, core().nowIso())),
    placeHeading: async (heading, strand) =>
      said(placeHeading((await whole()).journal, strandsNow(core()), heading, strand)),
    takeStrandsOver: async (kept) => {
      await loaded();
      const edit = takeOver(core().journal, strandsNow(core(), kept), kept, core().nowIso());
      return edit !== undefined && edit.changes.length > 0 && (await apply(edit)).ok;
    },
    makeTheme: async (name, entries) => change(themeOf(await whole(), name, entries)),
    adoptStrand: async (strand, name) => change(strandAsTheme(await whole(), strand, name)),
  };
}
