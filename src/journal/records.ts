/**
 * The records a journal is made of. This room owns what a journal is: its records, the rules
 * they keep, the edits that change them, and the open file they are saved in. It knows nothing
 * of screens, searching or planning, and imports only `language`.
 *
 * Ids are UUIDv7. Times are ISO 8601 in UTC. Dates a reader gives are EDTF (ISO 8601-2) strings.
 * Unknown fields read from a file stay on their record and are written back.
 *
 * `changed` is the time at which a row last came to be as it is in this journal; but for entries it is missing
 * until the row is changed. Copies of other devices are judged by it when they are merged.
 */

declare const brand: unique symbol;
type Branded<Name extends string> = string & { readonly [brand]: Name };

export type EntryId = Branded<'Entry'>;
export type HeadingId = Branded<'Heading'>;
export type CircleId = Branded<'Circle'>;
export type GuideId = Branded<'Guide'>;
export type MeetingId = Branded<'Meeting'>;
export type ReadingId = Branded<'Reading'>;
export type ListId = Branded<'ReadingList'>;
export type ChallengeId = Branded<'Challenge'>;
export type GatheringId = Branded<'Gathering'>;
export type SealId = Branded<'Seal'>;

export const ENTRY_KINDS = ['note', 'quote', 'question', 'lesson', 'assignment'] as const;
export type EntryKind = (typeof ENTRY_KINDS)[number];

/** The six cognitive levels of the revised taxonomy (Anderson & Krathwohl 2001), lowest first. */
export const LEVELS = ['remember', 'understand', 'apply', 'analyse', 'evaluate', 'create'] as const;
export type Level = (typeof LEVELS)[number];

export const HEADING_KINDS = ['book', 'theme', 'person'] as const;
export type HeadingKind = (typeof HEADING_KINDS)[number];

export const TIE_ROLES = ['about', 'from', 'by', 'for'] as const;
export type TieRole = (typeof TIE_ROLES)[number];

/** Things in a hands-on activity that ask for care; the printed words are in `shared/cautions.json`. */
export const HAZARDS = [
  'heat',
  'blades',
  'allergens',
  'small-parts',
  'magnets',
  'button-cells',
  'water',
  'going-out',
  'chemicals',
  'plants-and-animals',
] as const;
export type Hazard = (typeof HAZARDS)[number];

/** Where in a book a tie points. `page` and `chapter` are as printed: "61", "xii", "13". */
export interface Place {
  page?: string;
  chapter?: string;
  note?: string;
}

export interface Tie {
  heading: HeadingId;
  role: TieRole;
  place?: Place;
  by: 'reader' | 'proposed' | 'gathering';
}

/** Where a gathered or copied entry came from, in the reader's own words or as a file and a place in it. */
export interface Source {
  gathering?: GatheringId;
  file?: string;
  place?: string;
  note?: string;
}

/** A picture kept beside the journal by the SHA-256 of its bytes, in hexadecimal. */
export interface Picture {
  digest: string;
  type: string;
  alt: string;
  width?: number;
  height?: number;
}

/** What a lesson idea may hold beyond its text. An object lesson has an object, what is observed and the idea it leads to. */
export interface LessonDetail {
  objective?: string;
  preparation?: string;
  object?: string;
  observations?: string[];
  idea?: string;
  steps?: string[];
  due?: string;
}

export interface Entry {
  id: EntryId;
  kind: EntryKind;
  /** CommonMark. */
  text: string;
  title?: string;
  ties: Tie[];
  /** When the reader wrote it, EDTF. */
  written?: string;
  added: string;
  changed: string;
  level?: Level;
  levelBy?: 'reader' | 'proposed';
  minutes?: number;
  /** For the leader's eyes only: never on a handout. */
  answer?: string;
  /** Follow-ups, for the leader's eyes only. */
  probes?: string[];
  materials?: string[];
  cautions?: Hazard[];
  /** An age band such as "7-11". */
  ages?: string;
  lesson?: LessonDetail;
  picture?: Picture;
  source?: Source;
}

interface HeadingBase {
  id: HeadingId;
  name: string;
  alternates: string[];
  /** Overrides the computed filing key where a reader files it otherwise. */
  filing?: string;
  note?: string;
  changed?: string;
}

