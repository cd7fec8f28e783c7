/**
 * Edits: the only way a journal changes. An edit is applied whole or not at all, is refused where it would break a rule that
 * was kept before, and answers with the edit that takes it back. Rows are never altered, only replaced.
 */
import { allNaming, replaceRows } from './indexes';
import { capital, counted, labelOf, nounOf, oneOf } from './labels';
import type { Problem } from './problem';
import { rebase } from './rebase';
import type { Heading, Journal, Records, TableName, ThemeHeading } from './records';
import { eachReference } from './references';
import { broaderThanItself, circleProblem, rowProblems, viewOf, type View } from './rules';
import { same } from './same';
import { checkShape } from './shape-check';

/** One row: made (`after` alone), removed (`before` alone) or changed (both). */
export type Change<T extends TableName = TableName> = {
  [K in T]: { table: K; id: string; before?: Records[K]; after?: Records[K] };
}[T];

export interface Edit {
  /** A short phrase for the list of what can be taken back: "Tie 3 entries to Courage". */
  does: string;
  changes: Change[];
}

export type Applied =
  | { ok: true; inverse: Edit }
  | {
      ok: false;
      /** A code of {@link Problem}, or `gone`, `still-used`, `kind-changed`, `wrong-row`. */
      code: string;
      message: string;
    };

interface ApplyOptions {
  /**
   * For rows that arrive in pieces (a store being opened, another device): rules between rows are not checked,
   * because what a row names may come later. Rows of the wrong type are refused all the same.
   */
  unchecked?: boolean;
}

/** What one row was and would become. */
interface Staged {
  table: TableName;
  id: string;
  before?: Records[TableName];
  after?: Records[TableName];
}
type Refused = Extract<Applied, { ok: false }>;

/**
 * Applies an edit to the journal in place. Where a row has changed since the edit was made, only the fields the
 * edit changes are changed, and lists that are sets (ties, alternates, authors…) member by member. The cost is that of
 * the rows touched and those that name them, whatever the size of the journal.
 *
 * Refused, with nothing changed: a change of a row removed meanwhile (`gone`), removal of a row that others still name
 * (`still-used`), a heading turned into another kind (`kind-changed`), and any fault that `checkJournal` tells
 * and that was not there before.
 */
export function apply(journal: Journal, edit: Edit, options: ApplyOptions = {}): Applied {
  const staged = stage(journal, edit);
  if ('ok' in staged) return staged;
  const changed = [...staged.values()].filter(({ before, after }) => !same(before, after));
  const refused = options.unchecked ? firstFatal(changed) : firstRefusal(journal, changed);
  if (refused) return refused;
  replaceRows(journal, changed, () => {
    for (const { table, id, after } of changed) {
      const rows = journal.tables[table] as Map<string, Records[TableName]>;
      if (after) rows.set(id, after);
      else rows.delete(id);
    }
  });
  const changes = changed
    .reverse()
    .map(({ table, id, before, after }) => ({ table, id, before: after, after: before }) as Change);
  return { ok: true, inverse: { does: edit.does, changes } };
}

const keyOf = (table: TableName, id: string): string => `${table} ${id}`;

function stage(journal: Journal, edit: Edit): Map<string, Staged> | Refused {
  const staged = new Map<string, Staged>();
  for (const { table, id, before, after } of edit.changes) {
    const key = keyOf(table, id);
    const held = journal.tables[table].get(id);
    const row = staged.get(key) ?? { table, id, before: held, after: held };
    if (after && after.id !== id) {
      const message = `An edit of ${oneOf(nounOf(table))} carries a row with another id.`;
      return { ok: false, code: 'wrong-row', message };
    }
    if (!after) row.after = undefined;
    else if (row.after) row.after = rebase(row.after, before, after);
    else if (!before) row.after = after;
    else {
      const message = `${capital(labelOf(table, before))} has been removed meanwhile.`;
      return { ok: false, code: 'gone', message };
    }
    staged.set(key, row);
  }
  return staged;
}

const refusal = ({ code, message }: Pick<Problem, 'code' | 'message'>): Refused => ({
  ok: false,
  code,
  message,
});

function firstFatal(changed: readonly Staged[]): Refused | undefined {
  for (const { table, id, after } of changed) {
    const fault = after && checkShape(table, after, id).find(({ fatal }) => fatal);
    if (fault) return refusal(fault);
  }
  return undefined;
}

