/** Pieces, books and meetings as rows of the bench, in words. */
import { noteOfReading } from '../gather/accept-books';
import { sayBrought } from '../gather/same-words';
import { sayPlace, type PieceTie } from '../gather/piece';
import { usesOf } from '../journal/uses';
import { sayDate } from '../language/dates';
import { plainText } from '../language/markdown';
import type { BenchItem, BookItem, MeetingItem, PieceItem } from './bench-items';
import type { BenchStanding } from './bench-standing';
import type { BenchRow, BenchTie, BenchTwin } from './bench-types';
import type { Core } from './core';

/** The last part of a path. */
export const nameOf = (path: string): string => path.split('/').at(-1) ?? path;

/** The name without what tells its format: "2015 Avonlea". */
export const stemOf = (path: string): string => nameOf(path).replace(/\.[A-Za-z0-9]{1,8}$/, '');

export function tieSaid(tie: PieceTie): BenchTie {
  const { name, kind, role, heading, place, certainty, isNew } = tie;
  return {
    name,
    kind,
    role,
    ...(heading ? { heading } : {}),
    ...(place && Object.keys(place).length > 0 ? { place } : {}),
    proposed: certainty !== 'sure',
    isNew,
    unlikely: isNew && certainty === 'guess',
  };
}

export function rowOfItem(core: Core, standing: BenchStanding, item: BenchItem): BenchRow {
  const status = standing.statusOf(item);
  const held = standing.ledger.item(item.id);
  const row =
    item.type === 'piece'
      ? pieceRow(core, standing, item)
      : item.type === 'book'
        ? bookRow(item)
        : meetingRow(core, item);
  const entry = held?.entry ? { entry: held.entry } : {};
  return { ...row, id: item.id, type: item.type, file: item.file, status, ...entry };
}

type Own = Omit<BenchRow, 'id' | 'type' | 'file' | 'status' | 'entry'>;

function pieceRow(core: Core, standing: BenchStanding, item: PieceItem): Own {
  const { kind, certainty, text, title, ties, written, answer, materials, picture, source } =
    item.now;
  const under = source.under?.at(-1);
  const twin = twinSaid(core, standing, item);
  const unlikely = kind === 'note' && certainty === 'guess' && ties.length === 0 && !picture;
  return {
    kind,
    certainty,
    text: plainText(text),
    ...(title ? { title } : {}),
    ties: ties.map(tieSaid),
    place: placeOf(source.path, sayPlace(source.place)),
    ...(under ? { under } : {}),
    ...(written ? { written: sayDate(written) } : {}),
    ...(answer ? { answer } : {}),
    ...(materials ? { materials } : {}),
    ...(picture ? { picture: pictureSaid(picture) } : {}),
    ...(twin ? { twin } : {}),
    first: unlikely ? 'skip' : 'accept',
  };
}

/** What a screen needs of a picture; its bytes lie beside the journal. */
export function pictureSaid({
  digest,
  type,
  alt,
  width,
  height,
}: NonNullable<PieceItem['now']['picture']>): NonNullable<BenchRow['picture']> {
  return { digest, type, alt, ...(width ? { width } : {}), ...(height ? { height } : {}) };
}

const placeOf = (path: string, place: string): string =>
  place ? `${stemOf(path)}, ${place}` : stemOf(path);

function twinSaid(core: Core, standing: BenchStanding, item: PieceItem): BenchTwin | undefined {
  const held = standing.ledger.item(item.id);
  if (held?.as === 'accepted') return undefined;
  const twin = standing.twinOf(item);
  if (!twin) return undefined;
  const { entry, piece, exact, brings } = twin;
  const { part } = item.sorted.twinOf ?? {};
  const said = {
    text: plainText(entry?.text ?? piece?.now.text ?? ''),
    differences: standing.differences(item, twin),
    exact,
    ...(brings ? { brings: sayBrought(brings) } : {}),
    ...(part && !exact ? { part } : {}),
  };
  if (entry) {
    const { times } = usesOf(core.journal, entry.id);
    const from = entry.source?.file ? `, from ${stemOf(entry.source.file)}` : '';
    const used =
      times === 0
        ? 'Never used'
        : `Used ${times === 1 ? 'once' : times === 2 ? 'twice' : `${times} times`}`;
    return {
      where: 'kept',
      entry: entry.id,
      from: `No. ${core.numberOf(entry.id)}${from}. ${used}.`,
      ...said,
    };
  }
  const source = piece!.sorted.source;
  return { where: 'here', from: placeOf(source.path, sayPlace(source.place)), ...said };
}

const FORMS = { print: 'in print', ebook: 'on screen', audio: 'by ear' };

function bookRow({ now }: BookItem): Own {
  const { title, authors, started, finished, abandoned, rating, pages, form, list, isbn } = now;
  const parts = [
    authors.length > 0 ? `by ${authors.join(' and ')}` : '',
    finished ? `finished ${sayDate(finished)}` : started ? `begun ${sayDate(started)}` : '',
    abandoned ? 'put down unfinished' : '',
    form && (finished || started) ? FORMS[form] : '',
    rating === undefined ? '' : `${rating} of 5`,
    pages ? `${pages} pages` : '',
    isbn ? `ISBN ${isbn}` : '',
    list ? `on the list ${list}` : '',
  ].filter(Boolean);
  return {
    kind: 'book',
    certainty: now.tie.certainty,
    title,
    text: [parts.join('; '), noteOfReading(now)].filter(Boolean).join('\n'),
    ties: [tieSaid(now.tie)],
    place: placeOf(now.source.path, sayPlace(now.source.place)),
    first: 'accept',
  };
}

function meetingRow(core: Core, { now }: MeetingItem): Own {
  const circle = now.circle && core.journal.tables.circles.get(now.circle)?.name;
  const at = now.starts ? `, ${now.starts}` : '';
  return {
    kind: 'meeting',
    certainty: 'sure',
    title: now.title,
    text: [circle ? `${circle}, ${sayDate(now.on)}${at}` : `${sayDate(now.on)}${at}`, now.note]
      .filter(Boolean)
      .join('\n'),
    ties: [],
    place: placeOf(now.source.path, sayPlace(now.place)),
    first: 'accept',
  };
}
