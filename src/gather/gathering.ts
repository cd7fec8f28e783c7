/** The whole of gathering once files are read: their blocks and the journal to sorted, tied pieces with their twins. */
import type { CircleId, EntryKind, GatheringId, Journal } from '../journal/records';
import { fold } from '../language/tokens';
import { learnBooks } from './books-listed';
import { findTwins } from './find-twins';
import type { Block, BookFound, Gathered, MeetingFound } from './block';
import { dateOfPiece } from './dates';
import { kindOf } from './kinds';
import { isHouseholdList, kindPoints, settleKind } from '../language/kinds';
import { KnownNames } from './known-names';
import type { GatherPiece, PieceTie } from './piece';
import { piecesOf } from './pieces';
import type { RawPiece } from './raw-piece';
import { leftOfJournal, piecesOfJournal } from './pieces-of-journal';
import { Senses } from './senses';
import { tieOfBook, tiesOf } from './ties';
import { proposeTitles } from './titles-proposed';
import { plainOf } from './plain';

export interface FileGathered {
  path: string;
  /** SHA-256 of its bytes, hexadecimal. */
  digest: string;
  result: Gathered;
}

export interface FileTold {
  path: string;
  digest: string;
  status: 'read' | 'unreadable';
  /** Why it could not be read and what to do; or of a file read, what was left out. */
  reason?: string;
  pieces: number;
  books: number;
  /** Of a circle the journal has; the others are pieces. */
  meetings: number;
  /** The gathering in which the same bytes came before. */
  before?: GatheringId;
}

/** A book of a table or a list of books, and the heading it is or will be. */
export interface BookGathered extends BookFound {
  tie: PieceTie;
  source: { path: string; place: BookFound['place'] };
}

export interface MeetingGathered extends MeetingFound {
  /** The circle its title names; without one it is kept as a piece. */
  circle?: CircleId;
  source: { path: string };
}

export interface GatheringMade {
  files: FileTold[];
  pieces: GatherPiece[];
  books: BookGathered[];
  meetings: MeetingGathered[];
  /** Paths of files that hold no words and are to be kept as they are, by whoever can keep files. */
  attachments: string[];
}

/** A step of the work: the file that is done with it, how much of the one in hand is sorted, or how much is compared for twins, 0 to 1. */
interface Step {
  path?: string;
  part?: number;
  twins?: number;
}

/** Pictures' digests, by the bytes; worked out by whoever may wait for them. */
type DigestOf = (bytes: Uint8Array) => string | undefined;

/**
 * Makes pieces of files, a slice at a time: every step of the iteration is a few milliseconds of work, so that whoever drives it can let
 * the screen breathe between steps and stop. The value returned is the whole.
 */
export function* gatherInSlices(
  journal: Journal,
  files: readonly FileGathered[],
  digestOf: DigestOf = () => undefined,
): Generator<Step, GatheringMade> {
  const names = new KnownNames(journal);
  for (const { result } of files) {
    if (!result.ok) continue;
    for (const block of result.blocks) names.learnWords(block.text);
    yield {};
  }
  for (const { result } of files) {
    if (!result.ok) continue;
    yield* learnBooks(result, names);
  }
  const senses = new Senses(names);
  const made: GatheringMade = {
    files: [],
    pieces: [],
    books: [],
    meetings: [],
    attachments: [],
  };
  const before = digestsOf(journal);
  for (const file of files) {
    const from = made.pieces.length;
    const [books, meetings] = [made.books.length, made.meetings.length];
    if (file.result.ok && file.result.attachment && file.result.blocks.length === 0)
      made.attachments.push(file.path);
    if (file.result.ok)
      yield* gatherFile(journal, file, file.result, names, senses, digestOf, made);
    made.files.push(
      told(
        file,
        {
          pieces: made.pieces.length - from,
          books: made.books.length - books,
          meetings: made.meetings.length - meetings,
        },
        before.get(file.digest),
      ),
    );
    yield { path: file.path };
  }
  yield* findTwins(journal, made.pieces);
  return made;
}

/** {@link gatherInSlices} without a pause. */
export function gatherAtOnce(
  journal: Journal,
  files: readonly FileGathered[],
  digestOf?: DigestOf,
): GatheringMade {
  const steps = gatherInSlices(journal, files, digestOf);
  for (let step = steps.next(); ; step = steps.next()) if (step.done) return step.value;
}

function told(
  file: FileGathered,
  counts: Pick<FileTold, 'pieces' | 'books' | 'meetings'>,
  before?: GatheringId,
): FileTold {
  const { path, digest, result } = file;
  const answer: FileTold = {
    path,
    digest,
    status: result.ok ? 'read' : 'unreadable',
    ...counts,
  };
  const left = result.ok && result.journal ? leftOfJournal(result.journal) : undefined;
  const reason = result.ok
    ? [...result.notes, result.leftOut, left].filter(Boolean).join(' ')
    : result.message;
  if (reason) answer.reason = reason;
  if (before) answer.before = before;
  return answer;
}

function digestsOf(journal: Journal): Map<string, GatheringId> {
  const digests = new Map<string, GatheringId>();
  for (const { id, files } of journal.tables.gatherings.values()) {
    for (const { digest, status } of files) if (status === 'read') digests.set(digest, id);
  }
  return digests;
}

const BLOCKS_A_SLICE = 5;

