/** Accepted pieces as one edit of the journal: entries, the headings and readings they bring, and the record of the gathering. */
import type { Edit } from '../journal/edits';
import type {
  BookHeading,
  Entry,
  EntryId,
  Gathering,
  Journal,
  MeetingId,
  Reading,
  ReadingId,
  ReadingList,
  ListId,
  Records,
  TableName,
} from '../journal/records';
import { withoutDoubles } from '../journal/ties';
import { proposeLevel } from '../language/levels';
import { plainText } from '../language/markdown';
import type { BookGathered, MeetingGathered } from './gathering';
import { NewHeadings } from './new-headings';
import { sayPlace, type GatherPiece } from './piece';
import { numberOf, twinKey, twinNumber } from './twins';

export interface AcceptOptions {
  newId: () => string;
  /** ISO time. */
  now: string;
  /** The record of this gathering: all its files, read or not. Its id may be one already in the journal, and is then added to. */
  gathering: Gathering;
  books?: readonly BookGathered[];
  meetings?: readonly MeetingGathered[];
}

/** Entries kept or changed, for telling; `edit` is to be applied whole. */
export interface Accepted {
  edit: Edit;
  entries: EntryId[];
}

/**
 * One edit that keeps these pieces. Headings are looked for again, for the journal may have them by now, and made once each.
 * Left out: a piece whose words the journal has already or that came earlier in the same list, unless its choice is `keep-both`; a twin to
 * keep as it is. `take-wording` changes the entry it is a twin of. Where nothing is left to keep the edit has no changes.
 */
export function acceptEdit(
  journal: Journal,
  pieces: readonly GatherPiece[],
  options: AcceptOptions,
): Accepted {
  const rows = new Rows(journal);
  const headings = new NewHeadings(journal, options.newId);
  const held = new Map<number, EntryId>();
  for (const entry of pieces.length > 0 ? journal.tables.entries.values() : [])
    held.set(twinNumber(entry), entry.id);
  const entries: EntryId[] = [];
  for (const piece of pieces) {
    const kept = keep(piece, rows, headings, held, options);
    if (kept) entries.push(kept);
  }
  for (const book of options.books ?? []) keepBook(book, rows, headings, options);
  for (const meeting of options.meetings ?? []) keepMeeting(meeting, rows, options);
  for (const heading of headings.made()) rows.put('headings', heading);
  const nothing = rows.size === 0;
  const gathering = recordOf(journal, options.gathering, nothing);
  if (gathering) rows.put('gatherings', gathering);
  return { edit: { does: does(entries.length, rows, options), changes: rows.changes() }, entries };
}

