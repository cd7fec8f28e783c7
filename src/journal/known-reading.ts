/** Whether the journal has a reading already that a file or a table tells of, and that reading with what it lacked. */
import { readDate } from '../language/dates';
import type { Reading } from './records';
import { same } from './same';

export type ReadingTold = Partial<Omit<Reading, 'id' | 'book'>>;

/**
 * The reading told of, among those of its book. A reading finished on the same date is the same unless it was begun on another; one begun on the
 * same date is, while either of the two is in hand. Without a date what is put down is one that was put down, and the rest is said of the last.
 * `whole`: of a reading told with everything it had, which agrees in all that both have.
 */
export function knownReading(
  known: Iterable<Reading>,
  told: ReadingTold,
  whole = false,
): Reading | undefined {
  const all = [...known];
  const dated = told.started !== undefined || told.finished !== undefined;
  const one = all.find((each) => isWholly(each, told));
  if (one ?? whole)
    return one ?? all.find((each) => dated && isOne(each, told) && agrees(each, told));
  if (dated)
    return all.find((each) => sameDates(each, told)) ?? all.find((each) => isOne(each, told));
  if (told.abandoned) return all.find(({ abandoned }) => abandoned);
  const inOrder = all.sort((a, b) => (lastDay(a) < lastDay(b) ? 1 : -1));
  return inOrder.find(({ finished, abandoned }) => finished && !abandoned) ?? inOrder[0];
}

/** The reading with what is told of it that it lacks; itself where that is nothing. Its end is taken only while it is in hand. */
export function filledReading(known: Reading, told: ReadingTold): Reading {
  const filled: Record<string, unknown> = { ...known };
  for (const [field, value] of Object.entries(told)) {
    if (value === undefined || filled[field] !== undefined) continue;
    if ((field === 'finished' || field === 'abandoned') && !isOpen(known)) continue;
    filled[field] = value;
  }
  return same(filled, known) ? known : (filled as unknown as Reading);
}

/** Told of a reading in every field as it is. */
export const isWholly = ({ id: _id, book: _book, ...known }: Reading, told: ReadingTold): boolean =>
  sameDates(known, told) &&
  same({ ...known, started: '', finished: '' }, { ...told, started: '', finished: '' });

function isOne(known: ReadingTold, told: ReadingTold): boolean {
  const begun = told.started !== undefined && sameDate(known.started, told.started);
  if (told.finished !== undefined && sameDate(known.finished, told.finished))
    return begun || known.started === undefined || told.started === undefined;
  return begun && (isOpen(known) || isOpen(told));
}

const isOpen = ({ finished, abandoned }: ReadingTold): boolean =>
  finished === undefined && !abandoned;

const AGREEING = ['form', 'pages', 'minutes', 'rating', 'note', 'schoolYear'] as const;

const agrees = (known: ReadingTold, told: ReadingTold): boolean =>
  AGREEING.every(
    (field) =>
      known[field] === undefined || told[field] === undefined || known[field] === told[field],
  );

const sameDates = (a: ReadingTold, b: ReadingTold): boolean =>
  sameDate(a.started, b.started) && sameDate(a.finished, b.finished);

/** Dates that mean the same days, however sure; or none in both. */
function sameDate(a: string | undefined, b: string | undefined): boolean {
  if (a === b || a === undefined || b === undefined) return a === b;
  const [one, other] = [boundsOf(a), boundsOf(b)];
  return (
    one?.earliest !== undefined && one.earliest === other?.earliest && one.latest === other.latest
  );
}

function boundsOf(edtf: string): { earliest?: string; latest?: string } | undefined {
  const read = readDate(edtf);
  return read.ok ? read.date : undefined;
}

const lastDay = ({ started, finished }: Reading): string =>
  boundsOf(finished ?? started ?? '')?.latest ?? '';
