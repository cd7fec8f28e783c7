/**
 * From the bytes of scattered files to pieces that may become entries of a journal: reading, sorting, tying and finding twins.
 * This room keeps nothing and changes no journal; it opens no file and no address by itself, and runs nothing it reads.
 *
 * This file says what a reader of one format hands on: blocks in the order of the file, each with its place.
 */
import type { EntryKind, Journal } from '../journal/records';

/** Where in its file a block stands. Lines, pages and rows count from 1, as an editor or a spreadsheet shows them. */
export interface BlockPlace {
  line?: number;
  page?: number;
  /** In a table, counting the row of column names. */
  row?: number;
  sheet?: string;
  /** A finished phrase: "page 3", "line 207", "row 12". */
  note?: string;
}

export interface BlockPicture {
  /** Without what tells where it was taken. */
  bytes: Uint8Array;
  /** A media type such as "image/jpeg". */
  type: string;
  /** Plain text; empty where the file says nothing. */
  alt: string;
  width?: number;
  height?: number;
}

type BlockAs = 'title' | 'heading' | 'paragraph' | 'item' | 'row' | 'quote' | 'picture';

export interface Block {
  /** `title` is the heading of the whole file. A `quote` is what the file itself sets as a quotation. */
  as: BlockAs;
  /**
   * CommonMark that shows exactly the words read: whatever CommonMark would take for a mark is escaped, emphasis of the file
   * is kept as *…* and **…**, links to the web as [words](address), a line break as two spaces and a line feed, a new
   * paragraph inside one block as an empty line. Of a row: its filled cells joined by " · ".
   */
  text: string;
  /** Of a heading 1 to 6 (a title: 0); of an item its depth from 1. */
  level?: number;
  place: BlockPlace;
  /** Of a row: plain text by the name of its column. */
  cells?: Record<string, string>;
  /**
   * Plain texts of what stands above it, outermost first: title, headings, and the items of an outline it hangs from.
   * Absent where nothing does.
   */
  under?: string[];
  /** Offsets into `text` of what is set in italics, marks not counted in. */
  italics?: [number, number][];
  /** Of an item: from a numbered list. */
  ordered?: boolean;
  picture?: BlockPicture;
  /** EDTF, where the file dates this block by itself. */
  written?: string;
  /** Where the file itself says what this is: a passage marked in a book, a remark on one. */
  kind?: EntryKind;
  /** Plain text of the block this one is a remark on. */
  on?: string;
  /** Words the file files this block under. */
  themes?: string[];
}

/** A book a file lists as a book. What the file leaves out is absent. */
export interface BookFound {
  title: string;
  /** In the order of the name: "Kenneth Grahame". */
  authors: string[];
  /** Thirteen digits, checked. */
  isbn?: string;
  /** EDTF. */
  published?: string;
  pages?: number;
  /** 0.5 to 5 in half steps. */
  rating?: number;
  /** EDTF. */
  started?: string;
  finished?: string;
  abandoned?: boolean;
  /** When it was read, in words that are no date: "Date read: summer holidays 2012". */
  undated?: string;
  form?: 'print' | 'ebook' | 'audio';
  /** The name of the list it stands on. */
  list?: string;
  language?: string;
  /** Plain text. */
  note?: string;
  place: BlockPlace;
  /** Of a table: the whole row by the names of the columns, for correcting what was made of it. */
  cells?: Record<string, string>;
}

export interface MeetingFound {
  /** EDTF day. */
  on: string;
  /** Clock time of the calendar, "19:00". */
  starts?: string;
  minutes?: number;
  title: string;
  /** Plain text. */
  note?: string;
  place: BlockPlace;
}

/** What a column of a table holds. */
export type ColumnRole =
  | 'title'
  | 'author'
  | 'isbn'
  | 'published'
  | 'pages'
  | 'rating'
  | 'started'
  | 'finished'
  | 'form'
  | 'list'
  | 'language'
  | 'note'
  | 'quote'
  | 'question'
  | 'answer'
  | 'page'
  | 'chapter'
  | 'written'
  | 'theme'
  | 'kind';

export type UnreadableCode =
  | 'empty-file'
  | 'too-large'
  | 'too-deep'
  | 'too-many'
  | 'too-slow'
  | 'stopped'
  | 'damaged'
  | 'locked'
  | 'unknown-format'
  | 'older-format'
  | 'nothing-in-it'
  | 'bad-journal'
  | 'failed';

export interface Unread {
  ok: false;
  code: UnreadableCode;
  /** Why, and what to do: one or two plain sentences. */
  message: string;
}

export interface ReadWhole {
  ok: true;
  /** Plain text. */
  title?: string;
  /** EDTF, from the name of the file or what it says of itself. */
  written?: string;
  blocks: Block[];
  books?: BookFound[];
  meetings?: MeetingFound[];
  /** A journal of our own, read through the journal file. */
  journal?: Journal;
  /** The file is a book and its blocks are passages of it. */
  passages?: true;
  /** The file holds no text and is to be kept as it is, beside the journal. */
  attachment?: true;
  /** Of a table, what each column was taken for, to be corrected by `ReadOptions.columns`. */
  columns?: Record<string, ColumnRole>;
  /** Of a list of books, a sentence on the columns that no book keeps. */
  leftOut?: string;
  /** What was left out and why, in sentences. */
  notes: string[];
}

export type Gathered = ReadWhole | Unread;

export interface FileToRead {
  /** As the reader of the journal would name it, with `/` between folders. */
  path: string;
  bytes: Uint8Array;
}

export interface FileRead {
  /** The path given, or for a file inside a zip that path and the path inside joined by `/`. */
  path: string;
  result: Gathered;
}
