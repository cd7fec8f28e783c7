/** The reading schedule of a series as a calendar file. */
import type { Circle, GuideId, Journal } from '../journal/records';
import { counted } from '../journal/labels';
import { pagesByDay } from '../plan/series';
import { addDays, daysFromTo } from '../reading/days';
import { fileName } from './publishing';
import type { JournalFile } from './publishing-journal';
import type { Series, SeriesMeeting } from './series';

interface ScheduleFor {
  circle?: Circle;
  /** The guides of the meetings, in their order, where they are kept. */
  guides?: readonly GuideId[];
  minutes?: number;
}

/** The file: pages for each day where they are known, else a stretch of days for each meeting, and the meetings. */
export async function publishSchedule(
  journal: Journal,
  series: Series,
  { circle, guides, minutes }: ScheduleFor,
  now: Date,
): Promise<JournalFile & { name: string }> {
  const { toCalendar } = await import('../publish/ics');
  const { scheduleEvents } = await import('../publish/reading-schedule');
  const meetings = series.meetings.map((meeting, at) => {
    const guide = guides?.[at];
    const kept = guide && journal.tables.guides.get(guide);
    const long = kept?.minutes ?? minutes;
    const begins = kept?.starts?.slice(11, 16);
    return {
      ...meeting,
      ...(guide ? { uid: guide } : {}),
      ...(long ? { minutes: long } : {}),
      ...(begins ? { at: begins } : {}),
      days: daysOf(meeting),
    };
  });
  const events = scheduleEvents({
    id: [series.book.id, ...(circle ? [circle.id] : [])].join('-'),
    book: series.book.name,
    ...(circle ? { circle: circle.name } : {}),
    at: series.at,
    about: series.pages === 'estimated',
    meetings,
  });
  const text = toCalendar(`Reading ${series.book.name}`, events, now);
  return {
    name: fileName(series.book.name, 'reading-schedule', 'ics'),
    type: 'text/calendar',
    ending: 'ics',
    bytes: new TextEncoder().encode(text) as Uint8Array<ArrayBuffer>,
    holds: `${counted(meetings.length, 'meeting')} and ${counted(events.length - meetings.length, 'reading')}`,
    said: [],
  };
}

function daysOf({ read, on, pages }: SeriesMeeting): { day: string; from: number; to: number }[] {
  if (!pages || read >= on) return [];
  return pagesByDay(pages.from, pages.to, daysFromTo(read, on) - 1).map((part, at) => ({
    day: addDays(read, at),
    ...part,
  }));
}
