/** What a circle has met over, and what of a book or a theme has been asked: the history a leader plans from. */
import type {
  CircleId,
  EntryId,
  HeadingId,
  Journal,
  Meeting,
  MeetingItem,
} from '../journal/records';
import { entriesTiedTo, usesOf, type Use } from '../journal/uses';
import { sayDate } from '../language/dates';
import { plainText } from '../language/markdown';
import type { CircleView } from './desk';
import { meetingSaid } from './lists';

const WENT = { well: 'went well', mixed: 'mixed', flat: 'went flat' } as const;

/** "once", "twice", "3 times". */
const timesSaid = (times: number): string =>
  times === 1 ? 'once' : times === 2 ? 'twice' : `${times} times`;

/** "twice, last 14 Mar 2024, went flat"; of a single time only the day: "14 Mar 2024, went flat". */
export function askedSaid(uses: { times: number; meetings: readonly Use[] }): string {
  const last = uses.meetings[0];
  if (!last) return '';
  const day = sayDate(last.on);
  const when = uses.times === 1 ? day : `${timesSaid(uses.times)}, last ${day}`;
  return `${when}${last.went ? `, ${WENT[last.went]}` : ''}`;
}

/** Everything a circle has met over, the newest first; undefined where there is no such circle. */
export function circleView(journal: Journal, id: CircleId): CircleView | undefined {
  const circle = journal.tables.circles.get(id);
  if (!circle) return undefined;
  const own = [...journal.tables.meetings.values()].filter((meeting) => meeting.circle === id);
  own.sort((a, b) => (a.on < b.on ? 1 : a.on > b.on ? -1 : a.id < b.id ? 1 : -1));
  const said = new Map(meetingSaid(journal).map((one) => [one.id, one]));
  return {
    circle,
    meetings: own.flatMap((meeting) => said.get(meeting.id) ?? []),
    books: booksOf(journal, own),
    notes: own.flatMap((meeting) => notesOf(journal, meeting)),
    asked: new Set(own.flatMap((meeting) => usedIn(meeting).flatMap(({ entry }) => entry ?? [])))
      .size,
  };
}

const usedIn = (meeting: Meeting): MeetingItem[] => meeting.items.filter(({ used }) => used);

function booksOf(journal: Journal, meetings: readonly Meeting[]): CircleView['books'] {
  const books = new Map<HeadingId, CircleView['books'][number] & { at: Set<string> }>();
  for (const meeting of meetings) {
    for (const item of usedIn(meeting)) {
      const entry = item.entry && journal.tables.entries.get(item.entry);
      const ids = new Set((entry ? entry.ties : []).map((tie) => tie.heading));
      for (const id of ids) {
        const heading = journal.tables.headings.get(id);
        if (heading?.kind !== 'book') continue;
        const held = books.get(id) ?? newBook(id, heading.name, sayDate(meeting.on));
        held.asked += 1;
        held.at.add(meeting.id);
        held.meetings = held.at.size;
        if (item.went) held[item.went] += 1;
        if (item.note) held.notes.push({ on: sayDate(meeting.on), note: item.note });
        books.set(id, held);
      }
    }
  }
  return [...books.values()].map(({ at: _at, ...book }) => book);
}

const newBook = (
  id: HeadingId,
  name: string,
  last: string,
): CircleView['books'][number] & { at: Set<string> } => ({
  id,
  name,
  last,
  asked: 0,
  meetings: 0,
  well: 0,
  mixed: 0,
  flat: 0,
  notes: [],
  at: new Set(),
});

function notesOf(journal: Journal, meeting: Meeting): CircleView['notes'] {
  const on = sayDate(meeting.on);
  const items = meeting.items.flatMap((item) => {
    if (!item.note) return [];
    const entry = item.entry && journal.tables.entries.get(item.entry);
    const of = entry ? plainText(entry.text) : (item.text ?? '');
    return [{ on, note: item.note, ...(of ? { of } : {}), ...(entry ? { entry: entry.id } : {}) }];
  });
  return [...(meeting.note ? [{ on, note: meeting.note }] : []), ...items];
}

/** What has been asked of all that is tied to a heading: "9 items asked in 3 meetings, last 14 Mar 2024". */
export function headingUsed(journal: Journal, id: HeadingId): string | undefined {
  const meetings = new Set<string>();
  let asked = 0;
  let last: string | undefined;
  for (const entry of entriesTiedTo(journal, id)) {
    const uses = usesOf(journal, entry as EntryId);
    if (uses.times > 0) asked += 1;
    for (const use of uses.meetings) meetings.add(use.meeting);
    if (uses.last && (!last || uses.last > last)) last = uses.last;
  }
  if (!last) return undefined;
  const items = asked === 1 ? '1 item' : `${asked} items`;
  const times = meetings.size === 1 ? '1 meeting' : `${meetings.size} meetings`;
  return `${items} asked in ${times}, last ${sayDate(last)}`;
}