/** Rows of an edit as they would be, over the journal as it is. */
class Rows {
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

function keep(
  piece: GatherPiece,
  rows: Rows,
  headings: NewHeadings,
  held: Map<number, EntryId>,
  options: AcceptOptions,
): EntryId | undefined {
  const key = numberOf(twinKey(piece.text));
  const twin = piece.twinOf?.entry ?? held.get(key);
  const both = piece.choice === 'keep-both';
  if (piece.choice === 'keep-ours') return undefined;
  if (piece.choice === 'take-wording') {
    const entry = twin && rows.get('entries', twin);
    if (entry) {
      if (entry.text === piece.text) return undefined;
      rows.put('entries', { ...entry, text: piece.text, changed: options.now });
      held.set(key, entry.id);
      return entry.id;
    }
  }
  const exact = held.has(key) || (piece.twinOf?.entry !== undefined && piece.twinOf.likeness === 1);
  const altered = piece.twinOf?.entry !== undefined && sameOrigin(piece, rows);
  if (!both && key !== 0 && (exact || altered)) return undefined;
  const entry = entryOf(piece, headings, options);
  rows.put('entries', entry);
  held.set(key, entry.id);
  return entry.id;
}

/** Whether its twin came from the very place it stands in: the reader has altered it since, and it is not to come again. */
function sameOrigin(piece: GatherPiece, rows: Rows): boolean {
  const entry = piece.twinOf?.entry && rows.get('entries', piece.twinOf.entry);
  const gathering =
    entry && entry.source?.gathering && rows.get('gatherings', entry.source.gathering);
  if (!entry || !gathering || entry.source?.place !== sayPlace(piece.source.place)) return false;
  const digest = piece.id.split('-')[0] ?? '';
  return gathering.files.some(
    (file) => file.path === entry.source?.file && file.digest.startsWith(digest),
  );
}

function entryOf(
  piece: GatherPiece,
  headings: NewHeadings,
  { newId, now, gathering }: AcceptOptions,
): Entry {
  const entry: Entry = {
    id: newId() as EntryId,
    kind: piece.kind,
    text: piece.text,
    ties: withoutDoubles(piece.ties.flatMap((tie) => headings.tie(tie) ?? [])),
    added: now,
    changed: now,
  };
  if (piece.title) entry.title = piece.title;
  if (piece.written) entry.written = piece.written;
  if (piece.answer) entry.answer = piece.answer;
  if (piece.materials) entry.materials = piece.materials;
  if (piece.kind === 'question') {
    entry.level = proposeLevel(plainText(piece.text)).level;
    entry.levelBy = 'proposed';
  }
  if (piece.picture) {
    const { digest, type, alt, width, height } = piece.picture;
    entry.picture = {
      digest,
      type,
      alt,
      ...(width ? { width } : {}),
      ...(height ? { height } : {}),
    };
  }
  entry.source = { gathering: gathering.id, file: piece.source.path };
  const place = sayPlace(piece.source.place);
  if (place) entry.source.place = place;
  return entry;
}

function keepBook(
  book: BookGathered,
  rows: Rows,
  headings: NewHeadings,
  options: AcceptOptions,
): void {
  const heading = headings.book(book.tie, book);
  if (!heading) return;
  const filled = fillIn(heading, book);
  if (filled !== heading) headings.put(filled);
  const read =
    book.finished ?? book.started ?? (book.rating !== undefined || book.abandoned ? '' : undefined);
  if (read !== undefined) keepReading(heading, book, rows, options);
  if (book.list) keepOnList(book.list, heading, rows, options);
}

/** What the journal does not know of a book yet; what it knows stays. */
function fillIn(heading: BookHeading, book: BookGathered): BookHeading {
  const filled = { ...heading };
  if (book.isbn && !filled.isbn) filled.isbn = book.isbn;
  if (book.pages && !filled.pages) filled.pages = book.pages;
  if (book.published && !filled.published) filled.published = book.published;
  if (book.language && !filled.language) filled.language = book.language;
  if (book.note && !filled.note && !book.finished && !book.started) filled.note = book.note;
  return JSON.stringify(filled) === JSON.stringify(heading) ? heading : filled;
}

function keepReading(
  heading: BookHeading,
  book: BookGathered,
  rows: Rows,
  { newId }: AcceptOptions,
): void {
  for (const known of rows.all('readings')) {
    if (
      known.book === heading.id &&
      known.started === book.started &&
      known.finished === book.finished
    )
      return;
  }
  const reading: Reading = {
    id: newId() as ReadingId,
    book: heading.id,
    form: book.form ?? 'print',
  };
  if (book.started) reading.started = book.started;
  if (book.finished) reading.finished = book.finished;
  if (book.abandoned) reading.abandoned = true;
  if (book.pages) reading.pages = book.pages;
  if (book.rating !== undefined) reading.rating = book.rating;
  if (book.note) reading.note = book.note;
  rows.put('readings', reading);
}

function keepOnList(
  name: string,
  heading: BookHeading,
  rows: Rows,
  { newId }: AcceptOptions,
): void {
  const key = name.trim().toLowerCase();
  for (const list of rows.all('lists')) {
    if (list.name.trim().toLowerCase() !== key) continue;
    if (!list.books.includes(heading.id))
      rows.put('lists', { ...list, books: [...list.books, heading.id] });
    return;
  }
  const list: ReadingList = { id: newId() as ListId, name: name.trim(), books: [heading.id] };
  rows.put('lists', list);
}

function keepMeeting(meeting: MeetingGathered, rows: Rows, { newId }: AcceptOptions): void {
  const { circle, on, title, note } = meeting;
  if (!circle) return;
  for (const known of rows.all('meetings')) if (known.circle === circle && known.on === on) return;
  const words = [title, note].filter(Boolean).join('\n');
  rows.put('meetings', {
    id: newId() as MeetingId,
    circle,
    on,
    items: [],
    ...(words ? { note: words } : {}),
  });
}

/** The record, joined with what the journal has of it; none where nothing is kept and every file is known. */
function recordOf(journal: Journal, gathering: Gathering, nothing: boolean): Gathering | undefined {
  const held = journal.tables.gatherings.get(gathering.id);
  if (nothing) return undefined;
  if (!held) return gathering;
  const files = [...held.files];
  for (const file of gathering.files) {
    if (!files.some(({ path, digest }) => path === file.path && digest === file.digest))
      files.push(file);
  }
  return { ...held, files };
}

function does(entries: number, rows: Rows, { gathering }: AcceptOptions): string {
  const books = rows.count('readings');
  const parts = [
    ...(entries > 0 || books === 0 ? [entries === 1 ? '1 entry' : `${entries} entries`] : []),
    ...(books > 0 ? [books === 1 ? '1 reading' : `${books} readings`] : []),
  ];
  return `Gather ${parts.join(' and ')}${gathering.name ? ` from ${gathering.name}` : ''}`;
}
