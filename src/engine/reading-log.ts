/** Keeping the log: marking days, beginning, finishing and changing readings. Each answers an edit. */
import { putRow, removeRow } from '../journal/make-edits';
import type { HeadingId, Reading, ReadingId } from '../journal/records';
import { rebase } from '../journal/rebase';
import { sayDate } from '../language/dates';
import { isDay } from '../reading/days';
import { daysOf, dayOf, isFinished, spanOf } from '../reading/readings';
import { schoolYearKept } from '../reading/school-years';
import type { Asked, Core } from './core';
import { dateTyped } from './dates-typed';
import { bookOf } from './reading';
import { readingSaid } from './reading-words';

/** A reading as a screen sends it: a new one has no id. `base` is the one that was opened to be altered: only what differs from it changes. */
export type ReadingDraft = Omit<Reading, 'id'> & { id?: ReadingId; base?: Reading };

/** One that may have been open on a day. */
export interface OpenOn {
  reading: ReadingId;
  book: HeadingId;
  title: string;
  form: Reading['form'];
  said: string;
  /** The day is marked already. */
  marked: boolean;
}

const titled = (core: Core, book: HeadingId): string =>
  bookOf(core.journal, book)?.name ?? 'a book';

/** Readings a day may belong to: begun by then and not finished before, or marked on that day; the one read last comes first. */
export function openOn(core: Core, day: string): OpenOn[] {
  const found: (OpenOn & { last: string })[] = [];
  for (const reading of core.journal.tables.readings.values()) {
    const days = daysOf(reading);
    const marked = days.includes(day);
    const begun = spanOf(reading.started)?.earliest ?? days[0];
    const over =
      isFinished(reading) || reading.abandoned
        ? (spanOf(reading.finished)?.latest ?? days.at(-1) ?? '')
        : '9999';
    if (!marked && !(begun !== undefined && begun <= day && over >= day)) continue;
    const { id, book, form } = reading;
    const last = days.findLast((each) => each <= day) ?? '';
    found.push({
      reading: id,
      book,
      title: titled(core, book),
      form,
      said: readingSaid(reading),
      marked,
      last,
    });
  }
  return found
    .sort((a, b) =>
      a.last === b.last ? (a.reading < b.reading ? 1 : -1) : a.last < b.last ? 1 : -1,
    )
    .map(({ last: _last, ...each }) => each);
}

/**
 * Marks or clears a day of a reading. An exact beginning moves to the next day marked; where there is none, and for an exact end, clearing is
 * refused, as the date says by itself that the book was open.
 */
export function markDay(core: Core, id: ReadingId, day: string, on: boolean): Asked {
  const reading = core.journal.tables.readings.get(id);
  if (!reading) return { ok: false, code: 'gone', said: 'That reading is no longer there.' };
  if (!isDay(day)) return { ok: false, code: 'bad-date', said: `${day} is not a day.` };
  const rest = (reading.days ?? []).filter((each) => each !== day);
  const days = on ? [...rest, day].sort() : rest;
  const { days: _days, ...bare } = reading;
  const row: Reading = days.length > 0 ? { ...bare, days } : bare;
  // A mark before the known beginning moves it; one after the end of a finished book does not.
  if (on && dayOf(row.started) !== undefined && day < dayOf(row.started)!) row.started = day;
  if (!on && dayOf(row.started) === day && dayOf(row.finished) !== day && days.length > 0)
    row.started = days[0]!;
  if (!on && daysOf(row).includes(day)) {
    const how = dayOf(row.finished) !== day ? 'begun' : row.abandoned ? 'put down' : 'finished';
    const said = `It was ${how} that day; alter the reading, or undo.`;
    return { ok: false, code: 'an-end', said };
  }
  const does = `${on ? 'Read' : 'Not read'} on ${sayDate(day)}: ${titled(core, reading.book)}`;
  return { ok: true, edit: { ...putRow(core.journal, 'readings', row), does }, id };
}

/** A new reading of a book, begun on a day. */
export function beginReading(
  core: Core,
  book: HeadingId,
  day: string,
  form: Reading['form'] = 'print',
): Asked {
  if (!bookOf(core.journal, book))
    return { ok: false, code: 'gone', said: 'That book is no longer there.' };
  const id = core.around.newId() as ReadingId;
  const row: Reading = { id, book, started: day, form, days: [day] };
  const does = `Begin ${titled(core, book)} on ${sayDate(day)}`;
  return { ok: true, edit: { ...putRow(core.journal, 'readings', row), does }, id };
}

/** Puts a reading as it should now be, or adds one; what cannot be right is refused with a sentence. */
export function putReading(core: Core, asked: ReadingDraft): Asked {
  const { base, ...sent } = asked;
  let draft: ReadingDraft = { ...sent };
  if (!bookOf(core.journal, draft.book))
    return { ok: false, code: 'gone', said: 'Choose the book that was read.' };
  for (const end of ['started', 'finished'] as const) {
    const typed = draft[end];
    if (typed === undefined) continue;
    const read = dateTyped(typed);
    if (!read.ok) return { ok: false, code: read.code, said: read.message };
    draft[end] = read.edtf;
  }
  const known = draft.id ? core.journal.tables.readings.get(draft.id) : undefined;
  if (known && base) draft = rebase<'readings'>(known, base, tidy({ ...draft, id: known.id }));
  const [begun, over] = [spanOf(draft.started)?.earliest, spanOf(draft.finished)?.latest];
  if (begun && over && over < begun) {
    return {
      ok: false,
      code: 'ends-first',
      said: 'It cannot have been finished before it was begun.',
    };
  }
  const wrong = (draft.days ?? []).find((day) => !isDay(day));
  if (wrong !== undefined)
    return {
      ok: false,
      code: 'bad-date',
      said: `“${wrong}” is not a day; write days as 2025-03-14.`,
    };
  const school = schoolYearKept(draft.schoolYear, known?.schoolYear);
  if (!school.ok) return school;
  const id = draft.id ?? (core.around.newId() as ReadingId);
  const row = tidy({ ...draft, id, schoolYear: school.name });
  const verb = known
    ? !known.finished && row.finished && !row.abandoned
      ? `Finish ${titled(core, row.book)}`
      : `Change a reading of ${titled(core, row.book)}`
    : `Add a reading of ${titled(core, row.book)}`;
  return { ok: true, edit: { ...putRow(core.journal, 'readings', row), does: verb }, id };
}

/** Without empty fields, days sorted and each once. */
function tidy(reading: Reading): Reading {
  const row = Object.fromEntries(
    Object.entries(reading).filter(([, value]) => value !== undefined && value !== ''),
  ) as unknown as Reading;
  if (row.days) row.days = [...new Set(row.days)].sort();
  if (row.days?.length === 0) delete row.days;
  if (row.abandoned === false) delete row.abandoned;
  return row;
}

export function dropReading(core: Core, id: ReadingId): Asked {
  const reading = core.journal.tables.readings.get(id);
  if (!reading) return { ok: false, code: 'gone', said: 'That reading is no longer there.' };
  const does = `Remove a reading of ${titled(core, reading.book)}`;
  return { ok: true, edit: { ...removeRow(core.journal, 'readings', id), does } };
}
