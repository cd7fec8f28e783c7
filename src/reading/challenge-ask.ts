/** What solving a challenge asks for, and what it offers for a prompt that stays open. */
import type { Challenge, HeadingId, Reading } from '../journal/records';
import type { BookFacts } from './book-facts';
import type { Meant } from './rules';

export interface ChallengeAsk {
  challenge: Challenge;
  facts: ReadonlyMap<HeadingId, BookFacts>;
  readings: Iterable<Reading>;
  /** Books of the reader's lists in their order, each with the names of the lists it stands on. */
  listed: ReadonlyMap<HeadingId, string[]>;
  meant: Meant;
  /** Name of a heading by id; words stand for themselves. */
  named: (is: string) => string;
  /** ISO day. */
  today: string;
}

/** A book not read in the challenge that would bring one prompt more. */
export interface WouldMeet {
  book: HeadingId;
  /** Lists it stands on; empty for one that is only in the catalogue. */
  lists: string[];
  /** It meets this prompt instead, whose book is then free for the open one; ids of prompts. */
  through?: string;
}
