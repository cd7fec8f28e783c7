/** What gathering makes of files: pieces that may become entries, each with where it came from and what it is tied to. */
import type {
  Entry,
  EntryId,
  EntryKind,
  HeadingId,
  HeadingKind,
  Place,
  TieRole,
} from '../journal/records';
import type { Certainty } from '../language/certainty';
import type { BlockPicture, BlockPlace } from './block';

export interface PieceTie {
  /** Absent where the heading is not in the journal yet. */
  heading?: HeadingId;
  name: string;
  kind: HeadingKind;
  role: TieRole;
  place?: Place;
  certainty: Certainty;
  isNew: boolean;
  /** Of a new book: names of those who wrote it, as far as the file says. */
  authors?: string[];
  /** It is told that they wrote it, and not only likely: a book of its name that others wrote is another one. */
  told?: true;
  /** Of a new person: whether they are known to have written a book. */
  author?: boolean;
  /** The learnt rule it follows from; it goes when the rule is revoked. */
  rule?: string;
}

/** Offsets into plain texts, `to` exclusive: what one has and the other has not, or has otherwise. */
export interface Differences {
  here: [from: number, to: number][];
  there: [from: number, to: number][];
}

export interface TwinFound {
  /** The entry of the journal it says the same as. */
  entry?: EntryId;
  /** Or the earlier piece of this gathering. */
  piece?: string;
  differences: Differences;
  /** 0 to 1; 1 where only capitals, punctuation and accents differ. */
  likeness: number;
  /** One stands inside the other: `inside` where this piece is the shorter one, `holds` where it is the longer. */
  part?: 'inside' | 'holds';
}

/** What becomes of a piece that has a twin. */
export type TwinChoice = 'keep-ours' | 'take-wording' | 'keep-both';

/** Fields of an entry that no notebook has and another journal may. */
export type EntryMore = Pick<
  Entry,
  'level' | 'levelBy' | 'minutes' | 'probes' | 'cautions' | 'ages' | 'lesson'
>;

export interface GatherPiece {
  /** The same for the same bytes, so that what was settled stays settled when a file is read again. */
  id: string;
  kind: EntryKind;
  certainty: Certainty;
  /** CommonMark. */
  text: string;
  /** Plain text. */
  title?: string;
  ties: PieceTie[];
  /** EDTF. */
  written?: string;
  twinOf?: TwinFound;
  /** Set by the reader; without it an exact twin is not kept again and a near one waits. */
  choice?: TwinChoice;
  /** When the same bytes were gathered before, the reader let it go for what says nearly the same. */
  known?: true;
  source: {
    path: string;
    place: BlockPlace;
    /** Headings it stood under, outermost first, plain text. */
    under?: string[];
  };
  /** Of a row of a table: its cells by column. */
  cells?: Record<string, string>;
  /** For the leader's eyes: what stood as the answer to a question. */
  answer?: string;
  materials?: string[];
  /** Of an entry of another journal: what else it says, kept as it is. */
  more?: EntryMore;
  picture?: BlockPicture & {
    /** SHA-256 of the bytes, hexadecimal. */
    digest: string;
  };
  /** The learnt rule that settled its kind. */
  rule?: string;
}

/** "line 207", "page 3, row 12": a place in words. */
export function sayPlace(place: BlockPlace): string {
  if (place.note) return place.note;
  const parts = [
    place.sheet && `sheet ${place.sheet}`,
    place.page !== undefined && `page ${place.page}`,
    place.row !== undefined && `row ${place.row}`,
    place.line !== undefined && `line ${place.line}`,
  ].filter(Boolean);
  return parts.join(', ');
}
