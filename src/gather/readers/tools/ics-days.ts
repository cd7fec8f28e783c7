import ICAL from 'ical.js';

const MOST_DAYS = 200;
const LAST_YEAR = 2200;

interface EventStart {
  /** ISO day. */
  day: string;
  /** "19:00"; undefined for a whole day, or where the clock cannot be known. */
  clock?: string;
  minutes?: number;
  /** Whether the event has an hour at all. */
  timed: boolean;
}

/** When an event begins: in the clock of its own calendar, or of `zone` (an IANA name) where it is told in universal time. */
export function startOf(
  component: ICAL.Component,
  zone: string | undefined,
): EventStart | undefined {
  const start = timeOf(component, 'dtstart');
  if (!start || start.year < 1900 || start.year > LAST_YEAR || !isDay(start)) return undefined;
  const found: EventStart = { day: dayText(start), timed: !start.isDate };
  if (start.isDate) return found;
  const minutes = minutesOf(component, start);
  if (minutes !== undefined) found.minutes = minutes;
  if (start.zone?.tzid !== 'UTC') return { ...found, clock: clockText(start.hour, start.minute) };
  const local = zone === undefined ? undefined : inZone(start, zone);
  return local ? { ...found, ...local } : found;
}

function timeOf(component: ICAL.Component, name: string): ICAL.Time | undefined {
  try {
    const value = component.getFirstPropertyValue(name);
    return value instanceof ICAL.Time ? value : undefined;
  } catch {
    return undefined;
  }
}

function isDay({ year, month, day }: ICAL.Time): boolean {
  const date = new Date(Date.UTC(year, month - 1, day));
  return date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
}

function dayText({ year, month, day }: ICAL.Time): string {
  return `${year}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;
}

function clockText(hour: number, minute: number): string {
  return `${String(hour).padStart(2, '0')}:${String(minute).padStart(2, '0')}`;
}

function minutesOf(component: ICAL.Component, start: ICAL.Time): number | undefined {
  const end = timeOf(component, 'dtend');
  let seconds: number | undefined;
  if (end && !end.isDate && isDay(end)) {
    // Both in the clock of the calendar: the difference of the clocks is the length, but for a night of changing clocks.
    const at = (time: ICAL.Time): number =>
      Date.UTC(time.year, time.month - 1, time.day, time.hour, time.minute);
    seconds = (at(end) - at(start)) / 1000;
  } else {
    const length = component.getFirstPropertyValue('duration');
    if (length instanceof ICAL.Duration) seconds = length.toSeconds();
  }
  const minutes = Math.round((seconds ?? 0) / 60);
  return minutes > 0 && minutes <= 24 * 60 ? minutes : undefined;
}

function inZone(start: ICAL.Time, zone: string): { day: string; clock: string } | undefined {
  try {
    const format = new Intl.DateTimeFormat('en-GB', {
      timeZone: zone,
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
      hour: '2-digit',
      minute: '2-digit',
      hourCycle: 'h23',
    });
    const parts = format.formatToParts(
      Date.UTC(start.year, start.month - 1, start.day, start.hour, start.minute),
    );
    const part = (type: string): string => parts.find((each) => each.type === type)?.value ?? '';
    return {
      day: `${part('year')}-${part('month')}-${part('day')}`,
      clock: `${part('hour')}:${part('minute')}`,
    };
  } catch {
    return undefined;
  }
}

/** Parts of a rule that always find a next day; others can be written so that none ever comes. */
const SURE_PARTS = new Set(['FREQ', 'INTERVAL', 'COUNT', 'UNTIL', 'BYDAY', 'WKST']);

/**
 * The days of an event: one, or those of its series as far as the rule has an end, at most `MOST_DAYS`. `more` says that there are days
 * that could not be told.
 */
export function daysOf(
  component: ICAL.Component,
  first: string,
): { days: string[]; more: boolean } {
  if (!component.hasProperty('rrule') && !component.hasProperty('rdate'))
    return { days: [first], more: false };
  try {
    const rules = component.getAllProperties('rrule').map((property) => property.getFirstValue());
    for (const rule of rules) {
      if (!(rule instanceof ICAL.Recur) || !isSure(rule)) return { days: [first], more: true };
    }
    const iterator = new ICAL.Event(component).iterator();
    const days = new Set<string>();
    let steps = 0;
    for (let next = iterator.next(); next; next = iterator.next()) {
      steps += 1;
      if (next.year > LAST_YEAR || days.size >= MOST_DAYS || steps > MOST_DAYS * 5)
        return { days: [...days], more: true };
      days.add(dayText(next));
    }
    return { days: days.size > 0 ? [...days] : [first], more: false };
  } catch {
    return { days: [first], more: true };
  }
}

function isSure(rule: ICAL.Recur): boolean {
  const parts = rule
    .toString()
    .split(';')
    .map((part) => part.split('=')[0] ?? '');
  const ends = rule.count !== null || rule.until !== null;
  return (
    ends &&
    parts.every((part) => SURE_PARTS.has(part)) &&
    ['DAILY', 'WEEKLY', 'MONTHLY', 'YEARLY'].includes(rule.freq) &&
    !(rule.freq === 'YEARLY' && parts.includes('BYDAY')) &&
    rule.interval >= 1 &&
    rule.interval <= 1000
  );
}
