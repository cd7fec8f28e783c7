/** A step back or forth brought onto entries as they stand now, so that it takes away nothing another window has written since. */
import type { Change, Edit } from '../journal/edits';
import { capital, labelOf } from '../journal/labels';
import type { Entry, Journal } from '../journal/records';
import { same } from '../journal/same';
import type { Applied } from './history';
import { broughtOnto } from './written-apart';

/**
 * The step with bodies of text merged: what it changes in one is changed in the body as it stands. An entry that has been made again meanwhile
 * stays as it is. Refused (`gone`) where the step would remove an entry that no longer says what it said.
 */
export function broughtToNow(
  journal: Journal,
  step: Edit,
): { ok: true; edit: Edit } | Extract<Applied, { ok: false }> {
  const changes: Change[] = [];
  for (const change of step.changes) {
    const held = journal.tables.entries.get(change.id);
    if (change.table !== 'entries' || !held) {
      changes.push(change);
      continue;
    }
    const { before, after } = change;
    if (before && !after && !same(said(held), said(before))) {
      const message = `${capital(labelOf('entries', held))} has been altered meanwhile.`;
      return { ok: false, code: 'gone', message };
    }
    changes.push(after ? { ...change, before: held, after: onto(held, before, after) } : change);
  }
  return { ok: true, edit: { ...step, changes } };
}

function onto(held: Entry, before: Entry | undefined, after: Entry): Entry {
  if (!before) return held;
  if (same(held, before)) return after;
  return withSince(broughtOnto(held, before, after), held, before);
}

/** Fields that are merged, not taken whole. */
const MERGED: ReadonlySet<string> = new Set(['text', 'ties', 'cautions']);

/** The step with what another window has put in a field since, and with when it did. */
function withSince<R extends object>(step: R, held: R, before: R): R {
  const out = { ...step };
  for (const name of Object.keys(held) as (keyof R & string)[]) {
    const [now, was, there] = [held[name], before[name], step[name]];
    if (MERGED.has(name) || same(now, was)) continue;
    out[name] =
      isRecord(now) && isRecord(was) && isRecord(there) ? withSince(there, now, was) : now;
  }
  return out;
}

const isRecord = (value: unknown): value is object =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** What a reader says in an entry: ties and times follow from other edits, and its removal does not wait for them. */
function said({
  ties: _ties,
  changed: _changed,
  ...words
}: Entry): Omit<Entry, 'ties' | 'changed'> {
  return words;
}
