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

const onto = (held: Entry, before: Entry | undefined, after: Entry): Entry =>
  before ? broughtOnto(held, before, after) : held;

/** What a reader says in an entry: ties and times follow from other edits, and its removal does not wait for them. */
function said({
  ties: _ties,
  changed: _changed,
  ...words
}: Entry): Omit<Entry, 'ties' | 'changed'> {
  return words;
}
