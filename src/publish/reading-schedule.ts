/** A book to be read for meetings, as events of a calendar: what to read each day, and the meetings themselves. */
import { minuteOfDay, sayDay } from './clock';
import type { CalendarEvent } from './ics';
import { clean } from './safe-text';

interface ScheduledMeeting {
  /** The guide's id, where there is one: the same event as in the calendar of meetings. */
  uid?: string;
  /** ISO days: the meeting, and when reading for it begins. */
  on: string;
  read: string;
  title: string;
  /** Local clock time, where it is not the usual one. */
  at?: string;
  minutes?: number;
  chapters?: { from: string; to: string };
  pages?: { from: number; to: number };
  /** Pages of each day from `read` to the day before; none where pages are not known. */
  days: { day: string; from: number; to: number }[];
}

interface ReadingSchedule {
  /** An id that is the same whenever this schedule is written. */
  id: string;
  book: string;
  circle?: string;
  /** Local clock time, "19:00". */
  at: string;
  /** Pages are worked out, not those of a table of contents. */
  about: boolean;
  meetings: readonly ScheduledMeeting[];
}

/** Reading leaves the day free; a meeting takes its time. */
export function scheduleEvents(schedule: ReadingSchedule): CalendarEvent[] {
  const { id, book, at, about, circle } = schedule;
  return schedule.meetings.flatMap((meeting): CalendarEvent[] => {
    const { chapters, pages } = meeting;
    const from = minuteOfDay(meeting.at ?? at);
    const chaptersSaid = chapters && range('chapter', chapters.from, chapters.to);
    const all = [
      chaptersSaid,
      pages && `${about ? 'about ' : ''}${range('page', pages.from, pages.to)}`,
    ].filter(Boolean);
    // Where neither chapters nor pages are known, the meeting's own name says what is read for it.
    const toRead = all.join(', ') || clean(meeting.title);
    const goal = `For the meeting on ${sayDay(meeting.on) ?? meeting.on}: ${toRead}`;
    const days = meeting.days.map(({ day, from: first, to }) => ({
      uid: `${id}-read-${day}`,
      day,
      summary: `Read ${clean(book)}, ${about ? 'about ' : ''}${range('page', first, to)}`,
      description: goal,
      free: true,
    }));
    const stretch: CalendarEvent = {
      uid: `${id}-read-${meeting.read}`,
      day: meeting.read,
      until: meeting.on,
      summary: `Read ${stretchSaid(clean(book), chaptersSaid, all.length > 0 ? '' : toRead)}`,
      description: goal,
      free: true,
    };
    const met: CalendarEvent = {
      uid: meeting.uid ?? `${id}-meet-${meeting.on}`,
      day: meeting.on,
      ...(from === undefined ? {} : { from, minutes: meeting.minutes ?? 60 }),
      summary: meeting.title,
      ...(circle ? { description: `With ${circle}` } : {}),
    };
    const reading = days.length > 0 ? days : meeting.read < meeting.on ? [stretch] : [];
    return [...reading, met];
  });
}

function stretchSaid(book: string, chapters: string | undefined, title: string): string {
  if (chapters) return `${book}, ${chapters}`;
  if (!title) return book;
  return title.startsWith(book) ? title : `${book} for ${title}`;
}

function range(noun: string, from: number | string, to: number | string): string {
  return String(from) === String(to) ? `${noun} ${from}` : `${noun}s ${from} to ${to}`;
}
