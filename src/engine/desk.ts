/**
 * What screens may ask. The app's worker answers these over the engine and the store; tests answer them over
 * an in-memory store. Every call is asynchronous, every argument and answer is plain data that can cross to a
 * worker, and nothing here draws or stores by itself.
 */
import type { FindQuery } from '../find/query';
import type {
  Circle,
  CircleId,
  Entry,
  EntryId,
  EntryKind,
  Guide,
  GuideId,
  GuideItem,
  Heading,
  HeadingId,
  HeadingKind,
  Level,
  Meeting,
  TableName,
  Tie,
} from '../journal/records';
import type { TieAsked } from '../journal/ties';
import type { Certainty } from '../language/certainty';
import type {
  EntryRow,
  FindShown,
  NearHit,
  PlannedItem,
  ProposedTie,
  Summed,
  TieSaid,
} from './answers';
import type { CopiesInto } from './copy-folder';
import type { GatheringDesk } from './gathering-desk';
import type { PlanAsk } from './planning';
import type { PlanningDesk } from './planning-desk';
import type { PrintingDesk } from './printing-desk';
import type { PublishHow } from './publish-how';
import type { ReadingDesk } from './reading-desk';
import type { WeaveDesk } from './weave-desk';
import type { NearAsk } from './weaving';

/** Counts for the foot, and what is still being read from the store. */
export interface Totals {
  entries: number;
  headings: number;
  ties: number;
  books: number;
  guides: number;
  meetings: number;
  circles: number;
  /** Entries still to come from the store; 0 once all are here. */
  loading: number;
  name: string;
  /** Nothing kept yet: the first-run page is due. */
  empty: boolean;
}

/** The part of a journal that a store shut half-way left unread. It lies in the store as it was and is read at the next opening. */
export const UNREAD = 'the rest';

/** Whether what is on screen is stored. Shown in the running head, and as a bar under it when not kept. */
export interface KeepState {
  state: 'kept' | 'keeping' | 'not-kept' | 'memory-only';
  /** ISO time of the newest stored edit of this sitting, or of the opening. */
  at?: string;
  /** Why not, in a finished sentence, where state is not-kept or memory-only. */
  why?: string;
  /** ISO time of the last copy saved out. */
  copyAt?: string;
  /** Edits since that copy. */
  sinceCopy: number;
  /** Parts of the journal that could not be read and are kept aside; {@link UNREAD} is what was still to be read when the store was shut. */
  aside: { part: string; why: string }[];
  /** The folder that copies are written into by themselves, once that is known. */
  folder?: FolderState;
  /** The browser promised not to clear the store by itself. */
  persisted?: boolean;
  usedBytes?: number;
  quotaBytes?: number;
}

export interface FolderState {
  name: string;
  /** ISO time of the newest copy written there. */
  at?: string;
  /** Why none is written now, in a finished sentence. */
  why?: string;
  /** The browser wants to ask the reader first. */
  asks?: true;
}

export interface UndoState {
  undo?: string;
  redo?: string;
}

export interface DeskEvents {
  /** Something in the journal changed, here or in another window: ask again for what is on screen. */
  changed: (totals: Totals, undo: UndoState) => void;
  keeping: (state: KeepState) => void;
  /** More of the journal has come from the store, told at most twice a second: only the numbers are new, nothing need be asked again. */
  arriving: (totals: Totals) => void;
}

/** An entry whole, for the reading pane and for altering. */
export interface EntryView {
  entry: Entry;
  row: EntryRow;
  /** Place in the journal by time added, from 1. */
  number: number;
  /** In words: "Green notebook, spring 2014, page 61". */
  from?: string;
  /** When it was written, in words: "spring 2014". */
  written?: string;
  /** The usual cautions for the hazards marked on it. */
  cautions: string[];
  uses: {
    circle: string;
    on: string;
    said: string;
    went?: string;
    note?: string;
    guide?: GuideId;
  }[];
}

