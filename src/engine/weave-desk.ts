/** What screens may ask of Weave: a part of the desk with a name of its own. Every argument and answer is plain data. */
import type { EntryId } from '../journal/records';
import type { Done, StrandChoice } from './desk';
import type {
  AroundAsk,
  AroundView,
  ChainsView,
  ClothAsk,
  ClothView,
  GapsView,
  JournalMap,
  KeptStrands,
  KnotAsk,
  KnotView,
  MapEntry,
  MapHits,
} from './weave-answers';

export interface WeaveDesk {
  cloth(ask: ClothAsk): Promise<ClothView>;
  knot(ask: KnotAsk): Promise<KnotView>;
  /** How two entries or headings are connected. */
  chains(from: string, to: string): Promise<ChainsView>;
  gaps(limit?: number): Promise<GapsView>;
  neighbourhood(ask: AroundAsk): Promise<AroundView>;
  journalMap(kept?: KeptStrands): Promise<JournalMap>;
  mapEntries(made: number, at: number[]): Promise<MapEntry[]>;
  mapHits(text: string): Promise<MapHits>;
  /** Strands to plan from, the largest first, each with the headings that make it out. */
  strandChoices(kept?: KeptStrands): Promise<StrandChoice[]>;
  /** Ties entries to a theme of that name, made where there is none; one thing to take back. */
  makeTheme(name: string, entries: EntryId[]): Promise<Done>;
  /** A strand as a theme, with all its entries. */
  adoptStrand(strand: string, name: string): Promise<Done>;
}
