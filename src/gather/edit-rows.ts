import type { Edit } from '../journal/edits';
import { rowsNaming } from '../journal/indexes';
import type { Journal, Records, TableName } from '../journal/records';

/** Rows of an edit as they would be, over the journal as it is. */
export class EditRows {
  readonly #rows = new Map<string, { table: TableName; row: Records[TableName] }>();

  constructor(readonly journal: Journal) {}

  get size(): number {
    return this.#rows.size;
  }

  get<T extends TableName>(table: T, id: string): Records[T] | undefined {
    const put = this.#rows.get(`${table} ${id}`)?.row as Records[T] | undefined;
    return put ?? (this.journal.tables[table].get(id) as Records[T] | undefined);
  }

  put<T extends TableName>(table: T, row: Records[T]): void {
    this.#rows.set(`${table} ${row.id}`, { table, row });
  }

  /** Rows of a table, those put in this edit first. */
  *all<T extends TableName>(table: T): Generator<Records[T]> {
    for (const put of this.#rows.values()) if (put.table === table) yield put.row as Records[T];
    for (const [id, row] of this.journal.tables[table]) {
      if (!this.#rows.has(`${table} ${id}`)) yield row as Records[T];
    }
  }

  /** Rows of a table that may name a row of another: those the journal's index knows, and all that are put in this edit. */
  *naming<T extends TableName>(table: T, to: TableName, id: string): Generator<Records[T]> {
    for (const put of this.#rows.values()) if (put.table === table) yield put.row as Records[T];
    for (const named of rowsNaming(this.journal, to, id, table)) {
      const row = this.journal.tables[table].get(named);
      if (row && !this.#rows.has(`${table} ${named}`)) yield row as Records[T];
    }
  }

  count(table: TableName): number {
    return [...this.#rows.values()].filter((put) => put.table === table).length;
  }

  /** What is named stands before what names it. */
  changes(): Edit['changes'] {
    const order: TableName[] = [
      'gatherings',
      'headings',
      'entries',
      'readings',
      'lists',
      'meetings',
    ];
    return [...this.#rows.values()]
      .sort((a, b) => order.indexOf(a.table) - order.indexOf(b.table))
      .map(({ table, row }) => {
        const before = this.journal.tables[table].get(row.id);
        return { table, id: row.id, ...(before ? { before } : {}), after: row };
      }) as Edit['changes'];
  }
}
