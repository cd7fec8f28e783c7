/** A calendar file: RFC 5545, lines folded at 75 octets, times as the clock on the wall says them where the meeting is. */
import type { Guide, Meeting } from '../journal/records';
import { minuteOfDay, sayDay } from './clock';
import type { OpenRows } from './open-rows';
import { clean } from './safe-text';

/** Something on a calendar. */
export interface CalendarEvent {
  uid: string;
  /** ISO day. */
  day: string;
  /** Minutes after midnight; a whole day where there is none. */
  from?: number;
  minutes?: number;
  /** ISO day after the last, for whole days in a row; one day when left out. */
  until?: string;
  summary: string;
  description?: string;
  /** Other people's time: whether it is taken. Reading does not take the day. */
  free?: boolean;
}

/** The file. `made` is when the events are said to be set down, in UTC. */
export function toCalendar(name: string, events: readonly CalendarEvent[], made: Date): string {
  const stamp = made.toISOString().replace(/[-:]|\.\d+/g, '');
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Bookweft//Bookweft//EN',
    'CALSCALE:GREGORIAN',
    // NAME is of RFC 7986; older programs know the name by the other.
    `NAME:${escaped(name)}`,
    `X-WR-CALNAME:${escaped(name)}`,
    ...events.flatMap((event) => eventLines(event, stamp)),
    'END:VCALENDAR',
  ];
  return lines.map((line) => `${folded(line)}\r\n`).join('');
}

/**
 * Meetings that were held, on days that are known, and guides with a day set that have not been met on
 * it. A meeting has the time of its guide where that is of the same day. Notes stay in the journal.
 */
export function meetingEvents(rows: OpenRows): { events: CalendarEvent[]; undated: number } {
  const events: CalendarEvent[] = [];
  const met = new Set<string>();
  let undated = 0;
  for (const meeting of rows.meetings) {
    if (!isDay(meeting.on)) {
      undated += 1;
      continue;
    }
    const guide = meeting.guide && rows.guides.get(meeting.guide);
    if (guide) met.add(`${guide.id} ${meeting.on}`);
    events.push(eventOf(meeting.id, meeting.on, guide || undefined, meeting, rows));
  }
  for (const guide of rows.guides.values()) {
    const day = guide.starts?.slice(0, 10);
    if (!day || !isDay(day) || guide.template || met.has(`${guide.id} ${day}`)) continue;
    events.push(eventOf(guide.id, day, guide, undefined, rows));
  }
  events.sort((a, b) => (a.day + a.uid < b.day + b.uid ? -1 : 1));
  return { events, undated };
}

const isDay = (text: string): boolean =>
  /^\d{4}-\d\d-\d\d$/.test(text) && sayDay(text) !== undefined;

function eventOf(
  uid: string,
  day: string,
  guide: Guide | undefined,
  meeting: Meeting | undefined,
  { circles }: OpenRows,
): CalendarEvent {
  const circle = circles.get(meeting?.circle ?? guide?.circle ?? '')?.name;
  const from = guide?.starts?.startsWith(day) ? minuteOfDay(guide.starts) : undefined;
  return {
    uid,
    day,
    ...(from === undefined ? {} : { from, minutes: guide!.minutes }),
    summary: guide?.title.trim() || circle || 'Meeting',
    ...(circle ? { description: `With ${circle}` } : {}),
  };
}

function eventLines(event: CalendarEvent, stamp: string): string[] {
  const { from, minutes = 0, day } = event;
  const date = day.replaceAll('-', '');
  const times =
    from === undefined
      ? [
          `DTSTART;VALUE=DATE:${date}`,
          ...(event.until ? [`DTEND;VALUE=DATE:${event.until.replaceAll('-', '')}`] : []),
        ]
      : [`DTSTART:${date}T${clock(from)}`, ...(minutes > 0 ? [`DURATION:PT${minutes}M`] : [])];
  return [
    'BEGIN:VEVENT',
    `UID:${escaped(event.uid)}`,
    `DTSTAMP:${stamp}`,
    ...times,
    `SUMMARY:${escaped(event.summary)}`,
    ...(event.description ? [`DESCRIPTION:${escaped(event.description)}`] : []),
    ...(event.free ? ['TRANSP:TRANSPARENT'] : []),
    'END:VEVENT',
  ];
}

const two = (figure: number): string => String(figure).padStart(2, '0');
const clock = (minute: number): string => `${two(Math.floor(minute / 60))}${two(minute % 60)}00`;

/** TEXT, section 3.3.11. */
function escaped(text: string): string {
  return clean(text)
    .replace(/[\\;,]/g, '\\$&')
    .replace(/\n/g, '\\n')
    .replace(/\t/g, ' ');
}

/** Section 3.1: no line longer than 75 octets; what goes on begins with a space. No letter is cut. */
function folded(line: string): string {
  const encoder = new TextEncoder();
  let out = '';
  let octets = 0;
  for (const letter of line) {
    const length = encoder.encode(letter).length;
    if (octets + length > 75) {
      out += '\r\n ';
      octets = 1;
    }
    out += letter;
    octets += length;
  }
  return out;
}
