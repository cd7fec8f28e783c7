/** How often entries were used with circles, and which entries are tied to a heading; both from an index kept up by `apply`. */
import { readDate } from '../language/dates';
import { rowsNaming } from './indexes';
import type {
  CircleId,
  EntryId,
  Guide,
  HeadingId,
  Journal,
  MeetingId,
  MeetingItem,
} from './records';

export interface Use {
  meeting: MeetingId;
  circle: CircleId;
  /** EDTF, as the meeting has it. */
  on: string;
  went?: MeetingItem['went'];
  note?: string;
}

export interface Uses {
  /** Meetings it was used in; prepared and left out does not count. */
  times: number;
  /** EDTF date of the latest of them. */
  last?: string;
  /** Latest first. */
  meetings: Use[];
}

/** The meetings an entry was used in, all of them or those of one circle. The cost is that of the entry's own meetings. */
export function usesOf(journal: Journal, entryId: EntryId, circle?: CircleId): Uses {
  const meetings: Use[] = [];
  for (const id of rowsNaming(journal, 'entries', entryId, 'meetings')) {
    const meeting = journal.tables.meetings.get(id);
    if (!meeting || (circle !== undefined && meeting.circle !== circle)) continue;
    const item = meeting.items.find(({ entry, used }) => used && entry === entryId);
    if (!item) continue;
    const use: Use = { meeting: meeting.id, circle: meeting.circle, on: meeting.on };
    if (item.went !== undefined) use.went = item.went;
    if (item.note !== undefined) use.note = item.note;
    meetings.push(use);
  }
  meetings.sort((a, b) => {
    const [left, right] = [lastDay(a.on), lastDay(b.on)];
    return left === right ? (a.meeting < b.meeting ? 1 : -1) : left < right ? 1 : -1;
  });
  const uses: Uses = { times: meetings.length, meetings };
  if (meetings[0]) uses.last = meetings[0].on;
  return uses;
}

/**
 * What the circle of a guide had of an entry before: the guide's own meeting is no earlier use, unless the guide is
 * meant for a later day. None where the guide is for nobody in particular.
 */
export function usesBefore(
  journal: Journal,
  entryId: EntryId,
  { id, circle, starts }: Pick<Guide, 'id' | 'circle' | 'starts'>,
): Uses {
  const all = circle ? usesOf(journal, entryId, circle).meetings : [];
  const meetings = all.filter(
    ({ meeting, on }) =>
      journal.tables.meetings.get(meeting)?.guide !== id ||
      (starts !== undefined && lastDay(on) < starts.slice(0, 10)),
  );
  return {
    times: meetings.length,
    meetings,
    ...(meetings[0] ? { last: meetings[0].on } : {}),
  };
}

/** The last day an EDTF date may mean, as an ISO day; what cannot be read is sorted by its letters. */
function lastDay(on: string): string {
  if (/^\d{4}-\d\d-\d\d$/.test(on)) return on;
  const read = readDate(on);
  return (read.ok && (read.date.latest ?? read.date.earliest)) || on;
}

/** The entries tied to a heading in any role, for reading only; it changes as the journal does. */
export function entriesTiedTo(journal: Journal, headingId: HeadingId): ReadonlySet<EntryId> {
  return rowsNaming(journal, 'headings', headingId, 'entries') as ReadonlySet<EntryId>;
}
