/** How long an entry takes with a circle, and how that was reckoned. Every figure is shown and can be changed. */
import { doneElsewhere, MINUTES_TO_SET } from '../journal/homework';
import type { Entry, Level, Pace } from '../journal/records';
import { proposeLevel } from '../language/levels';
import { plainText } from '../language/markdown';
import { aloudWpm, minutesAloud } from '../language/reading-time';
import { countWords } from '../language/tokens';
import { TALK, USUAL_SIZE, voicesIn } from './talk';

/** What the reckoning looks at. */
type Timed = Pick<Entry, 'kind' | 'text' | 'minutes' | 'level' | 'lesson'>;

export interface Minutes {
  /** Whole minutes, 1 or more; the entry's own minutes are kept as they are. */
  minutes: number;
  /** A finished sentence saying where the minutes come from. */
  how: string;
}

/**
 * Minutes for an entry.
 * - Its own minutes, where the reader gave them, win; but an assignment longer than a quarter of an hour is taken to
 *   be done elsewhere, and here it is set.
 * - A quote is read aloud at the circle's pace (adults 183 words a minute, Brysbaert 2019; children by grade,
 *   Hasbrouck & Tindal 2017), then talked about.
 * - A question is read out, waited on for 3 seconds (Rowe), and answered by the circle's voices by its level; a
 *   question without a level by the one its wording proposes.
 * - A lesson idea has its steps; an assignment is set in 3 minutes (common practice).
 *
 * @param pace how fast the circle reads aloud; adults where not known.
 * @param size people in the circle, 1 or more; 7 where not known, since 6 to 8 are preferred (Krueger 2002).
 */
export function minutesFor(entry: Timed, pace?: Pace, size?: number): Minutes {
  if (entry.minutes !== undefined && entry.minutes > 0 && !doneElsewhere(entry)) {
    return { minutes: entry.minutes, how: 'The minutes you gave it.' };
  }
  const text = plainText(entry.text);
  const words = countWords(text);
  const aloud = minutesAloud(words, pace);
  switch (entry.kind) {
    case 'quote':
      return reckoned(
        aloud + TALK.quoteMinutes,
        `${read(words, pace)}, and ${TALK.quoteMinutes} min of talk.`,
      );
    case 'note':
      return reckoned(
        aloud + TALK.noteMinutes,
        `${read(words, pace)}, and ${TALK.noteMinutes} min of talk.`,
      );
    case 'question':
      return questionMinutes(entry.level ?? proposeLevel(text).level, aloud, size);
    case 'lesson':
      return lessonMinutes(entry);
    case 'assignment':
      return reckoned(MINUTES_TO_SET, 'To set it; the work is done elsewhere (common practice).');
  }
}

function reckoned(minutes: number, how: string): Minutes {
  return { minutes: Math.max(1, Math.round(minutes)), how };
}

function read(words: number, pace?: Pace): string {
  const counted = words === 1 ? '1 word' : `${words} words`;
  return `${counted} read aloud at ${aloudWpm(pace)} a minute (${paceSource(pace)})`;
}

function paceSource(pace?: Pace): string {
  if (pace?.wordsPerMinute && pace.wordsPerMinute > 0) return 'your own pace';
  return pace?.readers === 'grade' && Number.isFinite(pace.grade)
    ? 'Hasbrouck & Tindal 2017'
    : 'Brysbaert 2019';
}

function questionMinutes(level: Level, aloud: number, size?: number): Minutes {
  const people = size && size >= 1 ? size : USUAL_SIZE;
  const voices = voicesIn(people);
  const { minutes, secondsAVoice } = TALK.question[level];
  const talk = minutes + (voices * (secondsAVoice + TALK.waitSeconds)) / 60;
  const said = people === 1 ? '1 person' : `${people} people`;
  const how = `A question to ${level}: ${minutes} min, and ${secondsAVoice} seconds each for ${said} with 3 seconds of waiting (Rowe).`;
  return reckoned(aloud + talk, how);
}

function lessonMinutes(entry: Timed): Minutes {
  const steps = (entry.lesson?.steps?.length ?? 0) + (entry.lesson?.observations?.length ?? 0);
  if (steps === 0) {
    return reckoned(
      TALK.lessonMinutes,
      'The usual for an activity with no steps written (common practice).',
    );
  }
  const minutes = TALK.lessonStartMinutes + steps * TALK.stepMinutes;
  return reckoned(
    minutes,
    `${steps} steps of ${TALK.stepMinutes} min, and ${TALK.lessonStartMinutes} to begin.`,
  );
}
