import ICAL from 'ical.js';

const MOST_DAYS = 200;
const LAST_YEAR = 2200;

interface LocalTime {
  /** ISO day. */
  day: string;
  /** "19:00"; undefined for a whole day, or where the clock cannot be known. */
  clock?: string;
}

interface EventStart extends LocalTime {
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
  const found: EventStart = { ...localOf(start, zone), timed: !start.isDate };
  const minutes = start.isDate ? undefined : minutesOf(component, start);
  if (minutes !== undefined) found.minutes = minutes;
  return found;
}

/** A time in the clock of its own calendar, or of `zone` where it is told in universal time. */
export function localOf(time: ICAL.Time, zone: string | undefined): LocalTime {
  if (time.isDate) return { day: dayText(time) };
  if (time.zone?.tzid !== 'UTC')
    return { day: dayText(time), clock: clockText(time.hour, time.minute) };
  return (zone === undefined ? undefined : inZone(time, zone)) ?? { day: dayText(time) };
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

const formats = new Map<string, Intl.DateTimeFormat>();

/** Made once for a zone: a series asks for it many times. Throws where there is no such zone. */
function formatOf(zone: string): Intl.DateTimeFormat {
  const known = formats.get(zone);
  if (known) return known;
  const made = new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  });
  formats.set(zone, made);
  return made;
}

function inZone(start: ICAL.Time, zone: string): LocalTime | undefined {
  try {
    const parts = formatOf(zone).formatToParts(
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
 * The days of an event, each with its clock: one, or those of its series as far as the rule has an end, at most `MOST_DAYS`. `more` says that
 * there are days that could not be told.
 */
export function daysOf(
  component: ICAL.Component,
  first: LocalTime,
  zone: string | undefined,
): { days: LocalTime[]; more: boolean } {
  if (!component.hasProperty('rrule') && !component.hasProperty('rdate'))
    return { days: [first], more: false };
  try {
    const rules = component.getAllProperties('rrule').map((property) => property.getFirstValue());
    for (const rule of rules) {
      if (!(rule instanceof ICAL.Recur) || !isSure(rule)) return { days: [first], more: true };
    }
    const iterator = new ICAL.Event(component).iterator();
    const days = new Map<string, LocalTime>();
    let steps = 0;
    for (let next = iterator.next(); next; next = iterator.next()) {
      steps += 1;
      if (next.year > LAST_YEAR || days.size >= MOST_DAYS || steps > MOST_DAYS * 5)
        return { days: [...days.values()], more: true };
      const local = localOf(next, zone);
      days.set(local.day, local);
    }
    return { days: days.size > 0 ? [...days.values()] : [first], more: false };
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
