/** Undo and redo as the desk does them: what cannot be taken back any more is said once and let go. */
import type { Change, Edit } from '../journal/edits';
import type { HeldJournal } from './held-journal';
import { headOf, takeHead } from './head';
import type { Applied, Head, Remembered } from './history';
import { broughtToNow } from './step-now';

type Way = 'undo' | 'redo';

/** Refusals that stand: the rows meant are not there as they were. */
const STANDING: ReadonlySet<string> = new Set(['gone', 'still-used', 'kind-changed', 'wrong-row']);

const NOTHING: Record<Way, Applied> = {
  undo: { ok: false, code: 'nothing-to-undo', message: 'There is nothing to take back.' },
  redo: { ok: false, code: 'nothing-to-redo', message: 'There is nothing to do again.' },
};

/** Takes the newest edit back, or does the newest undone one again. */
export function step(engine: HeldJournal, way: Way): Applied {
  const { history, journal } = engine;
  const remembered = way === 'undo' ? history.toUndo() : history.toRedo();
  if (!remembered) return NOTHING[way];
  const head = remembered.head && headOf(journal);
  let applied = head ? takeBack(engine, way, remembered, head) : engine[way]();
  // What stood once may stand again, though it breaks a rule: a tie to a heading that another device took away, say.
  if (!applied.ok && !STANDING.has(applied.code)) applied = takeBack(engine, way, remembered);
  if (!applied.ok) {
    if (way === 'undo') history.forgetUndo();
    else history.forgetRedo();
    const cannot = way === 'undo' ? 'cannot be taken back' : 'cannot be done again';
    const message = `“${remembered.does}” ${cannot}: ${applied.message}`;
    return { ...applied, message };
  }
  if (remembered.head) takeHead(journal, remembered.head);
  remembered.beside?.[way]();
  return applied;
}

function takeBack(engine: HeldJournal, way: Way, remembered: Remembered, head?: Head): Applied {
  const now = broughtToNow(engine.journal, remembered);
  if (!now.ok) return now;
  const done = takeUnchecked(engine, now.edit);
  if (!done.ok) return done;
  if (way === 'undo') engine.history.undid(done.inverse, head);
  else engine.history.redid(done.inverse, head);
  return { ok: true, does: remembered.does, edit: done.edit };
}

/** An edit laid without asking whether it breaks a rule between rows, with the edit that takes it back. */
export function takeUnchecked(
  engine: HeldJournal,
  edit: Edit,
): { ok: true; edit: Edit; inverse: Edit } | Extract<Applied, { ok: false }> {
  const rows = new Map(edit.changes.map(({ table, id }) => [`${table} ${id}`, { table, id }]));
  const rowOf = ({ table, id }: Pick<Change, 'table' | 'id'>): unknown =>
    engine.journal.tables[table].get(id);
  const held = [...rows.values()].map((row) => ({ ...row, before: rowOf(row) }));
  const taken = engine.take(edit);
  if (!taken.ok) return taken;
  const changes = held.map(({ table, id, before }) => {
    const after = rowOf({ table, id });
    return { table, id, ...(before ? { before } : {}), ...(after ? { after } : {}) } as Change;
  });
  const back = changes.map((change) => {
    const { table, id, before, after } = change;
    return { table, id, ...(after ? { before: after } : {}), ...(before ? { after: before } : {}) };
  });
  return {
    ok: true,
    edit: { does: edit.does, changes },
    inverse: { does: edit.does, changes: back.reverse() as Change[] },
  };
}