/** A heading's own page. */
export interface HeadingView {
  heading: Heading;
  authors: { id: HeadingId; name: string }[];
  broader: { id: HeadingId; name: string }[];
  narrower: { id: HeadingId; name: string; entries: number }[];
  related: { id: HeadingId; name: string }[];
  /** For a person: books written or belonged to. For a theme: books it runs through. For a book: people in it. */
  beside: { id: HeadingId; name: string; kind: HeadingKind; entries: number }[];
  entries: EntryRow[];
  proposed: ProposedTie[];
  readings: { said: string; rating?: number }[];
  /** What of it was asked: "9 items asked in 3 meetings, last 14 Mar 2024"; missing where nothing was. */
  used?: string;
  guides: { id: GuideId; title: string }[];
  /** Other headings that look like the same one. */
  same: { id: HeadingId; name: string }[];
  counts: Partial<Record<EntryKind, number>>;
}

export interface HeadingChoice {
  id: HeadingId;
  name: string;
  kind: HeadingKind;
  entries: number;
  /** The alternate name that matched, when it was not the name itself. */
  by?: string;
}

/** What the program proposes while an entry is being written. Everything stays a proposal until it is taken. */
export interface WritingHelp {
  kind: { kind: EntryKind; certainty: Certainty };
  ties: {
    heading: HeadingId;
    name: string;
    kind: HeadingKind;
    certainty: Certainty;
    reason: string;
    /** The words of the text that tell of it, as they stand there. */
    words: string[];
  }[];
  level?: { level: Level; certainty: Certainty };
  minutes?: { minutes: number; how: string };
}

export interface Done {
  ok: boolean;
  /** What was done ("Tie 3 entries to Courage") or one sentence why not. */
  said: string;
  /** It was so already: nothing was changed, and there is nothing to take back. */
  nothing?: true;
  code?: string;
  id?: string;
}

/** An entry as a screen sends it: a new one has no id. */
export type EntryDraft = Omit<Entry, 'id' | 'added' | 'changed'> & {
  id?: EntryId;
  /** The entry as it was opened to be altered: what was changed elsewhere since then is then kept too. */
  base?: Entry;
  /** Headings it was not to be tied to when they were proposed. */
  declined?: HeadingId[];
};

export interface Desk {
  /** The reading log, lists, challenges and figures. */
  readonly reading: ReadingDesk;
  /** Composing a guide and weighing it, what would go in it, and printing it. */
  readonly planning: PlanningDesk;
  /** Books and files made of the journal, templates and series. */
  readonly printing: PrintingDesk;
  /** The cloth, maps, chains, strands and gaps. */
  readonly weave: WeaveDesk;
  /** The bench of gathering. */
  readonly gathering: GatheringDesk;
  listen(events: DeskEvents): Promise<void>;
  /** Opens the store; resolves when the newest part of the journal can be asked about. */
  open(): Promise<Totals>;
  totals(): Promise<Totals>;

  find(query: FindQuery): Promise<FindShown>;
  /** All that a query finds, whatever its limit. */
  foundIds(query: FindQuery): Promise<EntryId[]>;
  near(ask: NearAsk): Promise<NearHit[]>;
  entry(id: EntryId): Promise<EntryView | undefined>;
  rows(ids: EntryId[]): Promise<EntryRow[]>;
  /** What many entries are and are tied to, in numbers. */
  summed(ids: EntryId[]): Promise<Summed>;
  heading(id: HeadingId): Promise<HeadingView | undefined>;
  /** Headings whose name begins or contains what is typed, best first; all of a kind when nothing is. */
  headings(typed: string, kind?: HeadingKind, limit?: number): Promise<HeadingChoice[]>;
  help(draft: {
    id?: EntryId;
    text: string;
    kind?: EntryKind;
    ties: Tie[];
    circle?: CircleId;
  }): Promise<WritingHelp>;

