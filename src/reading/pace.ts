/** Pages against days: how many a day, and when a list will be done. */
import type { FreeDays } from '../journal/records';
import { addDays, dayNumber, daysFromTo, weekday } from './days';

export const isFree = (day: string, { weekdays = [], stretches = [] }: FreeDays): boolean =>
  weekdays.includes(weekday(day)) || stretches.some(({ from, to }) => day >= from && day <= to);

/** The longest a plan may run, in days: beyond it a pace is said to have no end. */
const LONGEST_PLAN = 366 * 20;

/** Days for reading from one ISO day to another, both counted, without the free ones. */
export function readingDays(from: string, to: string, free: FreeDays = {}): number {
  const all = Math.min(daysFromTo(from, to), LONGEST_PLAN);
  let count = 0;
  for (let at = 0; at < all; at += 1) if (!isFree(addDays(from, at), free)) count += 1;
  return count;
}

/** Pages a day to be done in time: pages over days, rounded up; undefined where pages are left and no day is. */
export function pagesADay(pages: number, days: number): number | undefined {
  if (pages <= 0) return 0;
  return days > 0 ? Math.ceil(pages / days) : undefined;
}

interface PlannedBook<Id> {
  id: Id;
  pages: number;
  /** ISO days; absent beyond {@link LONGEST_PLAN}. */
  from?: string;
  to?: string;
}

/**
 * Books one after another at so many pages a day from an ISO day, free days left out. A book may begin on the day another ends. A book of no pages
 * takes no day of its own.
 */
export function schedule<Id>(
  books: readonly { id: Id; pages: number }[],
  from: string,
  perDay: number,
  free: FreeDays = {},
): PlannedBook<Id>[] {
  const start = dayNumber(from);
  let offset = 0;
  let leftToday = 0;
  /** Moves on to the next day for reading; false past the end of any plan. */
  const nextDay = (): boolean => {
    while (offset < LONGEST_PLAN && isFree(addDays(from, offset), free)) offset += 1;
    leftToday = perDay;
    return offset < LONGEST_PLAN;
  };
  const dayAt = (): string => addDays(from, offset);
  let going = perDay > 0 && Number.isFinite(start) && nextDay();
  return books.map(({ id, pages }) => {
    const planned: PlannedBook<Id> = { id, pages };
    let left = pages;
    if (going && leftToday <= 0 && pages > 0) {
      offset += 1;
      going = nextDay();
    }
    if (!going) return planned;
    planned.from = dayAt();
    while (left > leftToday) {
      left -= leftToday;
      offset += 1;
      going = nextDay();
      if (!going) return planned;
    }
    leftToday -= left;
    planned.to = dayAt();
    return planned;
  });
}

/** The middle value, for a book whose pages are not known; undefined for none. */
export function median(values: readonly number[]): number | undefined {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  if (sorted.length === 0) return undefined;
  return sorted.length % 2 === 1
    ? sorted[middle]
    : Math.round((sorted[middle - 1]! + sorted[middle]!) / 2);
}