function* gatherFile(
  journal: Journal,
  file: FileGathered,
  result: Extract<Gathered, { ok: true }>,
  names: KnownNames,
  senses: Senses,
  digestOf: DigestOf,
  made: GatheringMade,
): Generator<Step, void> {
  const raws = yield* piecesOf(result, file.path, senses);
  proposeTitles(raws, senses, result.title);
  const fellows = yield* fellowsOf(raws);
  let number = 0;
  for (const raw of raws) {
    number += 1;
    made.pieces.push(sorted(raw, file, number, names, fellows, digestOf));
    if (number % BLOCKS_A_SLICE === 0) yield { part: number / raws.length };
  }
  for (const book of result.books ?? []) {
    const tie = tieOfBook(names, book);
    made.books.push({ ...book, tie, source: { path: file.path, place: book.place } });
  }
  for (const meeting of result.meetings ?? []) {
    number += 1;
    const circle = circleNamed(journal, meeting.title);
    if (circle) made.meetings.push({ ...meeting, circle, source: { path: file.path } });
    else made.pieces.push(pieceOfMeeting(meeting, file, number, names));
  }
  if (result.journal) {
    for (const piece of piecesOfJournal(result.journal, file.path, names)) {
      number += 1;
      const ties = piece.ties.map((tie) => names.settled(tie));
      made.pieces.push({ ...piece, ties, id: pieceId(file, number) });
      if (number % BLOCKS_A_SLICE === 0) yield {};
    }
  }
}

const pieceId = (file: FileGathered, number: number): string =>
  `${file.digest.slice(0, 16)}-${number}`;

/** For each list, the part of its items that is of each kind by its own signs. */
function* fellowsOf(
  raws: readonly RawPiece[],
): Generator<object, Map<number, Partial<Record<EntryKind, number>>>> {
  const lists = new Map<number, EntryKind[]>();
  for (const raw of raws) {
    if (raw.list === undefined) continue;
    const { kind, certainty } = settleKind(kindPoints(raw.text));
    const kinds = lists.get(raw.list) ?? [];
    kinds.push(certainty === 'guess' ? 'note' : kind);
    lists.set(raw.list, kinds);
    yield {};
  }
  const shares = new Map<number, Partial<Record<EntryKind, number>>>();
  for (const [list, kinds] of lists) {
    if (kinds.length < 3) continue;
    const share: Partial<Record<EntryKind, number>> = {};
    for (const kind of kinds) share[kind] = (share[kind] ?? 0) + 1 / kinds.length;
    shares.set(list, share);
  }
  return shares;
}

function sorted(
  raw: RawPiece,
  file: FileGathered,
  number: number,
  names: KnownNames,
  fellows: ReadonlyMap<number, Partial<Record<EntryKind, number>>>,
  digestOf: DigestOf,
): GatherPiece {
  const shares = raw.list === undefined ? undefined : fellows.get(raw.list);
  const section = raw.governed.section;
  const { kind, certainty } = kindOf({
    text: raw.text,
    as: raw.as,
    ...(section ? { section } : {}),
    ...(raw.column ? { column: raw.column } : {}),
    ...(shares ? { fellows: shares } : {}),
    ...(raw.passage ? { passage: true } : {}),
  });
  const piece: GatherPiece = {
    id: pieceId(file, number),
    kind,
    certainty,
    text: raw.text,
    ties: isHouseholdList(raw.text)
      ? []
      : tiesOf(raw, kind, names, file.path).map((tie) => names.settled(tie)),
    source: { path: file.path, place: raw.place },
  };
  if (raw.under.length > 0) piece.source.under = raw.under;
  if (raw.title) piece.title = raw.title;
  const written = raw.written ?? dateOfPiece(plainOf(raw.text)) ?? raw.governed.written;
  if (written) piece.written = written;
  if (raw.cells) piece.cells = raw.cells;
  if (raw.answer) piece.answer = raw.answer;
  if (raw.materials) piece.materials = raw.materials;
  const digest = raw.picture && digestOf(raw.picture.bytes);
  if (raw.picture && digest) piece.picture = { ...raw.picture, digest };
  return piece;
}

function circleNamed(journal: Journal, title: string): CircleId | undefined {
  const said = ` ${fold(title).replace(/[^\p{L}\p{N}]+/gu, ' ')} `;
  const named = [...journal.tables.circles.values()].filter(({ name }) =>
    said.includes(
      ` ${fold(name)
        .replace(/[^\p{L}\p{N}]+/gu, ' ')
        .trim()} `,
    ),
  );
  return named.length === 1 ? named[0]?.id : undefined;
}

function pieceOfMeeting(
  meeting: MeetingFound,
  file: FileGathered,
  number: number,
  names: KnownNames,
): GatherPiece {
  const text = [meeting.title, meeting.note].filter(Boolean).join('\n\n');
  const block: Block = { as: 'paragraph', text, place: meeting.place };
  const raw: RawPiece = {
    as: block.as,
    text,
    place: meeting.place,
    under: [],
    governed: { ties: [], fromTitle: [] },
  };
  return {
    id: pieceId(file, number),
    kind: 'note',
    certainty: 'guess',
    text,
    ties: tiesOf(raw, 'note', names, file.path).map((tie) => names.settled(tie)),
    written: meeting.on,
    source: { path: file.path, place: meeting.place },
  };
}
