import type { Edit } from '../journal/edits';
import type { CircleId, Guide, GuideId, Meeting, MeetingId, MeetingItem } from '../journal/records';
import { putRow } from '../journal/make-edits';
import type { MetResult } from './answers';
import type { Core } from './core';

/** What to keep of a meeting. Items default to the whole guide, all asked. */
interface MetAsk {
  guide: Guide;
  on: string;
  circle: CircleId;
  items?: MeetingItem[];
  note?: string;
}

/** A meeting's items from a guide: everything in its parts, marked as asked. */
export function itemsOf(guide: Guide, used: boolean): MeetingItem[] {
  return guide.parts
    .flatMap((part) => part.items)
    .map(({ entry, text }) => ({
      ...(entry === undefined ? {} : { entry }),
      ...(text === undefined ? {} : { text }),
      used,
    }));
}

export function meetingFrom(engine: Core, ask: MetAsk): { edit: Edit; result: MetResult } {
  const meeting: Meeting = {
    id: engine.around.newId() as MeetingId,
    guide: ask.guide.id,
    circle: ask.circle,
    on: ask.on,
    items: ask.items ?? itemsOf(ask.guide, true),
    ...(ask.note ? { note: ask.note } : {}),
  };
  const edit = putRow(engine.journal, 'meetings', meeting);
  const asked = meeting.items.filter((item) => item.used).length;
  return {
    edit: { ...edit, does: 'Keep a meeting' },
    result: {
      meeting: meeting.id,
      guide: ask.guide.id as GuideId,
      circle: ask.circle,
      on: ask.on,
      asked,
    },
  };
}
