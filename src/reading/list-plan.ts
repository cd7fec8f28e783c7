/** A list of books against time: in which order, what is left, how many pages a day, and when each would be done. */
import type { HeadingId, ListPace } from '../journal/records';
import { sayDate } from '../language/dates';
import { daysFromTo } from './days';
import { median, pagesADay, readingDays, schedule } from './pace';

export interface ListedBook {
  id: HeadingId;
  pages?: number;
  read: boolean;
  filing: string;
  authorFiling: string;
  /** ISO day, '' where not known. */
  publishedDay: string;
}

/** Where `perDay` is absent and `finishBy` is given, the pages a day which that day asks for are taken. */
interface ListPlanAsk extends ListPace {
  /** In the order set by hand. */
  books: readonly ListedBook[];
  /** ISO day from which reading is planned. */
  today: string;
}

export interface ListPlan {
  order: HeadingId[];
  left: {
    books: number;
    pages: number;
    /** Of these, books whose length is not known. */ guessed: number;
  };
  /** What a book of unknown length is taken for. */
  guess?: number;
  /** Pages a day the plan runs at. */
  perDay?: number;
  /** Pages a day that `finishBy` asks for; absent where no day is left. */
  need?: number;
  /** Days for reading to `finishBy`, without the free ones. */
  days?: number;
  /** Of the books left: ISO days. */
  when: Map<HeadingId, { from?: string; to?: string }>;
  ends?: string;
  said: string;
}

/** Where nothing is known of any book: a middling novel (common practice). */
const USUAL_PAGES = 250;

export function planList(ask: ListPlanAsk): ListPlan {
  const books = ordered(ask.books, ask.order ?? 'hand');
  const open = books.filter(({ read }) => !read);
  const guess = median(books.flatMap(({ pages }) => pages ?? [])) ?? USUAL_PAGES;
  const measured = open.map(({ id, pages }) => ({ id, pages: pages ?? guess }));
  const pages = measured.reduce((sum, each) => sum + each.pages, 0);
  const guessed = open.filter((book) => book.pages === undefined).length;
  const plan: ListPlan = {
    order: books.map(({ id }) => id),
    left: { books: open.length, pages, guessed },
    when: new Map(),
    said: '',
  };
  if (guessed > 0) plan.guess = guess;
  const free = ask.free ?? {};
  if (ask.finishBy) {
    plan.days = ask.finishBy < ask.today ? 0 : readingDays(ask.today, ask.finishBy, free);
    const need = pagesADay(pages, plan.days);
    if (need !== undefined) plan.need = need;
  }
  const perDay = ask.perDay ?? plan.need;
  if (perDay !== undefined && perDay > 0) {
    plan.perDay = perDay;
    for (const { id, from, to } of schedule(measured, ask.today, perDay, free))
      plan.when.set(id, { ...(from ? { from } : {}), ...(to ? { to } : {}) });
    const last = measured.at(-1);
    const ends = last && plan.when.get(last.id)?.to;
    if (ends) plan.ends = ends;
  }
  plan.said = planSaid(plan, ask);
  return plan;
}

function ordered(
  books: readonly ListedBook[],
  order: NonNullable<ListPace['order']>,
): ListedBook[] {
  if (order === 'hand') return [...books];
  const value = (book: ListedBook): string | number => {
    if (order === 'title') return book.filing;
    if (order === 'author') return book.authorFiling || '\uffff';
    if (order === 'published') return book.publishedDay || '9999';
    const pages = book.pages ?? Infinity;
    return order === 'shortest' ? pages : pages === Infinity ? Infinity : -pages;
  };
  return [...books].sort((a, b) => {
    const [left, right] = [value(a), value(b)];
    if (left !== right) return left < right ? -1 : 1;
    return a.filing < b.filing ? -1 : a.filing > b.filing ? 1 : 0;
  });
}

const counted = (count: number, one: string): string =>
  `${count.toLocaleString('en-GB')} ${one}${count === 1 ? '' : 's'}`;

function planSaid(plan: ListPlan, { finishBy, perDay, today }: ListPlanAsk): string {
  const { left, days, need, ends, guess } = plan;
  if (left.books === 0) return 'Nothing is left to read on it.';
  const sentences = [`${counted(left.books, 'book')} left, ${counted(left.pages, 'page')}.`];
  if (left.guessed > 0 && guess !== undefined)
    sentences.push(
      `${left.guessed === 1 ? 'The length of one is' : `The lengths of ${left.guessed} are`} not known and taken as ${guess} pages.`,
    );
  if (finishBy !== undefined) {
    if (need === undefined)
      sentences.push(
        finishBy < today
          ? `${sayDate(finishBy)} has gone by.`
          : `No day is left for reading before ${sayDate(finishBy)}.`,
      );
    else
      sentences.push(
        `${counted(need, 'page')} a day on ${counted(days ?? 0, 'day')} would finish by ${sayDate(finishBy)}.`,
      );
  }
  if (perDay !== undefined) {
    if (!ends) sentences.push(`At ${counted(perDay, 'page')} a day there is no end in sight.`);
    else {
      const late = finishBy !== undefined && ends > finishBy ? daysFromTo(finishBy, ends) - 1 : 0;
      const over = late > 0 ? `, ${counted(late, 'day')} late` : '';
      sentences.push(`At ${counted(perDay, 'page')} a day it ends on ${sayDate(ends)}${over}.`);
    }
  }
  return sentences.join(' ');
}
