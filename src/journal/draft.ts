/** An edit being put together: rows as they would be, over the journal as it is. */
import type { Change, Edit } from './edits';
import { allNaming } from './indexes';
import type { Entry, EntryId, GuideItem, Heading, Journal, Records, TableName } from './records';
import { rewriteReferences } from './references';
import type { View } from './rules';
import { same, saysSame } from './same';

export interface TakeOutOptions {
  /** ISO time, for entries that lose a tie. */
  now?: string;
  /**
   * What becomes of items in guides and meetings that used an entry taken out: `keep` (the default) leaves its words standing there, so
   * that a guide made and a meeting held still say what they said; `drop` takes the items out too, as sealing must.
   */
  words?: 'keep' | 'drop';
}

export class Draft implements View {
  readonly #rows = new Map<string, { table: TableName; id: string; row?: Records[TableName] }>();

  constructor(readonly journal: Journal) {}

  get<T extends TableName>(table: T, id: string): Records[T] | undefined {
    const drafted = this.#rows.get(`${table} ${id}`);
    return (drafted ? drafted.row : this.journal.tables[table].get(id)) as Records[T] | undefined;
  }

  put<T extends TableName>(table: T, row: Records[T]): void {
    this.#rows.set(`${table} ${row.id}`, { table, id: row.id, row });
  }

  remove(table: TableName, id: string): void {
    this.#rows.set(`${table} ${id}`, { table, id });
  }

  /** How many rows of a table the draft takes out. */
  removed(table: TableName): number {
    let count = 0;
    for (const each of this.#rows.values()) {
      if (each.table === table && !each.row && this.journal.tables[table].has(each.id)) count += 1;
    }
    return count;
  }

  /** The rows that really differ, in the order they were first drafted. */
  edit(does: string): Edit {
    const changes: Change[] = [];
    for (const { table, id, row } of this.#rows.values()) {
      const before = this.journal.tables[table].get(id);
      if (table === 'entries' ? same(before, row) : saysSame(before, row)) continue;
      const change: { table: TableName; id: string; before?: unknown; after?: unknown } = {
        table,
        id,
      };
      if (before) change.before = before;
      if (row) change.after = row;
      changes.push(change as Change);
    }
    return { does, changes };
  }

  /**
   * Takes a row out and every mention of it: members of lists and optional fields go alone; a row that cannot be without
   * it (a reading without its book, a meeting without its circle) is taken out in turn.
   */
  takeOut(table: TableName, id: string, options: TakeOutOptions = {}): void {
    const waiting: [TableName, string][] = [[table, id]];
    for (let next = waiting.pop(); next; next = waiting.pop()) {
      const [from, goneId] = next;
      const gone = this.get(from, goneId);
      if (!gone) continue;
      this.remove(from, goneId);
      for (const [naming, rowId] of allNaming(this.journal, from, goneId)) {
        if (!this.#takeOutOf(naming, rowId, from, gone, options)) waiting.push([naming, rowId]);
      }
    }
  }

  /** False where the row cannot stay. */
  #takeOutOf<T extends TableName>(
    table: T,
    id: string,
    from: TableName,
    gone: Records[TableName],
    { now, words = 'keep' }: TakeOutOptions,
  ): boolean {
    const row = this.get(table, id);
    if (!row) return true;
    const spoken = from === 'entries' ? withoutItems(table, row, gone as Entry, words) : row;
    const next = rewriteReferences(table, spoken, (reference) => {
      if (reference.to !== from || reference.id !== gone.id) return reference.id;
      return reference.soft ? (gone as Heading).name : undefined;
    });
    if (!next) return false;
    if (next !== row)
      this.put(table, table === 'entries' && from === 'headings' ? touched(next, now) : next);
    return true;
  }
}

/** The row with `changed` set to `now`, where it is given. */
export const touched = <R extends object>(row: R, now: string | undefined): R =>
  now === undefined ? row : { ...row, changed: now };

interface Item {
  entry?: EntryId;
  text?: string;
}

/** What an item of a guide has from its entry besides the words: what it is, its title, what asks for care, and for homework its day. */
function keptOf({ kind, title, cautions, lesson }: Entry): Partial<GuideItem> {
  const due = kind === 'assignment' ? lesson?.due?.trim() : '';
  return {
    kind,
    ...(due ? { due } : {}),
    ...(title?.trim() ? { title } : {}),
    ...(cautions?.length ? { cautions } : {}),
  };
}

/** Items of a guide or meeting that use an entry: given its words, or taken out. Other rows come back as they are. */
function withoutItems<T extends TableName>(
  table: T,
  row: Records[T],
  gone: Entry,
  words: 'keep' | 'drop',
): Records[T] {
  const settle = <I extends Item>(items: I[]): I[] =>
    items.flatMap((item) => {
      if (item.entry !== gone.id) return [item];
      if (words === 'drop') return [];
      const { entry: _gone, ...rest } = item;
      const said = { ...rest, text: item.text ?? gone.text } as I;
      return [table === 'guides' ? { ...keptOf(gone), ...said } : said];
    });
  if (table === 'meetings') {
    const meeting = row as Records['meetings'];
    return { ...meeting, items: settle(meeting.items) } as Records[T];
  }
  if (table !== 'guides') return row;
  const guide = row as Records['guides'];
  const parts = guide.parts.map((part) => ({ ...part, items: settle(part.items) }));
  const spare = guide.spare && { spare: settle(guide.spare) };
  return { ...guide, parts, ...spare } as Records[T];
}
