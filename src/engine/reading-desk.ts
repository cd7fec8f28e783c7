/**
 * What screens may ask of the reading place: a part of the desk with a name of its own. Every argument and answer is plain data, like the
 * rest of what the desk hands over.
 */
import type {
  ChallengeId,
  HeadingId,
  ListId,
  ListPace,
  PromptRule,
  Reading,
  ReadingId,
} from '../journal/records';
import type { Done } from './desk';
import type { AllYears } from './reading-all-years';
import type { BookPage } from './reading-book-page';
import type { CatalogueAsk, CatalogueView } from './reading-books';
import type { BulkChange } from './reading-bulk';
import type { ChallengeDraft, ChallengeView, PresetAsk } from './reading-challenges';
import type { FiguresAsk, FiguresView } from './reading-figures';
import type { BooksLooked, IsbnLooked } from './reading-in';
import type { ListDraft } from './reading-list-edits';
import type { ListAsk, ListsView, ListView } from './reading-lists';
import type { OpenOn, ReadingDraft } from './reading-log';
import type { BooksFile, BooksForm } from './reading-out';
import type { NewBook } from './reading-table';
import type { ChallengeStrip, YearAsk, YearView } from './reading-year';

export interface ReadingDesk {
  year(ask: YearAsk): Promise<YearView>;
  allYears(): Promise<AllYears>;
  reading(id: ReadingId): Promise<Reading | undefined>;
  openOn(day: string): Promise<OpenOn[]>;
  markDay(id: ReadingId, day: string, on: boolean): Promise<Done>;
  begin(book: HeadingId, day: string, form?: Reading['form']): Promise<Done>;
  save(draft: ReadingDraft): Promise<Done>;
  remove(id: ReadingId): Promise<Done>;

  catalogue(ask: CatalogueAsk & { schoolStart?: string }): Promise<CatalogueView>;
  book(id: HeadingId, schoolStart?: string): Promise<BookPage | undefined>;
  lookAtIsbn(text: string): Promise<IsbnLooked>;
  /** Reads a file of books (or pasted text, as a file of that name) and says what keeping each would do. */
  lookAtBooks(name: string, bytes: ArrayBuffer): Promise<BooksLooked>;
  addBooks(books: NewBook[]): Promise<Done>;
  changeBooks(ids: HeadingId[], change: BulkChange): Promise<Done>;
  booksOut(form: BooksForm, ids?: HeadingId[]): Promise<BooksFile>;

  lists(ask: ListAsk): Promise<ListsView>;
  list(id: ListId, ask: ListAsk): Promise<ListView | undefined>;
  saveList(draft: ListDraft): Promise<Done>;
  placeOnList(id: ListId, book: HeadingId, at?: number): Promise<Done>;
  takeOffList(id: ListId, book: HeadingId): Promise<Done>;
  moveReadOut(id: ListId, ask: ListAsk): Promise<Done>;
  keepOrder(id: ListId, books: HeadingId[]): Promise<Done>;
  /** How a list is planned: order, pace, days that stay free. */
  paceList(id: ListId, plan: ListPace): Promise<Done>;
  removeList(id: ListId): Promise<Done>;

  challenges(): Promise<ChallengeStrip[]>;
  challenge(id: ChallengeId): Promise<ChallengeView | undefined>;
  preset(ask: PresetAsk): Promise<ChallengeDraft>;
  ruleOf(text: string): Promise<PromptRule>;
  sayRules(rules: PromptRule[]): Promise<string[]>;
  saveChallenge(draft: ChallengeDraft): Promise<Done>;
  readingsFor(id: ChallengeId): Promise<{ reading: ReadingId; title: string; said: string }[]>;
  chooseReadings(id: ChallengeId, prompt: string, readings: ReadingId[]): Promise<Done>;
  removeChallenge(id: ChallengeId): Promise<Done>;

  figures(ask: FiguresAsk): Promise<FiguresView>;
}
