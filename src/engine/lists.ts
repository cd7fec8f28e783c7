import type { Journal } from '../journal/records';
import { sayDate } from '../language/dates';
import type { GuideSaid, MeetingSaid } from './desk';

/** Guides as a list shows them, the newest first. */
export function guideSaid(journal: Journal): GuideSaid[] {
  const met = new Map<string, string[]>();
  for (const { guide, on } of journal.tables.meetings.values()) {
    if (guide) met.set(guide, [...(met.get(guide) ?? []), on]);
  }
  const said = [...journal.tables.guides.values()].map((guide): GuideSaid => {
    const circle = guide.circle && journal.tables.circles.get(guide.circle)?.name;
    return {
      id: guide.id,
      title: guide.title,
      shape: guide.shape,
      ...(circle ? { circle } : {}),
      minutes: guide.minutes,
      items: guide.parts.reduce((sum, part) => sum + part.items.length, 0),
      ...(guide.starts ? { starts: guide.starts } : {}),
      met: (met.get(guide.id) ?? []).sort(),
      made: guide.made,
      ...(guide.template ? { template: true } : {}),
      ...(guide.series ? { series: guide.series.id } : {}),
      ...(guide.starts && (guide.series || guide.focus.headings.some(({ from, to }) => from && to))
        ? { inSeries: true }
        : {}),
    };
  });
  return inOrder(said);
}

/** The newest first; meetings of one series stand together, by day. */
function inOrder(guides: GuideSaid[]): GuideSaid[] {
  const newest = new Map<string, string>();
  for (const { series, made } of guides)
    if (series && made > (newest.get(series) ?? '')) newest.set(series, made);
  const keyed = guides.map((guide) => {
    const { id, made, series, starts = '' } = guide;
    return { guide, key: [(series && newest.get(series)) ?? made, series ?? id, starts, id] };
  });
  keyed.sort(({ key: a }, { key: b }) => {
    const at = a.findIndex((value, index) => value !== b[index]);
    if (at < 0) return 0;
    const rising = a[at]! < b[at]! ? -1 : 1;
    return at === 0 ? -rising : rising;
  });
  return keyed.map(({ guide }) => guide);
}

/** Meetings as a list shows them, the newest first. */
export function meetingSaid(journal: Journal): MeetingSaid[] {
  return [...journal.tables.meetings.values()]
    .map((meeting) => {
      const title = meeting.guide && journal.tables.guides.get(meeting.guide)?.title;
      return {
        id: meeting.id,
        on: meeting.on,
        said: sayDate(meeting.on),
        circle: journal.tables.circles.get(meeting.circle)?.name ?? 'A circle',
        ...(meeting.guide ? { guide: meeting.guide } : {}),
        ...(title ? { title } : {}),
        asked: meeting.items.filter((item) => item.used).length,
        left: meeting.items.filter((item) => !item.used).length,
        ...(meeting.note ? { note: meeting.note } : {}),
      };
    })
    .sort((a, b) => (a.on < b.on ? 1 : -1));
}
