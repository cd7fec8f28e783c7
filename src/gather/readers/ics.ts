import ICAL from 'ical.js';
import type { MeetingFound, ReadWhole } from '../block';
import { BlockList, oneLine, plainProse } from './tools/block-list';
import { daysOf, localOf, startOf } from './tools/ics-days';
import { proseOf, runsOfLines } from './tools/safe-text';
import { Unreadable, type Watch } from './tools/watch';

const LONGEST_PART = 200_000;

interface Part {
  source: string;
  line: number;
  closed: boolean;
}

/**
 * Reads a calendar (iCalendar, RFC 5545): events as meetings, one for each day of a series that has an end; journal entries and tasks as
 * paragraphs. Each part is read by itself, so that a damaged one costs no other. Who was invited is not read.
 */
export async function readIcs(text: string, watch: Watch): Promise<ReadWhole> {
  const list = new BlockList();
  const meetings: MeetingFound[] = [];
  const zone = /^X-WR-TIMEZONE:(.{1,60})$/im.exec(text)?.[1]?.trim();
  const moved = new Set<string>();
  const events: { component: ICAL.Component; line: number }[] = [];
  let damaged = 0;
  let cancelled = 0;
  for (const part of partsOf(text)) {
    await watch.rest();
    const component = componentOf(part);
    if (!component) {
      damaged += 1;
      continue;
    }
    const instead = insteadOf(component, zone);
    // A day of a series that was cancelled is no day of it, as one that was moved.
    if (instead !== undefined) moved.add(instead);
    if (/^CANCELLED$/i.test(textOf(component, 'status'))) cancelled += 1;
    else if (component.name === 'vevent') events.push({ component, line: part.line });
    else setDownText(component, part.line, list);
  }
  for (const { component, line } of events) {
    await watch.rest();
    const found = meetingsOf(component, line, { zone, moved, list });
    if (found) meetings.push(...found);
    else damaged += 1;
  }
  if (meetings.length === 0 && list.blocks.length === 0 && damaged > 0) {
    throw new Unreadable(
      'damaged',
      'No event of this calendar could be read; it is damaged or cut short. Save it again where it comes from.',
    );
  }
  if (damaged > 0)
    list.note(
      `${damaged === 1 ? 'One event is' : `${damaged} events are`} damaged or without a day, and ${damaged === 1 ? 'was' : 'were'} left out.`,
    );
  if (cancelled > 0)
    list.note(
      `${cancelled === 1 ? 'One event was' : `${cancelled} events were`} cancelled and left out.`,
    );
  meetings.sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
  const whole: ReadWhole = { ok: true, blocks: list.blocks, meetings, notes: list.notes };
  const name = /^X-WR-CALNAME:(.{1,200})$/im.exec(text)?.[1];
  if (name) whole.title = oneLine(name);
  return whole;
}

/** The events, journal entries and tasks of a calendar as text; a part inside one (an alarm) stays in it. */
function partsOf(text: string): Part[] {
  const parts: Part[] = [];
  let open: { name: string; lines: string[]; line: number } | undefined;
  for (const [index, raw] of text.split(/\r\n|[\n\r]/).entries()) {
    const begin = /^BEGIN:(VEVENT|VJOURNAL|VTODO)\s*$/i.exec(raw)?.[1]?.toUpperCase();
    if (begin) {
      if (open) parts.push({ source: open.lines.join('\r\n'), line: open.line, closed: false });
      open = { name: begin, lines: [], line: index + 1 };
    }
    open?.lines.push(raw);
    if (!open || !new RegExp(`^END:${open.name}\\s*$`, 'i').test(raw)) continue;
    parts.push({ source: open.lines.join('\r\n'), line: open.line, closed: true });
    open = undefined;
  }
  if (open) parts.push({ source: open.lines.join('\r\n'), line: open.line, closed: false });
  return parts;
}

function componentOf({ source, closed }: Part): ICAL.Component | undefined {
  if (!closed || source.length > LONGEST_PART) return undefined;
  try {
    return new ICAL.Component(ICAL.parse(source) as unknown as [string, object[], object[]]);
  } catch {
    return undefined;
  }
}

function textOf(component: ICAL.Component, name: string): string {
  try {
    const value = component.getFirstPropertyValue(name);
    return typeof value === 'string' ? value : '';
  } catch {
    return '';
  }
}

/** The uid and the day of its series that an event stands for; undefined of one that is not of a series. */
function insteadOf(component: ICAL.Component, zone: string | undefined): string | undefined {
  try {
    const time = component.getFirstPropertyValue('recurrence-id');
    if (!(time instanceof ICAL.Time)) return undefined;
    return `${textOf(component, 'uid')} ${localOf(time, zone).day}`;
  } catch {
    return undefined;
  }
}

function meetingsOf(
  component: ICAL.Component,
  line: number,
  { zone, moved, list }: { zone: string | undefined; moved: ReadonlySet<string>; list: BlockList },
): MeetingFound[] | undefined {
  const start = startOf(component, zone);
  if (!start) return undefined;
  if (start.clock === undefined && start.timed) {
    list.note(
      'Some events are told in universal time without a place for it; their days were kept and their hours left out.',
    );
  }
  const own = component.hasProperty('recurrence-id');
  const { days, more } = own ? { days: [start], more: false } : daysOf(component, start, zone);
  const title = oneLine(textOf(component, 'summary')) || 'Meeting';
  if (more)
    list.note(
      `“${title}” repeats without an end or by a rule too rare to follow; only the days that are sure were taken.`,
    );
  const place = oneLine(textOf(component, 'location'));
  const note = [textOf(component, 'description').trim(), place === '' ? '' : `At ${place}.`]
    .filter(Boolean)
    .join('\n');
  const uid = textOf(component, 'uid');
  return days
    .filter(({ day }) => own || !moved.has(`${uid} ${day}`))
    .map(({ day: on, clock }) => {
      const meeting: MeetingFound = { on, title, place: { line, note: `line ${line}` } };
      if (clock !== undefined) meeting.starts = clock;
      if (start.minutes !== undefined) meeting.minutes = start.minutes;
      if (note !== '') meeting.note = note;
      return meeting;
    });
}

function setDownText(component: ICAL.Component, line: number, list: BlockList): void {
  const place = { line, note: `line ${line}` };
  const summary = oneLine(textOf(component, 'summary'));
  const description = textOf(component, 'description').trim();
  const day = startOf(component, undefined)?.day;
  const blocks =
    description === ''
      ? [list.paragraph(plainProse(summary), place)]
      : [
          list.heading(plainProse(summary), 2, place),
          list.paragraph(proseOf(runsOfLines(description)), place),
        ];
  for (const block of blocks) if (block && day) block.written = day;
}
