/** Several meetings over one book: which chapters for each, and what to read by when. */
import { counted } from '../journal/labels';
import type { BookHeading, CircleId, GuideId, HeadingId, Journal, Shape } from '../journal/records';
import { minutesSilent } from '../language/reading-time';
import {
  pagesByDay,
  pagesOfChapters,
  partsForPace,
  splitEvenly,
  type Stretch,
} from '../plan/series';
import { sayDay } from '../publish/clock';
import { figureOf, isNumbered } from '../journal/place-order';
import { addDays, daysFromTo } from '../reading/days';

export interface SeriesAsk {
  book: HeadingId;
  /** How many meetings; or so many pages a day, from which it follows. One of the two. */
  meetings?: number;
  pagesADay?: number;
  /** How many chapters there are, where the book lists none. */
  chapters?: number;
  /** ISO day of the first meeting, and days from one to the next, 1 to 366; the usual is 7. */
  first: string;
  every?: number;
  /** ISO day on which reading begins; as many days before the first meeting when left out. */
  begin?: string;
  /** Local clock time, "19:00"; the circle's own when left out. */
  at?: string;
  circle?: CircleId;
  shape?: Shape;
  minutes?: number;
  /** A guide or template whose parts, minutes, breaks and aims each meeting takes over. */
  like?: GuideId;
}

export interface SeriesMeeting {
  /** ISO day. */
  on: string;
  /** ISO day on which reading for it begins. */
  read: string;
  title: string;
  /** As the focus of a guide has them. */
  chapters?: { from: string; to: string };
  pages?: { from: number; to: number };
  pagesADay?: number;
  minutesADay?: number;
}

export interface Series {
  ok: true;
  book: { id: HeadingId; name: string };
  meetings: SeriesMeeting[];
  /** Whether pages are those of a table of contents, worked out from the number of chapters, or not known. */
  pages: 'listed' | 'estimated' | 'unknown';
  /** How it was parted, in a finished sentence. */
  said: string;
  at: string;
}
export type SeriesAnswer = Series | { ok: false; code: string; message: string };

const MOST_MEETINGS = 60;
export const USUAL_TIME = '19:00';

const refused = (code: string, message: string): SeriesAnswer => ({ ok: false, code, message });

/** The series as it would be; nothing is kept. */
export function seriesPlan(journal: Journal, ask: SeriesAsk): SeriesAnswer {
  const book = journal.tables.headings.get(ask.book);
  if (book?.kind !== 'book') return refused('unknown-book', 'That book is not in the journal.');
  const every = ask.every ?? 7;
  if (!isDay(ask.first)) return refused('bad-date', 'Say the day of the first meeting.');
  if (!Number.isInteger(every) || every < 1 || every > 366)
    return refused('bad-days', 'From one meeting to the next are 1 to 366 days.');
  const begin = ask.begin ?? addDays(ask.first, -every);
  const days = isDay(begin) ? daysFromTo(begin, ask.first) - 1 : 0;
  if (days < 1) return refused('bad-date', 'Reading begins before the first meeting.');
  const units = unitsOf(book, ask.chapters);
  if (!units)
    return refused(
      'no-length',
      `Say how many chapters ${book.name} has; the journal knows neither those nor its pages.`,
    );
  const perUnit = units.pages === 'unknown' ? undefined : 1;
  let parts = ask.meetings;
  if (parts === undefined) {
    if (!ask.pagesADay)
      return refused('no-pace', 'Say how many meetings, or how many pages a day.');
    if (!perUnit)
      return refused(
        'no-pages',
        `How many pages ${book.name} has is not known; say how many meetings.`,
      );
    parts = partsForPace(units.sizes, ask.pagesADay * every);
  }
  if (!Number.isInteger(parts) || parts < 1 || parts > MOST_MEETINGS)
    return refused(
      'bad-meetings',
      `A series has 1 to ${MOST_MEETINGS} meetings; this would have ${parts}.`,
    );
  if (parts > units.sizes.length)
    return refused(
      'too-many',
      `${book.name} has ${counted(units.sizes.length, units.chapters ? 'chapter' : 'page')}; there cannot be more meetings.`,
    );
  const circle = ask.circle && journal.tables.circles.get(ask.circle);
  const meetings = stretchesOf(units, parts).map((stretch, at): SeriesMeeting => {
    const on = addDays(ask.first, at * every);
    const read = at === 0 ? begin : addDays(on, -every);
    return meetingOf(book, units, stretch, { on, read, days: at === 0 ? days : every });
  });
  return {
    ok: true,
    book: { id: book.id, name: book.name },
    meetings,
    pages: units.pages,
    said: saidOf(units, meetings),
    at: ask.at ?? (circle ? circle.starts : undefined) ?? USUAL_TIME,
  };
}

