/** What a piece says besides the words that an entry, or an earlier piece, has already: an answer, things to have ready, a date, ties. */
import type { Entry } from '../journal/records';
import { nameKey } from '../language/filing';
import type { NewHeadings } from './new-headings';
import type { GatherPiece, PieceTie } from './piece';
import { twinKey } from './twins';

export interface Brought extends Pick<GatherPiece, 'answer' | 'materials' | 'written'> {
  ties: PieceTie[];
}

/** `same`: it brings nothing. `other`: it is asked of another book, or answered otherwise, and so is another thing. */
export type Stands = 'same' | 'other' | Brought;

/** The other side: an entry, or a piece that came before. */
export type SameWords = Entry | GatherPiece;

interface TieSeen {
  key: string;
  book: boolean;
  placed: boolean;
}

/**
 * How a piece stands to what has the same words. What its own file told before is not told again: of ties and dates that the entry came
 * with the reader may have taken some off.
 */
export function standsTo(piece: GatherPiece, there: SameWords, headings: NewHeadings): Stands {
  if (piece.picture) return 'same';
  const { answer, materials, written } = piece;
  if (answer && there.answer && twinKey(answer) !== twinKey(there.answer)) return 'other';
  const ties = piece.ties.filter(({ certainty }) => certainty !== 'guess');
  const held = tiesSeen(there, headings);
  const books = ties.filter(({ kind }) => kind === 'book').map((tie) => keyOf(tie, headings));
  const theirs = held.filter(({ book }) => book).map(({ key }) => key);
  if (books.length > 0 && theirs.length > 0 && !books.some((key) => theirs.includes(key)))
    return 'other';
  const elsewhere = pathOf(there) !== piece.source.path;
  const brought: Brought = { ties: [] };
  if (answer && !there.answer) brought.answer = answer;
  if (materials && !there.materials) brought.materials = materials;
  if (elsewhere && written && !there.written) brought.written = written;
  if (elsewhere)
    brought.ties = ties.filter((tie) => {
      const same = held.filter(({ key }) => key === keyOf(tie, headings));
      return same.length === 0 || (isPlaced(tie) && !same.some(({ placed }) => placed));
    });
  return Object.keys(brought).length > 1 || brought.ties.length > 0 ? brought : 'same';
}

const isPiece = (side: SameWords): side is GatherPiece => 'certainty' in side;
const pathOf = (side: SameWords): string | undefined =>
  isPiece(side) ? side.source.path : side.source?.file;
const isPlaced = ({ place }: Pick<PieceTie, 'place'>): boolean =>
  Object.keys(place ?? {}).length > 0;

/** A new heading is known by its name and, as far as that is told, by who wrote it. */
function keyOf(tie: PieceTie, headings: NewHeadings): string {
  const by = tie.told ? (tie.authors ?? []) : [];
  return headings.there(tie) ?? [tie.kind, nameKey(tie.name, tie.kind), ...by].join('\n');
}

function tiesSeen(side: SameWords, headings: NewHeadings): TieSeen[] {
  if (isPiece(side))
    return side.ties
      .filter(({ certainty }) => certainty !== 'guess')
      .map((tie) => ({
        key: keyOf(tie, headings),
        book: tie.kind === 'book',
        placed: isPlaced(tie),
      }));
  return side.ties.map((tie) => ({
    key: tie.heading,
    book: tie.by !== 'proposed' && headings.get(tie.heading)?.kind === 'book',
    placed: isPlaced(tie),
  }));
}

/** The nearest of several that have its words: one it brings nothing to, else one it brings something to, else one it is not. */
export function nearestOf<T extends SameWords>(
  piece: GatherPiece,
  there: readonly T[],
  headings: NewHeadings,
): { side: T; stands: Stands } | undefined {
  const found = there.map((side) => ({ side, stands: standsTo(piece, side, headings) }));
  return (
    found.find(({ stands }) => stands === 'same') ??
    found.find(({ stands }) => stands !== 'other') ??
    found[0]
  );
}

/** "an answer, a tie to Emma": what it brings, in words. */
export function sayBrought({ answer, materials, written, ties }: Brought): string {
  return [
    ...(answer ? ['an answer'] : []),
    ...(materials ? ['what to have ready'] : []),
    ...(written ? ['when it was written'] : []),
    ...ties.map(({ name, place }) => `${place ? 'a place in' : 'a tie to'} ${name}`),
  ].join(', ');
}
