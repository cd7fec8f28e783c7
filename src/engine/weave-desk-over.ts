/** The weaving part of the desk over an engine. What it stands on is heavy, so that it is loaded when first asked. */
import { aroundView } from './around';
import { chainsView } from './chains';
import { clothView } from './cloth';
import type { Done } from './desk';
import { gapsView } from './gaps';
import { journalMap, mapEntries, mapHits } from './journal-map';
import { knotView } from './knot';
import { strandAsTheme, themeOf, type ThemeMade } from './making-themes';
import type { DeskPart } from './reading-desk-over';
import { strandChoices } from './strand-choices';
import type { WeaveDesk } from './weave-desk';

export function weaveDesk({ core, apply }: DeskPart): WeaveDesk {
  const make = async (made: ThemeMade): Promise<Done> =>
    made.ok ? apply(made.edit, made.id) : { ...made };
  return {
    cloth: async (ask) => clothView(core(), ask),
    knot: async (ask) => knotView(core(), ask),
    chains: async (from, to) => chainsView(core(), from, to),
    gaps: async (limit) => gapsView(core(), limit),
    neighbourhood: async (ask) => aroundView(core(), ask),
    journalMap: async (kept) => journalMap(core(), kept),
    mapEntries: async (made, at) => mapEntries(core(), made, at),
    mapHits: async (text) => mapHits(core(), text),
    strandChoices: async (kept) => strandChoices(core(), kept),
    makeTheme: async (name, entries) => make(themeOf(core(), name, entries)),
    adoptStrand: async (strand, name) => make(strandAsTheme(core(), strand, name)),
  };
}