export interface BookHeading extends HeadingBase {
  kind: 'book';
  /** Person headings, in the order of the title page. */
  authors: HeadingId[];
  isbn?: string;
  pages?: number;
  words?: number;
  /** First published, EDTF. */
  published?: string;
  /** BCP 47, for example "en". */
  language?: string;
  /** What a leader may want to know before reading with others, in plain words. */
  flags?: string[];
  chapters?: { name?: string; page?: number }[];
  picture?: Picture;
}

/** Relations as in W3C SKOS: broader is directed, related is held on both themes. */
export interface ThemeHeading extends HeadingBase {
  kind: 'theme';
  broader: HeadingId[];
  related: HeadingId[];
}

export interface PersonHeading extends HeadingBase {
  kind: 'person';
  roles: (
    'author' | 'character' | 'historical' | 'illustrator' | 'translator' | 'family' | 'other'
  )[];
  /** EDTF. */
  born?: string;
  died?: string;
  /** For a character: the books they belong to. */
  books?: HeadingId[];
}

export type Heading = BookHeading | ThemeHeading | PersonHeading;

/** How fast a circle reads aloud: adults, or a school grade (1 to 6) in a season. Words a minute may be set by hand. */
export interface Pace {
  readers: 'adult' | 'grade';
  grade?: number;
  season?: 'fall' | 'winter' | 'spring';
  wordsPerMinute?: number;
}

/** A reading circle, a class or one pupil. No full names of children are kept. */
export interface Circle {
  id: CircleId;
  name: string;
  size?: number;
  ages?: string;
  pace?: Pace;
  /** Local clock time meetings usually start, "19:00". */
  starts?: string;
  changed?: string;
}

export type Shape = 'discussion' | 'lesson';

/** What a guide was composed for, kept so that it can be composed again. */
export interface Focus {
  words: string[];
  headings: { heading: HeadingId; from?: string; to?: string }[];
  entries: EntryId[];
  strands?: FocusStrand[];
}

/** A strand as it was when it was chosen: strands are found anew as a journal grows, and a guide keeps to what it was made for. */
export interface FocusStrand {
  name: string;
  /** What makes it out, the most central first. */
  headings: HeadingId[];
}

export interface GuideItem {
  /** Either an entry of the journal, whose wording may be changed for this guide by `text`, or `text` alone. */
  entry?: EntryId;
  text?: string;
  /** What a free item is: a break, a reading aloud, talk in pairs, narration, copywork. */
  free?: 'break' | 'reading' | 'pair' | 'narration' | 'copywork' | 'other';
  kind?: EntryKind;
  level?: Level;
  minutes: number;
  /** Never dropped when the guide is composed again or time runs short. */
  must: boolean;
  /** Asked if time allows: the first thing to leave out when it runs short. */
  ifTime?: boolean;
  /** Set or moved by hand: composing again leaves it alone. */
  fixed?: boolean;
  /** For the leader's eyes only. */
  cue?: string;
  /** When an assignment is due this time, in words; as its entry has it where left out. */
  due?: string;
  /** What the entry was called whose words these are, and what asks for care in them, where it was removed. */
  title?: string;
  cautions?: Hazard[];
}

export interface GuidePart {
  name: string;
  minutes: number;
  /** A line under the part's name on the leader's copy. */
  aim?: string;
  items: GuideItem[];
}

export interface Guide {
  id: GuideId;
  title: string;
  shape: Shape;
  focus: Focus;
  circle?: CircleId;
  minutes: number;
  /** Local date and time, "2026-12-03T19:00", where a meeting is set. */
  starts?: string;
  parts: GuidePart[];
  /** Prepared and not placed: entries in the order to reach for them. */
  spare?: GuideItem[];
  /** Entries the leader has put aside for this guide. */
  refused?: EntryId[];
  /** Minutes aimed at for each level, where the leader changed the usual shares. */
  aims?: Partial<Record<Level, number>>;
  restMonths?: number;
  objective?: string;
  note?: string;
  template?: boolean;
  /** The same id for all meetings of one series, and how many chapters its book was said to have where it lists none. */
  series?: { id: string; chapters?: number };
  made: string;
  changed?: string;
}

export interface MeetingItem {
  entry?: EntryId;
  text?: string;
  used: boolean;
  went?: 'well' | 'flat' | 'mixed';
  minutes?: number;
  note?: string;
}

export interface Meeting {
  id: MeetingId;
  guide?: GuideId;
  circle: CircleId;
  /** EDTF date. */
  on: string;
  items: MeetingItem[];
  note?: string;
  changed?: string;
}

