/** What screens may ask of Weave: a part of the desk with a name of its own. Every argument and answer is plain data. */
import type { EntryId, HeadingId, TieRole } from '../journal/records';
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
  MapWithin,
  Span,
  StrandsProgress,
} from './weave-answers';

export interface WeaveDesk {
  cloth(ask: ClothAsk): Promise<ClothView>;
  /** How far the strands are that something asked is waiting for; answered at once. */
  progress(): Promise<StrandsProgress | undefined>;
  knot(ask: KnotAsk): Promise<KnotView>;
  /** How two entries or headings are connected. */
  chains(from: string, to: string): Promise<ChainsView>;
  gaps(limit?: number): Promise<GapsView>;
  neighbourhood(ask: AroundAsk): Promise<AroundView>;
  journalMap(kept?: KeptStrands): Promise<JournalMap>;
  /** Numbers of the entries of one map on another that was made after it; see `mapMoved`. */
  mapMoved(from: number, to: number): Promise<Int32Array>;
  mapEntries(made: number, at: number[]): Promise<MapEntry[]>;
  /** For the map last made; all of it where it was made before. */
  mapWithin(made: number, ask: { span?: Span; roles?: TieRole[] }): Promise<MapWithin>;
  mapHits(text: string): Promise<MapHits>;
  /** Strands to plan from, the largest first, each with the headings that make it out. */
  strandChoices(kept?: KeptStrands): Promise<StrandChoice[]>;
  /** A name for a strand; an empty one gives it back the name that was found. */
  nameStrand(strand: string, name: string): Promise<Done>;
  /** Gives a strand one of the dyes. */
  forwardStrand(strand: string): Promise<Done>;
  /** Puts a heading in a strand, or back where it was found. */
  placeHeading(heading: HeadingId, strand?: string): Promise<Done>;
  /** Takes into the journal what a screen kept of strands before; answers whether there was anything. */
  takeStrandsOver(kept: KeptStrands): Promise<boolean>;
  /** Ties entries to a theme of that name, made where there is none; one thing to take back. */
  makeTheme(name: string, entries: EntryId[]): Promise<Done>;
  /** A strand as a theme, with all its entries. */
  adoptStrand(strand: string, name: string): Promise<Done>;
}
