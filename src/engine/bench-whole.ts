/** A piece, book or meeting of the bench whole, as a sheet alters it. */
import { sayPlace } from '../gather/piece';
import { plainText } from '../language/markdown';
import type { PieceItem } from './bench-items';
import { nameOf, pictureSaid, tieSaid } from './bench-rows';
import { nextOf } from './bench-shapes';
import type { BenchPiece, BenchWhole } from './bench-types';
import type { BenchParts } from './bench-view';

const NEXT_LENGTH = 200;

export function benchWhole(parts: BenchParts, id: string): BenchWhole | undefined {
  const item = parts.items.get(id);
  if (item?.type === 'book') return { type: 'book', id, book: item.now };
  if (item?.type === 'meeting') return { type: 'meeting', id, meeting: item.now };
  return item && { type: 'piece', piece: pieceWhole(parts, item) };
}

function pieceWhole(parts: BenchParts, { id, now }: PieceItem): BenchPiece {
  const { kind, text, title, written, answer, picture, ties, source, cells } = now;
  const next = nextOf(parts, id);
  return {
    id,
    kind,
    text,
    title: title ?? '',
    written: written ?? '',
    answer: answer ?? '',
    ...(picture ? { picture: pictureSaid(picture) } : {}),
    ties: ties.map(tieSaid),
    place: [nameOf(source.path), sayPlace(source.place)].filter(Boolean).join(', '),
    under: source.under ?? [],
    ...(cells ? { cells } : {}),
    ...(next ? { next: plainText(next.now.text).slice(0, NEXT_LENGTH) } : {}),
  };
}
