/** Where each piece of the gathering in hand stands: left or settled, and what it is a twin of. */
import { sayPlace, type Differences, type GatherPiece } from '../gather/piece';
import { NewHeadings } from '../gather/new-headings';
import { standsTo, type Brought, type Stands } from '../gather/same-words';
import { TwinFinder, twinKey } from '../gather/twins';
import type { Entry, Journal } from '../journal/records';
import type { BenchItem, BenchItems, PieceItem } from './bench-items';
import type { BenchKnown } from './bench-known';
import type { BenchLedger } from './bench-ledger';
import type { Settled } from './bench-types';

/** The other side of a twin as it now is: an entry of the journal, or a piece that is left or skipped. */
export interface TwinNow {
  entry?: Entry;
  piece?: PieceItem;
  exact: boolean;
  /** Of an exact one: what the piece says besides. */
  brings?: Brought;
}

const finder = new TwinFinder();
/** However many pieces say the same, they lead to one another in fewer steps. */
const LONGEST_CHAIN = 50;

/** What comparing two texts came to, by piece, until either is another. */
class Compared {
  #held = new Map<string, { a: string; b: string; is: boolean }>();

  constructor(readonly compare: (a: string, b: string) => boolean) {}

  of(id: string, a: string, b: string): boolean {
    const held = this.#held.get(id);
    if (held && held.a === a && held.b === b) return held.is;
    const is = this.compare(a, b);
    this.#held.set(id, { a, b, is });
    return is;
  }
}

export class BenchStanding {
  /** Whether two wordings are exactly the same but for marks, by both. */
  #same = new Compared((a, b) => twinKey(a) === twinKey(b));
  #alike = new Compared((a, b) => finder.alike(a, b));

  constructor(
    readonly items: BenchItems,
    readonly ledger: BenchLedger,
    readonly journal: () => Journal,
    readonly known: BenchKnown,
  ) {}

  statusOf(item: BenchItem): Settled | 'left' {
    const held = this.ledger.item(item.id);
    if (held?.as) return held.as;
    const seen = item.type === 'piece' ? this.#isSeen(item) : this.known.has(item);
    return seen ? 'seen' : 'left';
  }

  /**
   * What says the same as this piece, as far as it still does: words the reader has rewritten may not. A near twin that was skipped is no
   * reason to ask.
   */
  twinOf(item: PieceItem): TwinNow | undefined {
    const twin = this.#other(item);
    if (!twin) return undefined;
    const stands = this.#exact(item, twin) ? this.#stands(item, twin) : 'other';
    const exact = stands !== 'other';
    if (!exact && !this.#nearStill(item, twin)) return undefined;
    if (twin.piece && !exact && this.ledger.item(twin.piece.id)?.as === 'skipped') return undefined;
    return { ...twin, exact, ...(typeof stands === 'object' ? { brings: stands } : {}) };
  }

  /** The piece as it is to be accepted: its twin told as the entry it has become. */
  toAccept(item: PieceItem): GatherPiece {
    const { twinOf: _, ...piece } = item.now;
    const twin = this.twinOf(item);
    const choice = this.ledger.item(item.id)?.choice;
    const likeness = twin?.exact ? 1 : 0.9;
    const differences: Differences = { here: [], there: [] };
    return {
      ...piece,
      ...(choice ? { choice } : {}),
      ...(twin?.entry ? { twinOf: { entry: twin.entry.id, differences, likeness } } : {}),
      ...(twin?.piece && !twin.exact
        ? { twinOf: { piece: twin.piece.id, differences, likeness } }
        : {}),
    };
  }

  differences(item: PieceItem, { entry, piece }: TwinNow): Differences {
    const there = entry?.text ?? piece?.now.text ?? '';
    const known = item.sorted.twinOf;
    const untouched = item.now.text === item.sorted.text;
    if (known && untouched && piece && piece.now.text === piece.sorted.text)
      return known.differences;
    return finder.compare(item.now.text, there).differences;
  }

  #isSeen(item: PieceItem): boolean {
    if (this.ledger.item(item.id)?.choice === 'keep-both') return false;
    const twin = this.twinOf(item);
    if (!twin) return false;
    const letGo = item.sorted.known && item.now.text === item.sorted.text;
    if ((twin.exact && !twin.brings) || letGo) return true;
    return twin.entry !== undefined && this.#cameFromThere(item, twin.entry);
  }

  #other(item: PieceItem): Omit<TwinNow, 'exact'> | undefined {
    const { entries } = this.journal().tables;
    let found = item.sorted.twinOf;
    for (let steps = 0; found && steps < LONGEST_CHAIN; steps++) {
      if (found.entry) {
        const entry = entries.get(found.entry);
        return entry && { entry };
      }
      const piece = found.piece === undefined ? undefined : this.items.piece(found.piece);
      if (!piece || piece === item) return undefined;
      const held = this.ledger.item(piece.id);
      if (held?.entry) {
        const entry = entries.get(held.entry);
        return entry && { entry };
      }
      // What is itself seen before leads on to what it was a twin of.
      const next = held?.as === 'seen' || !held?.as ? piece.sorted.twinOf : undefined;
      if (!next || next.likeness < 1) return { piece };
      found = next;
    }
    return undefined;
  }

  #stands(item: PieceItem, { entry, piece }: Omit<TwinNow, 'exact'>): Stands {
    const there = entry ?? piece?.now;
    if (!there || (entry && this.#cameFromThere(item, entry))) return 'same';
    return standsTo(item.now, there, new NewHeadings(this.journal(), () => ''));
  }

  #exact(item: PieceItem, { entry, piece }: Omit<TwinNow, 'exact'>): boolean {
    const there = entry?.text ?? piece?.now.text ?? '';
    const begun = this.ledger.head?.on ?? '';
    const untouched =
      item.now.text === item.sorted.text &&
      (entry ? entry.changed < begun : piece?.now.text === piece?.sorted.text);
    if (untouched && item.sorted.twinOf?.likeness === 1) return true;
    return this.#same.of(item.id, item.now.text, there);
  }

  #nearStill({ id, now, sorted }: PieceItem, { entry, piece }: Omit<TwinNow, 'exact'>): boolean {
    const there = entry?.text ?? piece?.now.text ?? '';
    return now.text === sorted.text || this.#alike.of(id, now.text, there);
  }

  /** Whether the entry came from the very place the piece stands in, in an earlier gathering of the same bytes. */
  #cameFromThere({ id, sorted }: PieceItem, { source }: Entry): boolean {
    const gathering = source?.gathering && this.journal().tables.gatherings.get(source.gathering);
    if (!gathering || source.place !== sayPlace(sorted.source.place)) return false;
    const digest = id.split('-')[0] ?? '';
    return gathering.files.some(
      (file) => file.path === source.file && file.digest.startsWith(digest),
    );
  }
}