export interface Reading {
  id: ReadingId;
  book: HeadingId;
  /** EDTF, as exact or as vague as known. */
  started?: string;
  finished?: string;
  abandoned?: boolean;
  form: 'print' | 'ebook' | 'audio';
  pages?: number;
  minutes?: number;
  /** Days it was read on, ISO dates. */
  days?: string[];
  /** 0.5 to 5 in half steps. */
  rating?: number;
  note?: string;
  schoolYear?: string;
  changed?: string;
}

export const LIST_ORDERS = ['hand', 'title', 'author', 'published', 'shortest', 'longest'] as const;
type ListOrder = (typeof LIST_ORDERS)[number];

/** Days on which nothing is to be read. */
export interface FreeDays {
  /** 1 for Monday to 7 for Sunday. */
  weekdays?: number[];
  /** Stretches of ISO days, both ends free. */
  stretches?: { from: string; to: string }[];
}

/** How a list is planned. Absent: in the order set by hand, at no pace. */
export interface ListPace {
  order?: ListOrder;
  /** Pages a day. */
  perDay?: number;
  /** ISO day. */
  finishBy?: string;
  free?: FreeDays;
}

export interface ReadingList {
  id: ListId;
  name: string;
  books: HeadingId[];
  schoolYear?: string;
  note?: string;
  plan?: ListPace;
  seal?: SealId;
  changed?: string;
}

/** What a reading must be to meet a prompt; `pages-in-all` asks it of all readings finished from `from` to `to` together. */
export interface PromptRule {
  by:
    | 'title-letter'
    | 'author-letter'
    | 'theme'
    | 'person'
    | 'author'
    | 'book'
    | 'form'
    | 'pages'
    | 'pages-in-all'
    | 'published'
    | 'decade'
    | 'language'
    | 'finished'
    | 'rating'
    | 'free';
  is?: string;
  atLeast?: number;
  atMost?: number;
  from?: string;
  to?: string;
  /** For a free choice: the readings picked by hand. */
  readings?: ReadingId[];
}

export interface Challenge {
  id: ChallengeId;
  name: string;
  from: string;
  to: string;
  perBook: number | 'any';
  prompts: { id: string; text: string; rule: PromptRule }[];
  changed?: string;
}

export interface Gathering {
  id: GatheringId;
  on: string;
  name?: string;
  files: GatheredFile[];
  changed?: string;
}

export interface GatheredFile {
  path: string;
  digest: string;
  status: 'read' | 'unreadable';
  reason?: string;
  /** Places of pieces that the reader let go for what says nearly the same: they are not asked about again. */
  known?: string[];
}

/** A ciphertext envelope standing in place of the records it holds. */
export interface Seal {
  id: SealId;
  envelope: string;
  hint?: string;
  changed?: string;
}

/** A proposed tie the reader has turned down; it is not proposed again and is learnt from. */
export interface Declined {
  id: string;
  entry: EntryId;
  heading: HeadingId;
  on: string;
  changed?: string;
}

/**
 * What a reader has said of a strand. Strands are found, not kept: one is known again by the headings most central to it, so that its name, dye and
 * corrections outlive the finding and go along with a copy.
 */
export interface KeptStrand {
  id: string;
  /** The most central first, as they were when something was last said of it. */
  headings: HeadingId[];
  name?: string;
  /** 0 to 4. */
  dye?: number;
  /** When it was brought forward. */
  forward?: string;
  /** Headings the reader has put in it. */
  placed?: HeadingId[];
  /** How finely strands were told apart; above 1 gives more and smaller ones. */
  resolution?: number;
  changed?: string;
}

/** Every kind of record by the name of its table. */
export interface Records {
  entries: Entry;
  headings: Heading;
  circles: Circle;
  guides: Guide;
  meetings: Meeting;
  readings: Reading;
  lists: ReadingList;
  challenges: Challenge;
  gatherings: Gathering;
  seals: Seal;
  declined: Declined;
  strands: KeptStrand;
}
export type TableName = keyof Records;

export const TABLES: readonly TableName[] = [
  'headings',
  'entries',
  'circles',
  'guides',
  'meetings',
  'readings',
  'lists',
  'challenges',
  'gatherings',
  'seals',
  'declined',
  'strands',
];

/** A journal held in memory: a table of rows by id for each kind of record. */
export interface Journal {
  id: string;
  name: string;
  made: string;
  tables: { [T in TableName]: Map<string, Records[T]> };
  /** Top-level fields of a journal file this version does not know, kept as they were. */
  unknown?: Record<string, unknown>;
}
