/** What Weave asks and is answered: plain data that can cross to a worker. */
import type { EntryId, EntryKind, HeadingId, HeadingKind, Tie, TieRole } from '../journal/records';
import type { Span } from '../weave/cloth-table';
import type { Point } from '../weave/rings';
import type { BookFold, BookOrder, ThemeFold, ThemeOrder } from '../weave/threads';
import type { EntryRow } from './answers';

export type { BookFold, BookOrder, Point, Span, ThemeFold, ThemeOrder };

/** What is remembered of the last run of strands, kept by the screen from sitting to sitting. What a reader says of them lies in the journal. */
export interface KeptStrands {
  resolution?: number;
  /** The reader has chosen the resolution. */
  chosen?: boolean;
  /** How many entries there were when a resolution was last chosen by itself. */
  sized?: number;
  /** The last run: ids and headings, so that strands go on. */
  last?: { id: string; headings: HeadingId[] }[];
  /** Dyes by strand, 0 to 4. */
  dyes?: Record<string, number>;
  /** What screens kept before journals did, to be taken over once: names by strand, strands brought forward, headings put elsewhere. */
  names?: Record<string, string>;
  forward?: string[];
  moved?: Record<HeadingId, string>;
}

export interface StrandShown {
  id: string;
  name: string;
  /** The name made from its headings or words, where the reader has given another. */
  found?: string;
  words: string[];
  /** The most central first. */
  themes: { id: HeadingId; name: string; entries: number }[];
  books: { id: HeadingId; name: string }[];
  people: { id: HeadingId; name: string }[];
  /** All of them together, the most central first. */
  central: HeadingId[];
  /** Those the reader has put there. */
  placed: HeadingId[];
  entries: number;
  /** The share of the weight of its ties that stays inside, 0 to 1. */
  cohesion: number;
  /** 0 to 4 for a dye; without one it is drawn in ink. */
  dye?: number;
  /** The pattern of its thread: with a dye the dye's own, 0 to 4; in ink from 0 on. */
  line: number;
}

export interface StrandsView {
  strands: StrandShown[];
  modularity: number;
  resolution: number;
  /** Numbers of strands at the steps of the slider that have been looked at, by resolution. */
  steps: number[];
  /** To be handed in again next time. */
  kept: KeptStrands;
  /** Edits since these strands were found, where they are not found anew after each. */
  behind: number;
}

/** How far the finding of strands has come: what is being done, how much of the whole is done, 0 to 1, and among how many entries. */
export interface StrandsProgress {
  doing: 'ties' | 'groups' | 'centres' | 'words';
  share: number;
  entries: number;
}

export interface ClothAsk {
  books?: BookOrder;
  themes?: ThemeOrder;
  foldBooks?: BookFold;
  foldThemes?: ThemeFold;
  /** Keys of folds that are open. */
  open?: string[];
  span?: Span;
  strands?: KeptStrands;
}

/** An upright or a flat thread of the cloth. */
export interface ClothThread {
  /** The heading's id, or the key of a fold. */
  id: string;
  name: string;
  /** The name where there is little room. */
  short: string;
  /** One, or all those folded into it. */
  headings: HeadingId[];
  folded: boolean;
  /** The fold it belongs to, open or closed, and what that is called. */
  fold?: { key: string; name: string };
  /** Entries within the span, by kind in the order of `ENTRY_KINDS`. */
  counts: number[];
  /** Under a book: the year. */
  year?: number;
  strand?: string;
}

/** The cloth as it lies. The knots of theme `r` are `starts[r]` to `starts[r + 1]` (exclusive) of `at`, their books; five counts each in `counts`. */
export interface ClothView {
  books: ClothThread[];
  themes: ClothThread[];
  starts: Int32Array;
  at: Int32Array;
  counts: Uint32Array;
  strands: StrandsView;
  /** How the threads are folded when nobody has said. */
  folded: { books: BookFold; themes: ThemeFold };
  /** Entries by when they were written, over the whole of time; `from` and `to` are ISO days. */
  history: { from: string; to: string; entries: number }[];
  /** Headings without any entry, which the cloth leaves out. */
  bare: { books: number; themes: number };
  totals: { books: number; themes: number; entries: number };
}

/** Entries tied to any of `books` and to any of `themes`; an empty list asks nothing of that side. */
export interface KnotAsk {
  books: HeadingId[];
  themes: HeadingId[];
  span?: Span;
  /** Kinds looked for: when none of them is there, the nearest one elsewhere is told. */
  missing?: EntryKind[];
  limit?: number;
}

