/** Clock times and days as a printed guide says them: "7.05", "Thursday 13 November 2025". */

/** Minutes after midnight of a local "2026-12-03T19:00" or "19:00"; undefined when there is no time in it. */
export function minuteOfDay(starts: string | undefined): number | undefined {
  const found = /(?:^|T)(\d{1,2}):(\d{2})/.exec(starts ?? '');
  if (!found) return undefined;
  const minute = Number(found[1]) * 60 + Number(found[2]);
  return minute < 24 * 60 ? minute : undefined;
}

/**
 * The clock after `after` minutes: on a twelve-hour clock from `start` (minutes after midnight), or
 * hours and minutes from the beginning where no start is set ("0.07").
 */
export function clockAt(start: number | undefined, after: number): string {
  const whole = Math.round(after) + (start ?? 0);
  const minute = String(whole % 60).padStart(2, '0');
  const hour = Math.floor(whole / 60) % 24;
  return start === undefined
    ? `${Math.floor(whole / 60)}.${minute}`
    : `${hour % 12 || 12}.${minute}`;
}

/** "Thursday 13 November 2025", or undefined when `starts` holds no real day. */
export function sayDay(starts: string | undefined): string | undefined {
  const found = /^(\d{4})-(\d{2})-(\d{2})/.exec(starts ?? '');
  if (!found) return undefined;
  const [year, month, day] = [Number(found[1]), Number(found[2]), Number(found[3])];
  const date = new Date(Date.UTC(year, month - 1, day));
  if (date.getUTCDate() !== day || date.getUTCMonth() !== month - 1) return undefined;
  const form = new Intl.DateTimeFormat('en-GB', { dateStyle: 'full', timeZone: 'UTC' });
  return form.format(date).replace(',', '');
}

/**
 * What a leader is told where `planned` minutes are not the `lasts` the meeting has, and at which
 * clock; undefined where they are the same. `start` as for `clockAt`.
 */
export function endingOf(
  start: number | undefined,
  planned: number,
  lasts: number,
  spares: number,
): { clock: string; text: string } | undefined {
  const left = Math.round(lasts - planned);
  if (left === 0) return undefined;
  const minutes = `${sayNumber(Math.abs(left))} ${Math.abs(left) === 1 ? 'minute' : 'minutes'}`;
  if (left < 0) {
    const until = clockAt(start, planned);
    return {
      clock: clockAt(start, lasts),
      text: `The time set is over; as planned it would last until ${until}, ${minutes} more.`,
    };
  }
  const use = spares > 0 ? 'for what runs over, or for a spare' : 'for what runs over';
  const text = `${capital(minutes)} in hand until ${clockAt(start, lasts)}, ${use}.`;
  return { clock: clockAt(start, planned), text };
}

const SMALL = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
];

/** Whole numbers to twelve in words, as running text has them. */
export function sayNumber(count: number): string {
  return SMALL[count] ?? String(count);
}

/** The first letter large. */
export function capital(text: string): string {
  return text.charAt(0).toLocaleUpperCase('en-GB') + text.slice(1);
}
