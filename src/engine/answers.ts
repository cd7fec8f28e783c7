/** The shapes of the engine's answers: what `--json` prints and what screens are handed. Plain data, nothing live. */
import type { Certainty } from '../language/certainty';
import type {
  CircleId,
  EntryId,
  EntryKind,
  Guide,
  GuideId,
  Hazard,
  HeadingId,
  HeadingKind,
  Level,
  MeetingId,
  Place,
  Shape,
  TieRole,
} from '../journal/records';

export interface TieSaid {
  heading: HeadingId;
  name: string;
  kind: HeadingKind;
  role: TieRole;
  place?: Place;
  by: 'reader' | 'proposed' | 'gathering';
}

/** One entry as a row: what every list of entries shows. */
export interface EntryRow {
  id: EntryId;
  kind: EntryKind;
  text: string;
  title?: string;
  ties: TieSaid[];
  written?: string;
  uses: { times: number; last?: string };
}

export interface FoundRow extends EntryRow {
  score: number;
  /** In words: "storm in the text", "tied to Courage". */
  why: string[];
  /** Some of what is asked for it does not hold itself. */
  related: boolean;
  /** Offsets into `text`, which is plain text. */
  marks: [number, number][];
}

export interface FindResult {
  total: number;
  /** How many hold what is asked for themselves, and are not only related. */
  byWords: number;
  hits: FoundRow[];
  facets: {
    kind: Record<string, number>;
    theme: Record<string, number>;
    book: Record<string, number>;
    person: Record<string, number>;
    year: Record<string, number>;
    use: { never: number; used: number; rested2y: number; notWith: Record<string, number> };
  };
  alsoLookedFor: string[];
  headings: { id: HeadingId; name: string; kind: HeadingKind; entries: number }[];
  guides: { id: GuideId; title: string }[];
  meetings: { id: MeetingId; on: string; circle: string; title?: string }[];
  loosen: { word: string; alone?: true; without: number; text: string }[];
}

/** What a screen is handed of a search: the busiest values of each long row, with their names, and how many there are. */
export interface FindShown extends FindResult {
  names: Record<string, string>;
  values: { theme: number; book: number; person: number };
  /** Entries that had not come from the store yet. */
  coming: number;
}

/** Of many entries, how many are of each kind and tied to each heading, the headings of most first. */
export interface Summed {
  kinds: Partial<Record<EntryKind, number>>;
  ties: { heading: HeadingId; name: string; kind: HeadingKind; count: number }[];
}

export interface NearHit {
  id: string;
  type: 'entry' | 'heading';
  kind: EntryKind | HeadingKind;
  text: string;
  score: number;
  reasons: string[];
}

export interface ProposedTie {
  id: EntryId;
  kind: EntryKind;
  text: string;
  certainty: Certainty;
  reasons: string[];
}

export interface TiedResult {
  heading: { id: HeadingId; name: string; kind: HeadingKind };
  entries: EntryRow[];
  proposed: ProposedTie[];
}

export interface StrandsResult {
  modularity: number;
  strands: {
    id: string;
    name: string;
    words: string[];
    headings: HeadingId[];
    entries: EntryId[];
    cohesion: number;
  }[];
}

export interface ChainResult {
  steps: { id: string; type: 'entry' | 'heading'; text: string; via?: string }[];
}

export interface PlannedItem {
  entry?: EntryId;
  text: string;
  kind: EntryKind;
  level?: Level;
  minutes: number;
  must: boolean;
  reasons: string[];
  ties: TieSaid[];
}

export interface PlanResult {
  id?: GuideId;
  title: string;
  shape: Shape;
  minutes: number;
  planned: number;
  parts: { name: string; minutes: number; items: PlannedItem[] }[];
  spare: PlannedItem[];
  levels: Record<Level, number>;
  cautions: string[];
  sources: string[];
  objective: { value: number; bound: number; gap: number };
}

/** The worth of a guide as it stands, and what none for the same purpose can be worth more than. */
export interface Standing {
  value: number;
  bound: number;
  /** (bound - value) / bound, 0 or more. */
  gap: number;
}

/** A composed guide: the answer to print, and the record to keep. */
export interface Composed {
  answer: PlanResult;
  guide: Guide;
  hazards: Hazard[];
  /** Indexes "part.item" of what to leave out first when late. */
  late: EntryId[];
  candidates: number;
}

export interface MetResult {
  meeting: MeetingId;
  guide?: GuideId;
  circle: CircleId;
  on: string;
  asked: number;
}
