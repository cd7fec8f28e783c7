import type {
  CircleId,
  EntryId,
  EntryKind,
  GuideId,
  HeadingId,
  MeetingId,
} from '../journal/records';
import type { FieldName } from './fields';

/** Why an entry was found: a word it holds, and how that answers what was typed. */
export interface Why {
  /** As it stands in the entry, or the name of a heading. */
  word: string;
  how: 'word' | 'form' | 'start' | 'typo' | 'phrase' | 'related' | 'heading';
  /** The typed word it answers, where they differ. */
  of?: string;
  field: FieldName;
}

export interface FindHit {
  id: EntryId;
  kind: EntryKind;
  /** Comparable within one answer only. */
  score: number;
  why: Why[];
  /** Some of what is asked for it does not hold itself: it is only related. */
  related: boolean;
  /** UTF-16 offsets into the plain text of the entry, end exclusive, in order. */
  marks: [number, number][];
}

export interface Facets {
  kind: Record<string, number>;
  /** A theme counts the entries of its narrower ones, each once. */
  theme: Record<HeadingId, number>;
  book: Record<HeadingId, number>;
  person: Record<HeadingId, number>;
  /** How many values each row of headings has, also where only the most counted are told. */
  values: { theme: number; book: number; person: number };
  /** By the year written; entries whose year is not known are in none. */
  year: Record<string, number>;
  use: { never: number; used: number; rested2y: number; notWith: Record<CircleId, number> };
}

export interface FindAnswer {
  total: number;
  /** How many of them hold what is asked for themselves; in the order by nearness they stand first. */
  byWords: number;
  hits: FindHit[];
  facets: Facets;
  /** What was looked for besides the typed words, the most telling first. */
  alsoLookedFor: { word: string; near: string; how: 'form' | 'start' | 'typo' | 'related' }[];
  headings: { id: HeadingId; score: number }[];
  guides: GuideId[];
  meetings: MeetingId[];
  /** When nothing was found: for each typed word, how many would be found without it (or with it `alone`), and what is typed then. */
  loosen: { word: string; alone?: true; without: number; text: string }[];
}
