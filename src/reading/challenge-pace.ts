/** How a challenge stands in time: days left, the pace so far, the pace that would finish it. */
import { sayDate } from '../language/dates';
import { daysFromTo, addDays } from './days';

export interface ChallengePace {
  /** Days from today to the end, both counted; 0 when it is over. */
  daysLeft: number;
  /** One prompt every so many days would finish it; absent when nothing is open or no day is left. */
  needEvery?: number;
  /** One prompt every so many days so far; absent before the first. */
  soFarEvery?: number;
  said: string;
}

const NUMBERS = 'no one two three four five six seven eight nine ten eleven twelve'.split(' ');

/** "eight weeks", "ten days", "one day": weeks from a fortnight on, months from sixteen weeks on, in words up to twelve. */
function lengthSaid(days: number): string {
  const [count, unit] =
    days >= 112
      ? [Math.round(days / 30.4375), 'month']
      : days >= 14
        ? [Math.round(days / 7), 'week']
        : [Math.round(days), 'day'];
  return `${NUMBERS[count] ?? String(count)} ${unit}${count === 1 ? '' : 's'}`;
}

/** "every seven weeks", "every day". */
const everySaid = (days: number): string => {
  if (days < 1.5) return days < 0.75 ? `${Math.round(1 / days)} a day` : 'one a day';
  return `one every ${lengthSaid(days)}`;
};

export function challengePace(ask: {
  met: number;
  of: number;
  from: string;
  to: string;
  today: string;
}): ChallengePace {
  const { met, of, from, to, today } = ask;
  const open = of - met;
  const daysLeft = daysFromTo(today < from ? from : today, to);
  const pace: ChallengePace = { daysLeft, said: '' };
  if (open > 0 && daysLeft > 0) pace.needEvery = daysLeft / open;
  // Today counts when the challenge has begun; after its end the whole of it does.
  const elapsed = today < from ? 0 : daysFromTo(from, today > to ? to : today);
  if (met > 0 && elapsed > 0) pace.soFarEvery = elapsed / met;
  pace.said = paceSaid(ask, open, pace);
  return pace;
}

function paceSaid(
  {
    met,
    of,
    from,
    to,
    today,
  }: { met: number; of: number; from: string; to: string; today: string },
  open: number,
  { daysLeft, needEvery, soFarEvery }: ChallengePace,
): string {
  if (of === 0) return 'No prompts yet.';
  if (open === 0) return of === 1 ? 'It is met.' : `All ${of} are met.`;
  if (today > to) return `It ended on ${sayDate(to)} with ${met} of ${of} met.`;
  const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
  const need = needEvery === undefined ? '' : `${everySaid(needEvery)} would finish it`;
  if (today < from) {
    const begins = addDays(today, 1) === from ? 'tomorrow' : `on ${sayDate(from)}`;
    return `It begins ${begins}; ${need}.`;
  }
  const left = `${capital(lengthSaid(daysLeft))} left`;
  const soFar = soFarEvery === undefined ? '' : `the pace so far is ${everySaid(soFarEvery)}, `;
  return `${left}; ${soFar}${need}.`;
}
