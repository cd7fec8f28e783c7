/** What the screen of gathering asks and is told: plain data that can cross to a worker. */
import type { BookFound, ColumnRole, MeetingFound } from '../gather/block';
import type { Differences, PieceTie, TwinChoice } from '../gather/piece';
import type { EntryId, EntryKind, GatheringId, HeadingKind } from '../journal/records';
import type { Certainty } from '../language/certainty';
import type { EntryRow } from './answers';

export type { ColumnRole, Differences, PieceTie, TwinChoice };

/** A file handed over to be gathered, by its path with `/` between folders. */
export interface FileHanded {
  path: string;
  file: Blob;
}

/** What has become of a piece. `seen`: the journal, or an earlier piece, says the same. */
export type Settled = 'accepted' | 'skipped' | 'seen';

/** Which pieces are shown: of those left all, those of a kind or of a certainty; or those settled one way. */
export type BenchShow = 'left' | EntryKind | Certainty | 'books' | 'twins' | Settled;
export type BenchOrder = 'notebook' | 'certainty' | 'kind';

export interface BenchAsk {
  show: BenchShow;
  order: BenchOrder;
  /** Only from this file. */
  file?: number;
  /** Shown though it no longer belongs: what has just been settled. */
  linger?: string;
  /** Rows from here on, or around this one where it is in the list. */
  from: number;
  around?: string;
  /** At most 200. */
  limit: number;
  /** The state of the files that the screen has; of the same state they are not told again. */
  filesAt?: number;
}

export interface BenchTie {
  name: string;
  kind: HeadingKind;
  role: PieceTie['role'];
  heading?: string;
  /** "ch. 13, p. 61" */
  place?: PieceTie['place'];
  /** Drawn dashed: the reader's to confirm. */
  proposed: boolean;
  isNew: boolean;
  /** New and a guess: not made unless the reader says so. */
  unlikely: boolean;
}

export interface BenchTwin {
  /** `kept`: an entry of the journal. `here`: a piece of this gathering, still to be settled or skipped. */
  where: 'kept' | 'here';
  entry?: EntryId;
  /** Plain text. */
  text: string;
  /** "No. 611, from 2013 alps, red book. Used twice." */
  from: string;
  differences: Differences;
  exact: boolean;
  /** Of the same words, what this one says besides: "an answer, a tie to Emma". */
  brings?: string;
  /** One stands inside the other: this one is the shorter, or it holds the other and more. */
  part?: 'inside' | 'holds';
}

/** One piece, book or meeting as a row of the bench. */
export interface BenchRow {
  id: string;
  type: 'piece' | 'book' | 'meeting';
  kind: EntryKind | 'book' | 'meeting';
  certainty: Certainty;
  status: Settled | 'left';
  /** Plain text. */
  text: string;
  title?: string;
  ties: BenchTie[];
  /** "2015 Avonlea, line 207" */
  place: string;
  file: number;
  under?: string;
  /** In words. */
  written?: string;
  answer?: string;
  materials?: string[];
  picture?: { digest: string; type: string; alt: string; width?: number; height?: number };
  twin?: BenchTwin;
  entry?: EntryId;
  /** What the program would do with it: skip what is most likely not from reading. */
  first: 'accept' | 'skip';
}

export interface BenchFile {
  key: number;
  path: string;
  /** Last part of the path. */
  name: string;
  /** The one being read is told by the progress. */
  status: 'read' | 'unreadable' | 'waiting';
  settled: number;
  total: number;
  /** Of one that waits: it has been read, and waits only to be sorted. */
  unsorted?: boolean;
  /** Why it could not be read and what to do; or of a file read, what was left out. */
  reason?: string;
  /** It was gathered before, byte for byte: `whole` where nothing in it is new, `partly` where something of it is not in the journal. */
  before?: 'whole' | 'partly';
  /** Its columns can be told anew. */
  table?: boolean;
}

export interface BenchCounts {
  found: number;
  accepted: number;
  seen: number;
  skipped: number;
  left: number;
}

export interface BenchProgress {
  stage: 'reading' | 'sorting' | 'comparing' | 'stopped';
  path: string;
  done: number;
  of: number;
  /** How much of the file in hand is sorted, 0 to 1. */
  part?: number;
}

