/**
 * What screens may ask of the reading place: a part of the desk with a name of its own. Every argument and answer is plain data, like the
 * rest of what the desk hands over.
 */
import type { HeadingId, Reading, ReadingId } from '../journal/records';
import type { Done } from './desk';
import type { OpenOn, ReadingDraft } from './reading-log';
import type { AllYears, YearAsk, YearView } from './reading-year';

export interface ReadingDesk {
  year(ask: YearAsk): Promise<YearView>;
  allYears(): Promise<AllYears>;
  reading(id: ReadingId): Promise<Reading | undefined>;
  openOn(day: string): Promise<OpenOn[]>;
  markDay(id: ReadingId, day: string, on: boolean): Promise<Done>;
  begin(book: HeadingId, day: string, form?: Reading['form']): Promise<Done>;
  save(draft: ReadingDraft): Promise<Done>;
  remove(id: ReadingId): Promise<Done>;
}
