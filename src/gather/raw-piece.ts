import type { EntryKind, Place } from '../journal/records';
import type { Block, BlockPlace } from './block';
import type { PieceTie } from './piece';

/** What stands over a piece, the innermost of each. */
export interface Governed {
  section?: EntryKind;
  written?: string;
  place?: Place;
  ties: PieceTie[];
  /** Of the ties, those that come from the heading of the whole file. */
  fromTitle: PieceTie[];
}

export interface RawPiece {
  as: Block['as'];
  /** CommonMark. */
  text: string;
  place: BlockPlace;
  under: string[];
  governed: Governed;
  title?: string;
  italics?: [number, number][];
  written?: string;
  cells?: Record<string, string>;
  picture?: Block['picture'];
  answer?: string;
  materials?: string[];
  /** From a column of a table named for a kind, or as the file itself says. */
  column?: EntryKind;
  /** A passage of an e-book. */
  passage?: true;
  /** From the columns of a table: titles, authors, themes, as they stand. */
  named?: { role: 'title' | 'author' | 'theme'; text: string; place?: Place }[];
  /** Pieces of one list have the same number. */
  list?: number;
}
