/** The year at a glance with what stands beside it: what was read, what is in hand, and how the challenges stand. */
import type { ChallengeId, HeadingId, Picture, Reading, ReadingId } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { sayDate } from '../language/dates';
import { challengeSpan, type ChallengeAnswer, type PromptAnswer } from '../reading/challenge';
import { finishedIn, figuresFor } from '../reading/figures';
import { dayOf, isInHand, sortDay } from '../reading/readings';
import { isYearStart, schoolYearNamed, schoolYearSpan, USUAL_START } from '../reading/school-years';
import { yearLayout, type YearMonth } from '../reading/year';
import type { Core } from './core';
import { bookOf, challengeAnswer, todayOf } from './reading';
import { lastKept, yearSpan, yearsRead, type LastKept } from './reading-all-years';
import { factsIn } from './reading-cache';
import { authorsShort, promptLabel, readingSaid } from './reading-words';

export interface YearAsk {
  /** A calendar year, or a school year by its name; this year when neither is given. */
  year?: number;
  school?: string;
  /** "MM-DD", the reader's setting. */
  schoolStart?: string;
  /** Day columns a letter of a title takes on the screen. */
  perLetter?: number;
}

export interface MonthView extends YearMonth {
  meetings: { day: number; circle: string }[];
}

export interface ReadRow {
  reading: ReadingId;
  book: HeadingId;
  title: string;
  author: string;
  form: Reading['form'];
  entries: number;
  /** "18 Oct", or with its year where that is another one. */
  on: string;
  rating?: number;
}

export interface ChallengeStrip {
  id: ChallengeId;
  name: string;
  met: number;
  inHand: number;
  of: number;
  prompts: {
    id: string;
    label: string;
    text: string;
    state: PromptAnswer['state'];
    title?: string;
  }[];
  said: string;
}

export interface YearView {
  title: string;
  school: boolean;
  from: string;
  to: string;
  today: string;
  months: MonthView[];
  /** Readings of the year with dates too vague for a place in it, in words. */
  loose: { reading: ReadingId; book: HeadingId; title: string; said: string }[];
  finished: ReadRow[];
  inHand: ReadRow[];
  days: number;
  pages: number;
  /** Years with readings, the newest first, and the present one. */
  years: number[];
  schoolYears: string[];
  /** Lists that are sealed: counted, and nothing more is known of them here. */
  sealed: number;
  challenges: ChallengeStrip[];
  covers: Record<HeadingId, Picture>;
  /** Before the year, where that has begun and nothing is kept in it. */
  lastKept?: LastKept;
}

export function yearView(core: Core, ask: YearAsk): YearView {
  const { tables } = core.journal;
  const today = todayOf(core);
  const start = isYearStart(ask.schoolStart ?? '') ? ask.schoolStart! : USUAL_START;
  const school = ask.school ? schoolYearSpan(ask.school, start) : undefined;
  const named = school && { name: schoolYearNamed(ask.school!, start)!, start };
  const year = ask.year ?? Number(today.slice(0, 4));
  const { from, to } = school ?? yearSpan(year);
  const readings = [...tables.readings.values()];
  const layout = yearLayout({
    readings,
    titleOf: (id) => tables.headings.get(id)?.name ?? 'A book',
    from,
    to,
    ...(ask.perLetter ? { perLetter: ask.perLetter } : {}),
  });
  const finished = readings
    .filter((reading) => finishedIn(reading, from, to, named))
    .sort((a, b) => (sortDay(a) < sortDay(b) ? 1 : -1));
  const inHand = today >= from && today <= to ? readings.filter(isInHand) : [];
  const figures = figuresFor({
    readings,
    pagesOf: (id) => bookOf(core.journal, id)?.pages,
    from,
    to,
    today,
    school: named,
  });
  const books = new Set(layout.months.flatMap(({ lanes }) => lanes.flat().map(({ book }) => book)));
  const lying = finished.length + inHand.length + layout.loose.length + books.size + figures.days;
  const last =
    lying === 0 && today >= from ? lastKept(readings, from, school ? start : undefined) : undefined;
  return {
    title: named?.name ?? String(year),
    school: school !== undefined,
    from,
    to,
    today,
    months: layout.months.map((month) => ({ ...month, meetings: meetingsIn(core, month.month) })),
    loose: layout.loose.map((id) => {
      const reading = tables.readings.get(id)!;
      const title = tables.headings.get(reading.book)?.name ?? 'A book';
      return { reading: id, book: reading.book, title, said: readingSaid(reading) };
    }),
    finished: finished.map((reading) => readRow(core, reading, { from, to })),
    inHand: inHand
      .sort((a, b) => (sortDay(a) < sortDay(b) ? 1 : -1))
      .map((reading) => readRow(core, reading, { from, to })),
    days: figures.days,
    pages: figures.pages,
    ...yearsRead(readings, Number(today.slice(0, 4)), start),
    sealed: [...tables.lists.values()].filter(({ seal }) => seal).length,
    challenges: stripsOf(core, from, to),
    covers: coversOf(core, books),
    ...(last ? { lastKept: last } : {}),
  };
}

