/** Reading a journal out of its store into an engine, in slices, so that the first entries can be asked for at once. */
import type { Change } from '../journal/edits';
import type { TableName } from '../journal/records';
import type { Aside, JournalStore, Slice } from '../keep/store';
import type { HeldJournal } from './held-journal';

/** Rows taken in between breaths while the journal loads. */
const SLICE_ROWS = 50;

/** The name under which rows that do not fit are kept aside. */
export const MISFITS = 'rows-that-do-not-fit';

export class Opening {
  /** Entries still to come; at least 1 until all is read. */
  coming = 0;
  /** Rows that no journal can hold: a field of the wrong type, or far too long. */
  #misfits: { table: TableName; row: unknown; why: string }[] = [];

  constructor(
    readonly engine: HeldJournal,
    readonly took: (changes: readonly Change[]) => void,
    readonly breathe: () => Promise<void>,
    /** Called after each slice of entries. */
    readonly arrived: () => void = () => {},
  ) {}

  /** Reads all; `first` is called when the first entries are in. @throws NotKept where the store is shut */
  async read(store: JournalStore, first: () => void): Promise<Aside[]> {
    this.coming = 1;
    try {
      this.coming = Math.max(1, (await store.entryCount()) ?? 1);
      const { aside } = await store.load(async (slice) => {
        for (let at = 0; at < slice.rows.length; at += SLICE_ROWS) {
          const rows = slice.rows.slice(at, at + SLICE_ROWS);
          this.#take({ ...slice, rows } as Slice);
          if (slice.table === 'entries') {
            this.coming = Math.max(1, this.coming - rows.length);
            first();
            this.arrived();
          }
          await this.breathe();
        }
      });
      const many = this.#misfits.length;
      if (many === 0) return aside;
      const why = `${many} ${many === 1 ? 'row does' : 'rows do'} not fit: ${this.#misfits[0]!.why}`;
      return [...aside, { part: MISFITS, why }];
    } finally {
      this.coming = 0;
    }
  }

  #take({ table, rows }: Slice): void {
    const held = this.engine.journal.tables[table];
    // A row that is there was changed while the journal was loading, and is newer.
    const fresh = (rows as { id: string }[]).filter((row) => !held.has(row.id));
    const changes = fresh.map((after) => ({ table, id: after.id, after }) as unknown as Change);
    if (this.#laid(changes).ok) return;
    // One bad row must not keep the others out.
    for (const change of changes) {
      const laid = this.#laid([change]);
      if (!laid.ok) this.#misfits.push({ table, row: change.after, why: laid.message });
    }
  }

  #laid(changes: Change[]): { ok: true } | { ok: false; message: string } {
    const taken = this.engine.take({ does: 'Open', changes });
    if (taken.ok) this.took(changes);
    return taken;
  }

  /** The rows that do not fit, as JSON to be saved out. */
  misfits(): Uint8Array | undefined {
    if (this.#misfits.length === 0) return undefined;
    return new TextEncoder().encode(JSON.stringify(this.#misfits, undefined, 1));
  }
}