export interface KnotView {
  total: number;
  counts: Record<EntryKind, number>;
  /** At least one of each kind among the first ones, then in the order of the book. */
  rows: EntryRow[];
  /** Of a kind that is missing here, the nearest elsewhere, with why. */
  nearest?: { row: EntryRow; from: string; reasons: string[] };
}

/** An entry or a heading, as it is told: a heading by its name, an entry by its title or its words. */
export interface ThingSaid {
  id: string;
  type: 'entry' | 'heading';
  kind: EntryKind | HeadingKind;
  text: string;
}

export interface ChainSaid {
  /** The first step has no `via`. */
  steps: (ThingSaid & { via?: string })[];
}

export interface ChainsView {
  /** Missing where an end is not in the journal. */
  from?: ThingSaid;
  to?: ThingSaid;
  /** The nearest first, then up to five that go other ways. */
  chains: ChainSaid[];
  /** Where nothing joins the two: what is near one end and can be reached from the other, and why it is near. */
  miss?: { here: ThingSaid; there: ThingSaid; reasons: string[] };
}

/** What is missing, one list for each way in which it can be. */
export const GAP_KINDS = [
  'theme-lesson',
  'book-question',
  'low-questions',
  'quote-unused',
  'tied-once',
] as const;
export type GapKind = (typeof GAP_KINDS)[number];

export interface GapRow extends ThingSaid {
  /** Entries of the heading; for low questions, its questions; 1 for a quote. */
  count: number;
  /** For a quote: the book it is from. */
  from?: string;
  /** What an entry that fills the gap begins with. */
  fill: { kind: EntryKind; ties: Tie[] };
}

export interface GapsView {
  /** The largest first; at most as many rows as were asked for. */
  lists: { gap: GapKind; total: number; rows: GapRow[] }[];
}

/** What a map round something is to show. */
export interface AroundAsk {
  /** What stands in the middle: ids of entries and headings. */
  roots: string[];
  /** Nodes that were opened, in that order. */
  opened?: string[];
  /** Nodes taken off; they come back only by stepping back. */
  pruned?: string[];
  span?: Span;
  /** Kinds to show besides what is in the middle; all when left out. */
  kinds?: (EntryKind | HeadingKind)[];
  /** Ties of these roles only; all when left out. */
  roles?: TieRole[];
  /** Headings of these strands only, and what hangs on them. */
  strands?: string[];
  /** What is remembered of strands, as for the cloth. */
  kept?: KeptStrands;
  /** Nodes that one opening brings; 12 when left out. */
  each?: number;
}

export interface AroundNode extends ThingSaid {
  /** Its slot on the rings, in units; y is downward. */
  x: number;
  y: number;
  /** Entries tied to a heading; headings an entry is tied to. */
  count: number;
  /** Entries shared with what it hangs on. */
  shared: number;
  /** 0 in the middle, then one more for each step out. */
  step: number;
  /** The node that brought it, none in the middle. */
  by?: string;
  strand?: string;
}

export interface AroundLink {
  from: string;
  to: string;
  /** Entries that hold both, or 1 for a tie of an entry or a relation. */
  weight: number;
  /** Not tied, but probably belonging together. */
  proposed?: boolean;
  /** Why, in words. */
  says: string;
}

export interface AroundView {
  /** What is in the middle first, then in the order of opening. */
  nodes: AroundNode[];
  links: AroundLink[];
  /** Things that would hang on each node that is open but were too many to show. */
  more: Record<string, number>;
}

/** The whole journal as a map; positions in units in which a strand's region has a radius of about the square root of what it holds. */
export interface JournalMap {
  regions: { id?: string; name: string; x: number; y: number; radius: number; entries: number }[];
  headings: {
    id: HeadingId;
    kind: HeadingKind;
    name: string;
    x: number;
    y: number;
    entries: number;
    strand?: string;
  }[];
  /** Entries by number: x and y of each, its kind in the order of `ENTRY_KINDS`, and its region. */
  places: Float32Array;
  kinds: Uint8Array;
  regionOf: Uint16Array;
  /** Pairs of headings by number that share most entries, the strongest first. */
  links: { from: number; to: number; weight: number }[];
  strands: StrandsView;
  /** To be handed in when entries are asked for by number. */
  made: number;
}

export interface MapEntry extends ThingSaid {
  number: number;
  /** The headings it is tied to, by number. */
  headings: number[];
}

/** What of a map lies within a stretch of time and is tied in one of some roles. */
export interface MapWithin {
  /** 1 for each entry that does, by number. */
  entries: Uint8Array;
  /** How many of each heading's entries do, by number. */
  headings: Uint32Array;
}

export interface MapHits {
  /** The map whose numbers these are; 0 for none. */
  made: number;
  entries: number[];
  headings: number[];
  total: number;
}

export type { EntryId, EntryKind, HeadingId, HeadingKind };