  saveEntry(draft: EntryDraft): Promise<Done>;
  removeEntries(ids: EntryId[]): Promise<Done>;
  tie(ids: EntryId[], tie: TieAsked): Promise<Done>;
  untie(ids: EntryId[], heading: HeadingId): Promise<Done>;
  changeKind(ids: EntryId[], kind: EntryKind): Promise<Done>;
  /** Makes a heading, or finds the one that already has this name. Answers its id. */
  makeHeading(kind: HeadingKind, name: string): Promise<Done>;
  saveHeading(heading: Heading): Promise<Done>;
  renameHeading(id: HeadingId, name: string): Promise<Done>;
  mergeHeadings(keep: HeadingId, gone: HeadingId): Promise<Done>;
  removeHeading(id: HeadingId): Promise<Done>;
  decline(entry: EntryId, heading: HeadingId): Promise<Done>;
  undo(): Promise<Done>;
  redo(): Promise<Done>;
  undoList(): Promise<string[]>;

  /** Keeps a picture's bytes; answers the digest to put on an entry. */
  keepPicture(bytes: ArrayBuffer, type: string): Promise<string>;
  picture(digest: string): Promise<{ bytes: ArrayBuffer; type: string } | undefined>;

  /** The journal as one file (a zip when there are pictures), and its name. */
  copyOut(): Promise<{ name: string; type: string; bytes: ArrayBuffer }>;
  /** Looks into a copy before anything is done with it. */
  lookInto(name: string, bytes: ArrayBuffer): Promise<CopyLooked>;
  /** Takes the copy last looked into: in place of the journal, or merged into it. Undoable. */
  takeCopy(how: 'replace' | 'merge'): Promise<Done>;
  /** The folder copies are written into by themselves; what is known of it is told with the state of keeping. */
  copyFolder(): Promise<CopiesInto | undefined>;
  /** Copies are written there from now on, the first at once; nowhere where none is given. */
  useCopyFolder(folder: CopiesInto | undefined): Promise<Done>;
  /** Writes a copy there now. */
  copyToFolder(): Promise<Done>;
  /** What tells, with the state of keeping, whether a copy should be saved. */
  copyAge(): Promise<CopyAge>;
  /** Fills an empty journal with the Harbour Lane demo, or begins one. */
  begin(how: 'demo' | 'empty', name?: string): Promise<Done>;
  keepState(): Promise<KeepState>;
  /** Looks again at how full the store is. */
  measure(): Promise<void>;
  /** Bytes of a part that could not be read, to be saved out. */
  asideOut(part: string): Promise<{ name: string; bytes: ArrayBuffer } | undefined>;

  circles(): Promise<Circle[]>;
  saveCircle(circle: Omit<Circle, 'id'> & { id?: CircleId }): Promise<Done>;
  guides(): Promise<GuideSaid[]>;
  guide(id: GuideId): Promise<Guide | undefined>;
  saveGuide(guide: Guide): Promise<Done>;
  removeGuide(id: GuideId): Promise<Done>;
  meetings(): Promise<MeetingSaid[]>;
  meeting(id: string): Promise<Meeting | undefined>;
  saveMeeting(meeting: Omit<Meeting, 'id'> & { id?: string }): Promise<Done>;
}

export interface CopyAge {
  /** ISO time at which the journal was begun or opened on this device. */
  begun: string;
  /** Entries that have been added since: not what it was opened with. */
  own: number;
}

export interface CopyLooked {
  ok: boolean;
  said: string;
  name?: string;
  made?: string;
  counts?: Partial<Record<TableName, number>>;
  /** Against the journal that is open. */
  compared?: {
    onlyThere: number;
    onlyHere: number;
    differing: number;
    same: number;
    /** Of those only there, entries that were removed here: merging leaves them so. Missing where there are none. */
    removedHere?: number;
  };
}