function firstRefusal(journal: Journal, changed: readonly Staged[]): Refused | undefined {
  const byKey = new Map(changed.map((row) => [keyOf(row.table, row.id), row]));
  const old = viewOf(journal);
  const view: View = {
    get: <T extends TableName>(table: T, id: string): Records[T] | undefined => {
      const row = byKey.get(keyOf(table, id));
      return (row ? row.after : journal.tables[table].get(id)) as Records[T] | undefined;
    },
  };
  for (const { table, id, before, after } of changed) {
    if (!after) {
      const used = stillUsed(journal, table, id, byKey);
      if (used) return used;
      continue;
    }
    if (table === 'headings' && before && (before as Heading).kind !== (after as Heading).kind) {
      const message = `${capital(labelOf(table, before as Heading))} cannot become ${oneOf((after as Heading).kind)}.`;
      return { ok: false, code: 'kind-changed', message };
    }
    const problem = newProblem(table, id, old, view);
    if (problem) return refusal(problem);
    const theme = after as Heading;
    if (table !== 'headings' || theme.kind !== 'theme') continue;
    if (broaderThanItself(view, theme)) {
      const known = before && broaderThanItself(old, before as ThemeHeading);
      if (!known) return refusal(circleProblem(theme));
    }
  }
  return oneSided(changed, byKey, old, view);
}

/** A fault of the row as it will be that it has not had, or has had fewer times. */
function newProblem(table: TableName, id: string, old: View, view: View): Problem | undefined {
  const after = view.get(table, id);
  const found = after ? rowProblems(table, after, view, id) : [];
  if (found.length === 0) return undefined;
  const before = old.get(table, id);
  const known = new Map<string, number>();
  for (const problem of before ? rowProblems(table, before, old, id) : []) {
    known.set(kindOf(problem), (known.get(kindOf(problem)) ?? 0) + 1);
  }
  return found.find((problem) => {
    const left = known.get(kindOf(problem)) ?? 0;
    known.set(kindOf(problem), left - 1);
    return left <= 0;
  });
}

/** A problem apart from its position in a list, which may shift. */
const kindOf = ({ code, path, message }: Problem): string => {
  // What a fault is about stands in brackets at the end of its sentence; the row's own words, which an edit may change, do not count.
  const about = /\(([^()]*)\)\.$/.exec(message)?.[1] ?? '';
  return `${code} ${path.replace(/\/\d+/g, '/*')} ${about}`;
};

/** Themes that the edit does not touch but whose relation to one it does touch is now held on one side only. */
function oneSided(
  changed: readonly Staged[],
  byKey: ReadonlyMap<string, Staged>,
  old: View,
  view: View,
): Refused | undefined {
  for (const { table, before, after } of changed) {
    if (table !== 'headings') continue;
    const was = new Set(relatedOf(before));
    for (const id of relatedOf(after)) was.delete(id);
    for (const id of was) {
      if (byKey.has(keyOf('headings', id))) continue;
      const problem = newProblem('headings', id, old, view);
      if (problem) return refusal(problem);
    }
  }
  return undefined;
}

function relatedOf(row: Records[TableName] | undefined): readonly string[] {
  const heading = row as Heading | undefined;
  return heading?.kind === 'theme' ? heading.related : [];
}

/** A row may go only when nothing names it any more; words that happen to be its id do not count. */
function stillUsed(
  journal: Journal,
  table: TableName,
  id: string,
  byKey: ReadonlyMap<string, Staged>,
): Refused | undefined {
  const row = journal.tables[table].get(id);
  const users = allNaming(journal, table, id).filter(([usedBy, userId]) => {
    const user = journal.tables[usedBy].get(userId);
    if (!user || byKey.has(keyOf(usedBy, userId))) return false;
    let names = false;
    eachReference(usedBy, user, (found) => {
      if (found.to === table && found.id === id && !found.soft) names = true;
    });
    return names;
  });
  if (!row || users.length === 0) return undefined;
  const nouns = new Map<string, number>();
  for (const [usedBy] of users) nouns.set(nounOf(usedBy), (nouns.get(nounOf(usedBy)) ?? 0) + 1);
  const by = [...nouns].map(([noun, count]) => counted(count, noun)).join(' and ');
  const message = `${capital(labelOf(table, row))} is still used by ${by}.`;
  return { ok: false, code: 'still-used', message };
}