/** "18 Oct" within the stretch shown, otherwise with its year; what is vaguer as it is. */
function shortDate(date: string, { from, to }: { from: string; to: string }): string {
  const day = dayOf(date);
  const said = sayDate(date);
  return day && day >= from && day <= to ? said.replace(/ \d{4}$/, '') : said;
}

function readRow(core: Core, reading: Reading, span: { from: string; to: string }): ReadRow {
  const book = bookOf(core.journal, reading.book);
  const since = reading.started ?? reading.days?.toSorted()[0];
  const on = reading.finished
    ? shortDate(reading.finished, span)
    : since
      ? `since ${shortDate(since, span)}`
      : '';
  return {
    reading: reading.id,
    book: reading.book,
    title: book?.name ?? 'A book',
    author: authorsShort(core.journal, book),
    form: reading.form,
    entries: entriesTiedTo(core.journal, reading.book).size,
    on,
    ...(reading.rating === undefined ? {} : { rating: reading.rating }),
  };
}

function meetingsIn(core: Core, month: string): MonthView['meetings'] {
  const { meetings, circles } = core.journal.tables;
  return [...meetings.values()].flatMap(({ on, circle }) => {
    const day = dayOf(on);
    if (!day?.startsWith(month)) return [];
    return [{ day: Number(day.slice(8)), circle: circles.get(circle)?.name ?? 'A circle' }];
  });
}

function stripsOf(core: Core, from: string, to: string): ChallengeStrip[] {
  return [...core.journal.tables.challenges.values()]
    .filter((challenge) => {
      const span = challengeSpan(challenge);
      return span.from <= to && span.to >= from;
    })
    .sort((a, b) => (a.id < b.id ? 1 : -1))
    .map((challenge) =>
      stripOf(core, challenge.id, challenge.name, challengeAnswer(core, challenge, factsIn(core))),
    );
}

const MOST_OPEN = 5;

export function stripOf(
  core: Core,
  id: ChallengeId,
  name: string,
  answer: ChallengeAnswer,
): ChallengeStrip {
  const { met, inHand, of, pace } = answer;
  const prompts = answer.prompts.map((prompt, index) => {
    const title = prompt.book && core.journal.tables.headings.get(prompt.book)?.name;
    return {
      id: prompt.id,
      label: promptLabel(prompt.rule, index),
      text: prompt.text,
      state: prompt.state,
      ...(title ? { title } : {}),
    };
  });
  const open = prompts.filter(({ state }) => state === 'open').map(({ label }) => label);
  const last = open.length > 1 ? open.at(-1) : undefined;
  const listed = last ? `${open.slice(0, -1).join(', ')} and ${last}` : (open[0] ?? '');
  const openSaid =
    open.length === 0
      ? ''
      : open.length <= MOST_OPEN
        ? `Open: ${listed}. `
        : `${open.length} are open. `;
  return { id, name, met, inHand, of, prompts, said: `${openSaid}${pace.said}` };
}

function coversOf(core: Core, books: ReadonlySet<HeadingId>): Record<HeadingId, Picture> {
  const covers: Record<HeadingId, Picture> = {};
  for (const id of books) {
    const picture = bookOf(core.journal, id)?.picture;
    if (picture) covers[id] = picture;
  }
  return covers;
}