export interface GuideSaid {
  id: GuideId;
  title: string;
  shape: string;
  circle?: string;
  minutes: number;
  items: number;
  starts?: string;
  met: string[];
  made: string;
  /** Kept to begin others from. */
  template?: boolean;
  /** It has a day and chapters of a book: a reading schedule can be made for it. */
  inSeries?: boolean;
  /** The same for all meetings of a series that were made together. */
  series?: string;
}

export interface MeetingSaid {
  id: string;
  on: string;
  said: string;
  circle: string;
  guide?: GuideId;
  title?: string;
  asked: number;
  left: number;
  note?: string;
}

/** Suggestions for a part of a guide, or for what would go well with one item. */
export interface SuggestAsk {
  plan: PlanAsk;
  guide: Guide;
  part?: string;
  beside?: EntryId;
  limit?: number;
}

export interface Suggestion extends PlannedItem {
  entry: EntryId;
  /** "Never used", "Used with this circle 14 Mar 2024". */
  fresh: string;
  rested: boolean;
}

/** A circle with all it has met over, the newest first. */
export interface CircleView {
  circle: Circle;
  meetings: MeetingSaid[];
  /** Different entries asked of it. */
  asked: number;
  /** By book, the one met over last first: items asked, meetings, and how the items went. */
  books: {
    id: HeadingId;
    name: string;
    asked: number;
    meetings: number;
    last: string;
    well: number;
    mixed: number;
    flat: number;
    /** What was noted of what was asked from it, the newest first. */
    notes: { on: string; note: string }[];
  }[];
  /** Notes for next time, of meetings and of single items. */
  notes: { on: string; note: string; of?: string; entry?: EntryId }[];
}

export interface StrandChoice {
  id: string;
  name: string;
  entries: number;
  /** Themes first, the most central of each kind first; 1 to 40. */
  headings: HeadingId[];
}

/** One item of a guide as the workbench shows it. */
export interface ItemView {
  key: string;
  /** Also where it has since been removed, or is still being read from the store. */
  entry?: EntryId;
  kind: EntryKind | 'free';
  free?: string;
  text: string;
  title?: string;
  level?: Level;
  levelProposed: boolean;
  minutes: number;
  must: boolean;
  fixed: boolean;
  /** Its wording was changed for this guide only. */
  reworded: boolean;
  cue?: string;
  /** Asked if time allows. */
  ifTime?: boolean;
  /** When it is due this time, where this guide says so. */
  due?: string;
  /** All a leader may want while it is talked about: what to listen for, follow-ups, materials, steps. */
  cues: { lead: string; text: string }[];
  /** An opening of a question, not yet finished. */
  frame: boolean;
  clock: string;
  ties: TieSaid[];
  /** "Asked of this circle 14 Mar 2024", "Asked of this circle twice, last 14 Mar 2024, went flat". */
  asked?: string;
  rested: boolean;
}

/** Something a careful colleague would point out. */
export interface Remark {
  code: 'over' | 'under' | 'rest' | 'pairs' | 'frames' | 'ages' | 'unchecked' | 'quoted' | 'hazard';
  strong: string;
  text: string;
  /** Something to put in that would answer it. */
  offer?: GuideItem;
}

export interface GuideView {
  parts: {
    name: string;
    aim: string;
    /** Minutes meant for the part, and minutes of its items. */
    minutes: number;
    filled: number;
    from: string;
    to: string;
    items: ItemView[];
  }[];
  /** Held ready, in the order to reach for them. */
  spare: ItemView[];
  /** Put aside for this guide. */
  refused: { entry: EntryId; kind: EntryKind; text: string }[];
  planned: number;
  /** Minutes over the meeting's; negative when some are free. */
  over: number;
  levels: { level: Level; minutes: number; aim: number }[];
  remarks: Remark[];
  clock: string;
  ends: string;
  /** Which meeting of a series it is, from 1, and its neighbours; missing where it is of none. */
  series?: { at: number; of: number; book: string; before?: GuideId; after?: GuideId };
}

export type { PublishHow, TieSaid };
