/** The shapes of a printing: what is handed in, what the leader's copy says, and what a handout can say at all. */
import type { Citer } from './cite';
import type {
  Circle,
  Entry,
  EntryKind,
  Guide,
  Hazard,
  Heading,
  Level,
  Shape,
} from '../journal/records';

/** The usual caution for each hazard, in words ("shared/cautions.json"). */
export type CautionTexts = Readonly<Partial<Record<Hazard, { name: string; caution: string }>>>;

/** What the engine hands in. Nothing else is looked up. */
export interface GuideInput {
  guide: Guide;
  entries: ReadonlyMap<string, Entry>;
  headings: ReadonlyMap<string, Heading>;
  circle?: Circle;
  /** Required, so that no printing can forget them. */
  cautions: CautionTexts;
  /** By entry id, a finished sentence: "Asked of this circle 14 Mar 2024; put it differently." */
  used?: ReadonlyMap<string, string>;
  /** By entry id, the leader's own note on an earlier use: "Went flat; too early in the evening." */
  notes?: ReadonlyMap<string, string>;
  /** Entry ids to leave out first when time runs short, in order; worked out from the guide when not handed in. */
  late?: readonly string[];
  /** How works are cited; plainly when left out. */
  cite?: Citer;
  /** CommonMark lines for "Until we meet again" besides the assignments with a due day. */
  untilNext?: readonly string[];
}

export interface Cue {
  /** "Listen for", "If it stalls", "From"; empty when the text speaks for itself. */
  lead: string;
  /** CommonMark. */
  text: string;
}

/** The part of an item that people other than the leader may see. */
export type Given =
  | { as: 'passage'; text: string; cite?: string; language?: string }
  | { as: 'question'; text: string }
  | {
      as: 'activity';
      title: string;
      text: string;
      space: 'lines' | 'grid';
      hazards: Hazard[];
    }
  | { as: 'until'; text: string; hazards: Hazard[] };

export interface DocItem {
  /** The entry's id, where it is one. */
  entry?: string;
  /** "7.06", or "0.06" from the beginning where no start is set. Spares have none. */
  clock?: string;
  /** Whole minutes. */
  minutes: number;
  kind: EntryKind | 'free';
  level?: Level;
  /** CommonMark. */
  text: string;
  title?: string;
  /** CommonMark. */
  cite?: string;
  /** BCP 47, where the words are in the language of their book. */
  language?: string;
  cues: Cue[];
  note?: string;
  must: boolean;
  /** Asked if time allows. */
  ifTime: boolean;
  used?: string;
  hazards: Hazard[];
  given?: Given;
}

export interface DocPart {
  name: string;
  aim?: string;
  from: string;
  to: string;
  minutes: number;
  items: DocItem[];
}

/** Everything the leader's copy says. Texts are CommonMark except titles, names, clock times and materials. */
export interface GuideDocument {
  title: string;
  subtitle?: string;
  circle?: string;
  /** "Thursday 13 November 2025". */
  day?: string;
  /** The line under the title: day, times, places. */
  when?: string;
  startsAt?: string;
  /** Whether the meeting begins at five in the afternoon or later. */
  evening: boolean;
  /** As long as the meeting is to last. */
  minutes: number;
  size?: number;
  shape: Shape;
  objective?: string;
  note?: string;
  parts: DocPart[];
  /** Where the planned minutes are not those the meeting has: the clock at which they part, and how it goes on from there. */
  ending?: { clock: string; text: string };
  haveReady: string[];
  ifLate: string[];
  cautions: { hazard: Hazard; text: string }[];
  levels: { level: Level; minutes: number }[];
  sources: string[];
  /** What the list of works is called; `Sources` is plain and runs on in a line, any other is a list. */
  sourcesHead: 'Sources' | 'Works Cited' | 'References';
  /** The works of the passages that are handed out; none where citations are plain, which name them in full. */
  worksGiven: string[];
  until: string[];
  spare: DocItem[];
}

export interface Passage {
  text: string;
  cite?: string;
  language?: string;
}

export interface Activity {
  title: string;
  text: string;
  space: 'lines' | 'grid';
}

/** What everybody may hold in their hands. It has no field for an answer, cue, follow-up, level, time or note, so none can be printed. */
export interface Handout {
  title: string;
  subtitle?: string;
  circle?: string;
  day?: string;
  passages: Passage[];
  questions: string[];
  activities: Activity[];
  until: string[];
  /** The works that short citations stand for, and what the list is called. */
  works: { head: string; list: string[] };
  /** The usual cautions for what the activities here use, and what is set for home. */
  cautions: string[];
}
