/** What accepting an item made in the journal besides entries, and taking that out again when the item is put back. */
import type { BookKept } from '../gather/accept-books';
import { Draft } from '../journal/draft';
import type { Change } from '../journal/edits';
import type { EntryId, MeetingId, TableName } from '../journal/records';
import { same } from '../journal/same';
import { tieKey } from '../journal/ties';
import type { BenchItem } from './bench-items';
import type { ItemHeld } from './bench-ledger';
import type { BenchParts } from './bench-view';
import { takeOutMade, type MadeRow } from './gathering-back';

type Made = Pick<ItemHeld, 'made' | 'listed'>;

const rowKey = (table: TableName, id: string): string => `${table} ${id}`;

/**
 * Tells of an edit which of its rows are an item's. A row that an earlier item made and this one needs too, such as the author of both
 * books, is held with each, so that the last of them to be put back takes it out.
 */
export class RowsOf {
  readonly #changes: ReadonlyMap<string, Change>;
  readonly #earlier = new Map<string, MadeRow>();

  constructor({ ledger }: BenchParts, changes: readonly Change[]) {
    this.#changes = new Map(changes.map((change) => [rowKey(change.table, change.id), change]));
    for (const [, { as, made = [] }] of ledger.items())
      for (const row of as === 'accepted' ? made : [])
        if (!row.before) this.#earlier.set(rowKey(row.table, row.id), row);
  }

  book({ book, reading, list }: BookKept): Made {
    const made = [...this.#row('headings', book), ...this.#row('readings', reading)];
    const [heading] = made;
    const authors =
      heading?.table === 'headings' && heading.after?.kind === 'book' ? heading.after.authors : [];
    made.push(...authors.flatMap((id) => this.#row('headings', id)).filter(isNew));
    if (!list) return { made };
    // A list is taken out only once it is empty: its books come and go with their own items.
    const lists = this.#row('lists', list).filter(isNew);
    for (const row of lists)
      if (row.table === 'lists' && row.after)
        made.push({ ...row, after: { ...row.after, books: [] } });
    return { made, listed: { list, book } };
  }

  meeting(id: MeetingId | undefined): Made {
    return { made: this.#row('meetings', id) };
  }

  /** Of a piece only the entry whose wording it changed; its own is told by its id. */
  wording(entry: EntryId | undefined): Made {
    const made = this.#row('entries', entry).filter((row) => !isNew(row));
    return made.length > 0 ? { made } : {};
  }

  #row(table: TableName, id: string | undefined): MadeRow[] {
    const key = id === undefined ? '' : rowKey(table, id);
    const [change, earlier] = [this.#changes.get(key), this.#earlier.get(key)];
    if (!change || !earlier) return change || earlier ? [(change ?? earlier)!] : [];
    const { before: _, ...made } = change;
    return [made as MadeRow];
  }
}

const isNew = ({ before }: MadeRow): boolean => before === undefined;

/**
 * What taking these items out of the journal changes: their entries, and what they made, as far as it is unchanged since and no other
 * accepted item has it too. Of a taken wording the words that stood there before are put back.
 */
export function putBackChanges(parts: BenchParts, items: readonly BenchItem[]): Change[] {
  const { core, ledger } = parts;
  const draft = new Draft(core.journal);
  const others = heldByOthers(parts, items);
  const rows: MadeRow[] = [];
  for (const { id } of items) {
    const { entry, made = [], listed } = ledger.item(id) ?? {};
    if (entry && isOfThis(parts, entry) && !others.has(rowKey('entries', entry)))
      draft.takeOut('entries', entry);
    if (listed && !others.has(placeKey(listed))) takeOffList(draft, listed);
    for (const row of made) {
      if (row.table === 'entries') takeWordingBack(draft, row, core.nowIso());
      else if (!others.has(rowKey(row.table, row.id))) rows.push(row);
    }
  }
  takeOutMade(draft, rows);
  return draft.edit('Put back').changes;
}

const placeKey = ({ list, book }: NonNullable<ItemHeld['listed']>): string => `${list} has ${book}`;

function heldByOthers({ ledger }: BenchParts, items: readonly BenchItem[]): Set<string> {
  const going = new Set(items.map(({ id }) => id));
  const held = new Set<string>();
  for (const [id, { as, entry, made = [], listed }] of ledger.items()) {
    if (as !== 'accepted' || going.has(id)) continue;
    if (entry) held.add(rowKey('entries', entry));
    if (listed) held.add(placeKey(listed));
    for (const row of made) held.add(rowKey(row.table, row.id));
  }
  return held;
}

function takeOffList(draft: Draft, { list, book }: NonNullable<ItemHeld['listed']>): void {
  const now = draft.get('lists', list);
  if (now) draft.put('lists', { ...now, books: now.books.filter((id) => id !== book) });
}

function takeWordingBack(
  draft: Draft,
  { id, before, after }: Extract<MadeRow, { table: 'entries' }>,
  now: string,
): void {
  const entry = draft.get('entries', id);
  if (!entry || !before || entry.text !== after?.text) return;
  if (same(entry, after)) return draft.put('entries', before);
  const had = new Set(before.ties.map(tieKey));
  const added = new Set(after.ties.map(tieKey).filter((key) => !had.has(key)));
  const words = { ...entry, text: before.text, changed: now };
  words.ties = entry.ties.filter((tie) => tie.by === 'reader' || !added.has(tieKey(tie)));
  for (const field of ['answer', 'materials', 'written'] as const)
    if (!before[field] && same(entry[field], after[field])) delete words[field];
  if (!same({ ...words, changed: entry.changed }, entry)) draft.put('entries', words);
}

/** An entry of another gathering, or of none, whose wording alone was taken from a piece stays. */
const isOfThis = ({ core, ledger }: BenchParts, id: EntryId): boolean => {
  const source = core.journal.tables.entries.get(id)?.source;
  return source?.gathering !== undefined && source.gathering === ledger.head?.id;
};