const isDay = (day: string): boolean => /^\d{4}-\d\d-\d\d$/.test(day) && sayDay(day) !== undefined;

/** Pages alone have no ends to keep whole, so that they are shared out evenly. */
function stretchesOf({ sizes, chapters }: Units, parts: number): Stretch[] {
  if (chapters) return splitEvenly(sizes, parts);
  return pagesByDay(1, sizes.length, parts).map(({ from, to }) => ({
    from,
    to,
    size: to - from + 1,
  }));
}

/** What is shared out: chapters with their pages where known, or the pages alone. */
interface Units {
  sizes: number[];
  /** Whether each is a chapter; else each is a page. */
  chapters: boolean;
  /** The page each begins on, where known, and the last page. */
  begins?: number[];
  last?: number;
  pages: Series['pages'];
}

export function unitsOf(book: BookHeading, told: number | undefined): Units | undefined {
  const listed = book.chapters ?? [];
  const begins = listed.flatMap(({ page }) => page ?? []);
  if (listed.length > 1 && begins.length === listed.length && told === undefined) {
    const last = Math.max(book.pages ?? 0, begins.at(-1)!);
    const sizes = pagesOfChapters(begins, last);
    if (sizes) return { sizes, chapters: true, begins, last, pages: 'listed' };
  }
  const count = told ?? (listed.length > 1 ? listed.length : 0);
  const { pages = 0 } = book;
  if (count > 0 && pages >= count) {
    const each = pages / count;
    const ends = Array.from({ length: count }, (_, at) => Math.round(each * (at + 1)));
    const from = ends.map((_, at) => (at === 0 ? 1 : ends[at - 1]! + 1));
    const sizes = ends.map((end, at) => end - from[at]! + 1);
    return { sizes, chapters: true, begins: from, last: pages, pages: 'estimated' };
  }
  if (count > 0) return { sizes: new Array(count).fill(1), chapters: true, pages: 'unknown' };
  if (pages < 2) return undefined;
  const from = Array.from({ length: pages }, (_, at) => at + 1);
  return { sizes: from.map(() => 1), chapters: false, begins: from, last: pages, pages: 'listed' };
}

export function meetingOf(
  book: BookHeading,
  units: Units,
  { from, to }: { from: number; to: number },
  when: { on: string; read: string; days: number },
): SeriesMeeting {
  const { begins, last } = units;
  const pages =
    begins && last ? { from: begins[from - 1]!, to: (begins[to] ?? last + 1) - 1 } : undefined;
  const many = pages && (pages.to - pages.from + 1) / when.days;
  const wordsOnPage = book.words && book.pages ? book.words / book.pages : undefined;
  const chapters = units.chapters ? { from: String(from), to: String(to) } : undefined;
  return {
    on: when.on,
    read: when.read,
    title: `${book.name}, ${chapters ? said('chapter', from, to) : said('page', pages!.from, pages!.to)}`,
    ...(chapters ? { chapters } : {}),
    ...(pages ? { pages } : {}),
    ...(many ? { pagesADay: Math.ceil(many) } : {}),
    ...(many && wordsOnPage
      ? { minutesADay: Math.ceil(minutesSilent(many * wordsOnPage, 'non-fiction')) }
      : {}),
  };
}

function said(noun: string, from: number, to: number): string {
  if (from === to) return `${noun} ${from}`;
  return `${noun}s ${from} ${to === from + 1 ? 'and' : 'to'} ${to}`;
}

function saidOf(units: Units, meetings: readonly SeriesMeeting[]): string {
  const all = `${counted(meetings.length, 'meeting')}`;
  if (!units.chapters) return `${all}, parted by pages alone, because no chapters are known.`;
  const chapters = counted(units.sizes.length, 'chapter');
  if (units.pages === 'unknown')
    return `${all} for ${chapters}, taken as alike in length, because no pages are known.`;
  const long = meetings.map(({ pages }) => pages!.to - pages!.from + 1);
  const [least, most] = [Math.min(...long), Math.max(...long)];
  const pages = least === most ? `${most} pages each` : `${least} to ${most} pages each`;
  return units.pages === 'listed'
    ? `${all} for ${chapters}, ${pages} by the table of contents.`
    : `${all} for ${chapters}, about ${pages}, as if all chapters were alike in length.`;
}

/** The highest chapter by number that entries from a book name; what a reader is asked to confirm. */
export function chaptersSeen(journal: Journal, book: HeadingId): number | undefined {
  let most = 0;
  for (const { ties } of journal.tables.entries.values())
    for (const { heading, place } of ties)
      if (heading === book && place?.chapter && isNumbered(place.chapter))
        most = Math.max(most, figureOf(place.chapter)?.value ?? 0);
  return most > 0 ? most : undefined;
}
