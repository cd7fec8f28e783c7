/** What Weave asks and is answered: plain data that can cross to a worker. */
import type { EntryId, EntryKind, HeadingId, HeadingKind } from '../journal/records';
import type { Certainty } from '../language/certainty';
import type { Span } from '../weave/cloth-table';
import type { BookFold, BookOrder, ThemeFold, ThemeOrder } from '../weave/threads';
import type { EntryRow } from './answers';

export type { BookFold, BookOrder, Span, ThemeFold, ThemeOrder };

/** What a reader has said of strands and what is remembered of the last run, kept by the screen from sitting to sitting. */
export interface KeptStrands {
  resolution?: number;
  /** The last run: ids and headings, so that strands go on. */
  last?: { id: string; headings: HeadingId[] }[];
  /** Names given by the reader, by strand. */
  names?: Record<string, string>;
  /** Dyes by strand, 0 to 4. */
  dyes?: Record<string, number>;
  /** Strands brought forward, the newest first. */
  forward?: string[];
  /** Headings put in another strand by the reader. */
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

export interface AroundNode {
  id: string;
  type: 'entry' | 'heading';
  kind: EntryKind | HeadingKind;
  name: string;
  /** Entries it shares with what it hangs on; for an entry, the headings. */
  count: number;
}

export interface ProposedSaid {
  certainty: Certainty;
  reasons: string[];
}

export type { EntryId, EntryKind, HeadingId, HeadingKind };
