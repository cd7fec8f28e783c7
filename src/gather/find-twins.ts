/** Twins among the pieces of a gathering and with the journal; and what was altered, or let go, since the same bytes came before. */
import type { EntryId, Journal } from '../journal/records';
import { CERTAINTIES } from '../language/certainty';
import { sayPlace, type GatherPiece, type TwinFound } from './piece';
import { Alike } from './alike';
import { TwinFinder } from './twins';

/** Pieces or entries between two pauses. */
const PIECES_A_SLICE = 5;

/** The same words are of the same kind: as the journal has them, or as the surer of two pieces has. */
function takeKind(
  piece: GatherPiece,
  { entry, piece: earlier }: TwinFound,
  journal: Journal,
  byId: ReadonlyMap<string, GatherPiece>,
): void {
  const kept = entry && journal.tables.entries.get(entry);
  const other = earlier === undefined ? undefined : byId.get(earlier);
  if (kept) Object.assign(piece, { kind: kept.kind, certainty: 'sure' });
  else if (other && CERTAINTIES.indexOf(other.certainty) > CERTAINTIES.indexOf(piece.certainty))
    Object.assign(piece, { kind: other.kind, certainty: other.certainty });
  else if (other && other.kind !== piece.kind && other.certainty !== piece.certainty)
    Object.assign(other, { kind: piece.kind, certainty: piece.certainty });
}

/** The place a piece stands in, of whatever file has the same bytes. */
const placeKey = ({ id, source }: GatherPiece): string =>
  `${id.split('-')[0] ?? ''} ${sayPlace(source.place)}`;

/** Places of pieces that were let go in earlier gatherings for what says nearly the same. */
function knownPlaces(journal: Journal): Set<string> {
  const places = new Set<string>();
  for (const { files } of journal.tables.gatherings.values()) {
    for (const { digest, known = [] } of files)
      for (const place of known) places.add(`${digest.slice(0, 16)} ${place}`);
  }
  return places;
}

const ENTRIES_A_SLICE = 20;

/** A picture is known again by its bytes; what is written under it may have changed. */
function samePicture(
  piece: GatherPiece,
  digest: string,
  pictures: Map<string, Pick<TwinFound, 'entry' | 'piece'>>,
): TwinFound | undefined {
  const held = pictures.get(digest);
  if (!held) pictures.set(digest, { piece: piece.id });
  return held && { ...held, differences: { here: [], there: [] }, likeness: 1 };
}

/** Twins by words (each step tells the share that is done, 0 to 1); and pieces of a file whose bytes came before, by their place, so that altered entries are known again. */
export function* findTwins(
  journal: Journal,
  pieces: GatherPiece[],
): Generator<{ twins?: number }, void> {
  if (pieces.length === 0) return;
  const finder = new TwinFinder();
  let done = 0;
  for (const piece of pieces) {
    if (!piece.picture) finder.addPiece(piece.id, piece.text);
    if (++done % PIECES_A_SLICE === 0) yield { twins: done / pieces.length / 2 };
  }
  const digests = new Map<string, string>();
  for (const { id, files } of journal.tables.gatherings.values()) {
    for (const { path, digest } of files) digests.set(`${id} ${path}`, digest.slice(0, 16));
  }
  const cameFrom = new Map<string, EntryId[]>();
  const pictures = new Map<string, Pick<TwinFound, 'entry' | 'piece'>>();
  const byId = new Map(pieces.map((piece) => [piece.id, piece]));
  const alike = new Alike(journal, byId, finder);
  for (const entry of journal.tables.entries.values()) {
    if (entry.picture) pictures.set(entry.picture.digest, { entry: entry.id });
    else {
      finder.seeEntry(entry);
      alike.seeEntry(entry);
    }
    const { gathering, file, place } = entry.source ?? {};
    const digest =
      gathering && file !== undefined ? digests.get(`${gathering} ${file}`) : undefined;
    if (digest)
      cameFrom.set(`${digest} ${place}`, [...(cameFrom.get(`${digest} ${place}`) ?? []), entry.id]);
    if (++done % ENTRIES_A_SLICE === 0) yield {};
  }
  const claimed = new Set<EntryId>();
  for (const [at, piece] of pieces.entries()) {
    if (at % PIECES_A_SLICE === 0) yield { twins: 0.5 + at / pieces.length / 2 };
    const twin = piece.picture
      ? samePicture(piece, piece.picture.digest, pictures)
      : finder.twinOf(piece.id);
    if (!twin) continue;
    piece.twinOf = piece.picture || twin.likeness < 1 ? twin : alike.nearest(piece, twin);
    const { entry, part, likeness } = piece.twinOf;
    if (entry && !part) claimed.add(entry);
    if (likeness === 1) takeKind(piece, piece.twinOf, journal, byId);
  }
  const letGo = knownPlaces(journal);
  for (const piece of pieces) if (letGo.has(placeKey(piece))) piece.known = true;
  if (cameFrom.size === 0) return;
  for (const piece of pieces) {
    if (piece.twinOf?.entry && !piece.twinOf.part) continue;
    const [own, ...others] = (cameFrom.get(placeKey(piece)) ?? []).filter((id) => !claimed.has(id));
    const entry = own && journal.tables.entries.get(own);
    // Of several entries from one place it cannot be told which was altered.
    if (!entry || others.length > 0) continue;
    claimed.add(entry.id);
    piece.twinOf = { entry: entry.id, ...finder.compare(piece.text, entry.text) };
  }
}
