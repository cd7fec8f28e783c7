/** Accepted pieces as one edit of the journal: entries, the headings and readings they bring, and the record of the gathering. */
import type { Edit } from '../journal/edits';
import type {
  Entry,
  EntryId,
  GatheredFile,
  Gathering,
  Journal,
  MeetingId,
} from '../journal/records';
import { same } from '../journal/same';
import { withoutDoubles } from '../journal/ties';
import { proposeLevel } from '../language/levels';
import { keepBook, keepMeeting, type BookKept } from './accept-books';
import { EditRows } from './edit-rows';
import type { BookGathered, MeetingGathered } from './gathering';
import { NewHeadings } from './new-headings';
import { sayPlace, type GatherPiece } from './piece';
import { nearestOf, type Brought } from './same-words';
import { rememberTwin, sameNumber, twinNumber } from './twins';
import { plainOf } from './plain';

interface AcceptOptions {
  newId: () => string;
  /** ISO time. */
  now: string;
  /** The record of this gathering: all its files, read or not. Its id may be one already in the journal, and is then added to. */
  gathering: Gathering;
  books?: readonly BookGathered[];
  meetings?: readonly MeetingGathered[];
}

/** `edit` is to be applied whole. */
export interface Accepted {
  edit: Edit;
  /** Entries kept or changed, in the order of the pieces. */
  entries: EntryId[];
  /** Ids of the pieces they came of, in the same order. */
  pieces: string[];
  /** What each book and each meeting was kept as, in the order given; undefined where there was nothing to keep. */
  books: (BookKept | undefined)[];
  meetings: (MeetingId | undefined)[];
}

/** How sure a piece must be of its kind to be accepted with others in one go. */
export type AcceptLevel = 'sure' | 'likely' | 'all';

/**
 * The pieces that may be accepted without being looked at: sure enough of their kind. One that nearly says what another says
 * waits for the reader, unless all are asked for, and then both are kept.
 */
export function acceptable(pieces: readonly GatherPiece[], level: AcceptLevel): GatherPiece[] {
  if (level === 'all') return [...pieces];
  return pieces.filter(({ certainty, twinOf, choice }) => {
    if (twinOf && twinOf.likeness < 1 && !choice) return false;
    return certainty === 'sure' || (level === 'likely' && certainty === 'likely');
  });
}

/**
 * One edit that keeps these pieces. Headings are looked for again, for the journal may have them by now, and made once each.
 * Left out: a piece whose words the journal has already or that came earlier in the same list, unless its choice is `keep-both`; a twin to
 * keep as it is. What such a piece brings besides its words is added to the entry that has them. `take-wording` changes the entry it is a twin of. Where nothing is left to keep the edit has no changes.
 */
export function acceptEdit(
  journal: Journal,
  pieces: readonly GatherPiece[],
  options: AcceptOptions,
): Accepted {
  const rows = new EditRows(journal);
  const headings = new NewHeadings(journal, options.newId);
  const held = new Map<number, EntryId[]>();
  for (const entry of pieces.length > 0 ? journal.tables.entries.values() : [])
    hold(held, twinNumber(entry), entry.id);
  const entries: EntryId[] = [];
  const from: string[] = [];
  for (const piece of pieces) {
    const kept = keep(piece, rows, headings, held, options);
    if (!kept) continue;
    entries.push(kept);
    from.push(piece.id);
  }
  const books = (options.books ?? []).map((book) => keepBook(book, rows, headings, options));
  const meetings = (options.meetings ?? []).map((meeting) => keepMeeting(meeting, rows, options));
  for (const heading of headings.made()) rows.put('headings', heading);
  if (rows.size > 0) rows.put('gatherings', joinedRecord(journal, options.gathering));
  return {
    edit: { does: does(new Set(entries).size, rows, options), changes: rows.changes() },
    entries,
    pieces: from,
    books,
    meetings,
  };
}

function keep(
  piece: GatherPiece,
  rows: EditRows,
  headings: NewHeadings,
  held: Map<number, EntryId[]>,
  options: AcceptOptions,
): EntryId | undefined {
  const key = sameNumber(piece);
  const twin = piece.twinOf?.entry ?? held.get(key)?.[0];
  const both = piece.choice === 'keep-both';
  if (piece.choice === 'keep-ours') return undefined;
  if (piece.choice === 'take-wording') {
    const entry = twin && rows.get('entries', twin);
    if (entry) {
      if (entry.text === piece.text) return undefined;
      rows.put('entries', { ...entry, text: piece.text, changed: options.now });
      hold(held, key, entry.id);
      return entry.id;
    }
  }
  const altered = piece.twinOf?.entry !== undefined && sameOrigin(piece, rows);
  const letGo = piece.twinOf !== undefined && piece.known;
  if (!both && key !== 0) {
    if (altered || letGo) return undefined;
    const exact = [
      ...(held.get(key) ?? []),
      ...(piece.twinOf?.likeness === 1 && twin ? [twin] : []),
    ];
    const twins = exact.flatMap((id) => rows.get('entries', id) ?? []);
    const nearest = nearestOf(piece, twins, headings);
    if (nearest && nearest.stands !== 'other')
      return nearest.stands === 'same'
        ? undefined
        : add(nearest.side, nearest.stands, rows, headings, options);
  }
  const entry = entryOf(piece, headings, options);
  rows.put('entries', entry);
  rememberTwin(entry, key);
  hold(held, key, entry.id);
  return entry.id;
}

/** An entry with what a piece of its words brings; nothing where all of it was a guess. */
function add(
  entry: Entry,
  { ties, ...words }: Brought,
  rows: EditRows,
  headings: NewHeadings,
  { now }: AcceptOptions,
): EntryId | undefined {
  const added = ties.flatMap((tie) => headings.tie(tie) ?? []);
  const more = { ...entry, ...words, ties: withoutDoubles([...entry.ties, ...added]) };
  if (same(more, entry)) return undefined;
  rows.put('entries', { ...more, changed: now });
  return entry.id;
}

const hold = (held: Map<number, EntryId[]>, key: number, id: EntryId): void =>
  void held.set(key, [...(held.get(key) ?? []), id]);

/** Whether its twin came from the very place it stands in: the reader has altered it since, and it is not to come again. */
function sameOrigin(piece: GatherPiece, rows: EditRows): boolean {
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
  Object.assign(entry, piece.more);
  if (piece.kind === 'question' && !entry.level) {
    entry.level = proposeLevel(plainOf(piece.text)).level;
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

/** The record, joined with what the journal has of it: files it has and others, each as it is told now. */
export function joinedRecord(journal: Journal, gathering: Gathering): Gathering {
  const held = journal.tables.gatherings.get(gathering.id);
  if (!held) return gathering;
  const key = ({ path, digest }: GatheredFile): string => `${digest} ${path}`;
  const now = new Map(gathering.files.map((file) => [key(file), file]));
  const had = new Set(held.files.map(key));
  const files = [
    ...held.files.map((file) => now.get(key(file)) ?? file),
    ...gathering.files.filter((file) => !had.has(key(file))),
  ];
  return { ...held, files };
}

function does(entries: number, rows: EditRows, { gathering }: AcceptOptions): string {
  const books = rows.count('readings');
  const parts = [
    ...(entries > 0 || books === 0 ? [entries === 1 ? '1 entry' : `${entries} entries`] : []),
    ...(books > 0 ? [books === 1 ? '1 reading' : `${books} readings`] : []),
  ];
  return `Gather ${parts.join(' and ')}${gathering.name ? ` from ${gathering.name}` : ''}`;
}
