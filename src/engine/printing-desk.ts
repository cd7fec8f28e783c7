/** What screens may ask of printing and publishing: a part of the desk with a name of its own. */
import type { GuideId, HeadingId } from '../journal/records';
import type { Done } from './desk';
import type { BookHow, BookOf } from './publishing-book';
import type { JournalHow, JournalKind } from './publishing-journal';
import type { SeriesAnswer, SeriesAsk } from './series';

/** A file made for the reader to keep, or a sentence why there is none. */
export type FileMade =
  | {
      ok: true;
      name: string;
      type: string;
      bytes: ArrayBuffer;
      /** How much is in it, in words. */
      holds: string;
      /** What the reader should know of it, in finished sentences. */
      said: string[];
    }
  | { ok: false; said: string; code: string };

export interface PrintingDesk {
  /** The journal, a year or what is tied to a heading as a book. */
  book(of: BookOf, how: BookHow): Promise<FileMade>;
  /** Years with entries that may be printed, the newest first. */
  years(): Promise<{ year: number; entries: number }[]>;
  /** The whole journal in an open format, or as a copy for a family to read. */
  journal(kind: JournalKind, how: JournalHow): Promise<FileMade>;
  /** Keeps a guide's parts, times, breaks and aims to begin others from; answers the template's id. */
  keepTemplate(guide: GuideId, title?: string): Promise<Done>;
  /** A new guide from a template; answers its id. */
  beginFrom(template: GuideId): Promise<Done>;
  /** A series as it would be; nothing is kept. */
  series(ask: SeriesAsk): Promise<SeriesAnswer>;
  /** What a series over a book can go by. */
  lengthOf(
    book: HeadingId,
  ): Promise<{ name: string; chapters?: number; seen?: number; pages?: number }>;
  /** Keeps a guide for each meeting; taken back as one. Answers the id of the first. */
  makeSeries(ask: SeriesAsk): Promise<Done & { guides?: GuideId[] }>;
  /** The reading schedule of a series not kept, or of the one a kept guide is of. */
  schedule(of: SeriesAsk | GuideId): Promise<FileMade>;
}
