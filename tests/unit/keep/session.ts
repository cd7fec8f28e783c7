/** A journal in memory over a store, as the desk holds them, for tests of keeping. */
import { apply, type Change, type Edit } from '../../../src/journal/edits';
import { writeJournalFile } from '../../../src/journal/file';
import { emptyJournal } from '../../../src/journal/journal';
import type { Journal } from '../../../src/journal/records';
import type { JournalMeta, JournalStore, Loaded } from '../../../src/keep/store';

export const WHEN = '2024-03-14T10:00:00.000Z';
export const META: JournalMeta = { id: 'j1', name: 'Few', made: WHEN, sinceCopy: 0 };

/** All rows, whatever their order, as text to be compared. */
export const whole = (journal: Journal): string => writeJournalFile(journal);

/** What a store holds, read as it is read when a window opens. */
export async function readAll(store: JournalStore): Promise<{ journal: Journal; loaded: Loaded }> {
  const meta = (await store.meta()) ?? META;
  const journal = emptyJournal(meta.id, meta.name, meta.made);
  if (meta.unknown) journal.unknown = meta.unknown;
  const loaded = await store.load(({ table, rows }) => {
    const changes = rows.map((after) => ({ table, id: after.id, after })) as Change[];
    const done = apply(journal, { does: 'Open', changes }, { unchecked: true });
    if (!done.ok) throw new Error(done.message);
  });
  return { journal, loaded };
}

/** The edit an inverse takes back, with rows as they became: what the desk hands to the store. */
const madeOf = ({ does, changes }: Edit): Edit => ({
  does,
  changes: changes
    .map((change) => ({ ...change, before: change.after, after: change.before }) as Change)
    .reverse(),
});

export class Session {
  #undo: Edit[] = [];

  private constructor(
    readonly store: JournalStore,
    readonly journal: Journal,
  ) {}

  /** Begins a journal in an empty store with these rows. */
  static async begin(store: JournalStore, from: Journal): Promise<Session> {
    const { id, name, made, unknown } = from;
    await store.saveMeta({ id, name, made, sinceCopy: 0, ...(unknown ? { unknown } : {}) });
    const session = new Session(store, {
      ...emptyJournal(id, name, made),
      ...(unknown ? { unknown } : {}),
    });
    const changes = Object.entries(from.tables).flatMap(([table, rows]) =>
      [...rows.values()].map((after) => ({ table, id: after.id, after }) as Change),
    );
    await session.do({ does: 'Begin', changes }, true);
    return session;
  }

  static async open(store: JournalStore): Promise<Session> {
    return new Session(store, (await readAll(store)).journal);
  }

  /** Applies an edit and keeps it. Rules between rows are not checked where `unchecked`. */
  async do(edit: Edit, unchecked = false): Promise<void> {
    const done = apply(this.journal, edit, { unchecked });
    if (!done.ok) throw new Error(`${edit.does}: ${done.code} ${done.message}`);
    this.#undo.push(done.inverse);
    await this.store.keep(madeOf(done.inverse).changes);
  }

  async undo(): Promise<void> {
    const inverse = this.#undo.pop();
    const done = inverse && apply(this.journal, inverse);
    if (!done?.ok) throw new Error(done?.message ?? 'nothing to undo');
    await this.store.keep(madeOf(done.inverse).changes);
  }

  get edits(): number {
    return this.#undo.length;
  }
}
