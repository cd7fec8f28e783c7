/** Which of the entries and earlier pieces that have the very words of a piece it is, by its books, its answer and what it brings. */
import type { Entry, Journal } from '../journal/records';
import { NewHeadings } from './new-headings';
import type { GatherPiece, TwinFound } from './piece';
import { nearestOf, type SameWords } from './same-words';
import { sameNumber, twinNumber, type TwinFinder } from './twins';

/** Of more that say the same the first are looked at. */
const MOST_ALIKE = 40;
/** Of the same words, and yet another thing: the reader is to look at both. */
const ALMOST = 0.999;

export class Alike {
  readonly #entries = new Map<number, Entry[]>();
  readonly #earlier = new Map<number, Set<GatherPiece>>();
  readonly #headings: NewHeadings;

  constructor(
    journal: Journal,
    readonly pieces: ReadonlyMap<string, GatherPiece>,
    readonly finder: TwinFinder,
  ) {
    this.#headings = new NewHeadings(journal, () => '');
  }

  seeEntry(entry: Entry): void {
    const number = twinNumber(entry);
    const held = this.#entries.get(number);
    if (!held) this.#entries.set(number, [entry]);
    else if (held.length < MOST_ALIKE) held.push(entry);
  }

  /** The exact twin it has; where each is of another book, or answered otherwise, no more than a near one. Pieces are asked of in their order. */
  nearest(piece: GatherPiece, twin: TwinFound): TwinFound {
    const number = sameNumber(piece);
    const earlier = this.#earlier.get(number) ?? new Set();
    this.#earlier.set(number, earlier);
    const first = twin.piece === undefined ? undefined : this.pieces.get(twin.piece);
    if (first) earlier.add(first);
    const there: SameWords[] = [...(this.#entries.get(number) ?? []), ...earlier];
    if (earlier.size < MOST_ALIKE) earlier.add(piece);
    const found = nearestOf(piece, there, this.#headings);
    if (!found) return twin;
    const { side, stands } = found;
    return {
      ...('certainty' in side ? { piece: side.id } : { entry: side.id }),
      differences: this.finder.compare(piece.text, side.text).differences,
      likeness: stands === 'other' ? ALMOST : 1,
    };
  }
}