export interface BenchView {
  /** Absent where no gathering is in hand. */
  gathering?: GatheringId;
  name: string;
  /** ISO time of the first files. */
  on: string;
  /** All files; left out where the screen has them as they are. */
  files?: BenchFile[];
  filesAt: number;
  counts: BenchCounts;
  /** Left ones of what is shown that may be accepted in one go. */
  sure: number;
  /** Rows in the whole list, and the part asked for. */
  total: number;
  from: number;
  rows: BenchRow[];
  /** Where the row asked for by `around` stands in the list; -1 where it is not in it. */
  at: number;
  rules: { id: string; says: string }[];
  progress?: BenchProgress;
  /** The piece that was last done something with, also by undo. */
  touched?: string;
  /** Minutes the rest takes at the pace of this sitting, once that can be told. */
  minutes?: number;
  /** Why what is decided here is not kept between windows, where that is so. */
  why?: string;
}

/** What the reader changes of a piece; a field left out stays, an empty one is taken off. */
export interface BenchWords {
  text?: string;
  title?: string;
  /** EDTF. */
  written?: string;
  answer?: string;
  /** What a picture shows. */
  alt?: string;
}

/** What the reader changes of a book. */
export type BenchBook = Partial<
  Pick<BookFound, 'title' | 'authors' | 'started' | 'finished' | 'rating' | 'pages' | 'isbn'>
>;

/** A column of a table: its name, what it was taken for if anything, and its first filled cells. */
export interface BenchColumn {
  name: string;
  role?: ColumnRole;
  samples: string[];
}

/** A table whose columns can be told. Without `named` its first row was taken for a row like the others; `first` is that row. */
export interface BenchTable {
  columns: BenchColumn[];
  named: boolean;
  first: string[];
}

export type TieAsked = Pick<PieceTie, 'name' | 'kind'> & { heading?: string };

/** One thing done at the bench. Every step can be taken back. */
export type BenchStep =
  | { do: 'accept'; ids: string[]; choice?: TwinChoice }
  | { do: 'accept-sure'; ask: Pick<BenchAsk, 'show' | 'file'> }
  | { do: 'skip'; ids: string[] }
  | { do: 'put-back'; ids: string[] }
  | { do: 'kind'; ids: string[]; kind: EntryKind }
  | { do: 'tie'; ids: string[]; tie: TieAsked }
  | { do: 'untie'; id: string; tie: TieAsked }
  | {
      do: 'alter';
      id: string;
      kind?: EntryKind;
      words?: BenchWords;
      tied?: TieAsked[];
      untied?: TieAsked[];
    }
  | { do: 'alter-book'; id: string; book: BenchBook }
  /** `at` is an offset into the text as it is; the piece becomes two. */
  | { do: 'split'; id: string; at: number }
  /** With the next one of the same file. */
  | { do: 'join'; id: string }
  | { do: 'revoke'; rule: string }
  | { do: 'name'; name: string }
  /** Ends the gathering: what is left is not kept. */
  | { do: 'put-away' };

/** A piece whole, to be altered: `text` is CommonMark. */
export interface BenchPiece {
  id: string;
  kind: EntryKind;
  text: string;
  title: string;
  written: string;
  answer: string;
  /** Its `alt` is the caption, to be filled in. */
  picture?: NonNullable<BenchRow['picture']>;
  ties: BenchTie[];
  place: string;
  under: string[];
  cells?: Record<string, string>;
  /** How the piece begins that it can be joined with. */
  next?: string;
}

export type BenchWhole =
  | { type: 'piece'; piece: BenchPiece }
  | { type: 'book'; id: string; book: BookFound }
  | { type: 'meeting'; id: string; meeting: MeetingFound; circle?: string };

export interface GatheringSaid {
  id: GatheringId;
  name: string;
  on: string;
  files: number;
  entries: number;
}

/** What taking a gathering back would do. */
export interface GatheringLooked {
  name: string;
  entries: number;
  /** Entries changed since they were gathered. */
  altered: EntryRow[];
  /** Entries that guides or meetings use; their words stay there. */
  used: number;
}
