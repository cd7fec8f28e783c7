/** The pieces of the gathering in hand as they now stand: sorted by the program, then by learnt rules, then by the reader. */
import type { BookGathered, MeetingGathered } from '../gather/gathering';
import type { GatherPiece } from '../gather/piece';
import {
  applyRules,
  labelOf,
  learn,
  titleRules,
  type Correction,
  type LearntRule,
} from '../gather/rules';
import type { BenchLedger, FileHeld, ItemHeld, Patch } from './bench-ledger';
import { fileOfKey, itemOfKey, REVOKED } from './bench-ledger';

interface Common {
  id: string;
  file: number;
  /** Place in the whole gathering, from 0. */
  at: number;
}
export interface PieceItem extends Common {
  type: 'piece';
  /** As the program sorted it. */
  sorted: GatherPiece;
  now: GatherPiece;
  label: string | undefined;
}
export interface BookItem extends Common {
  type: 'book';
  sorted: BookGathered;
  now: BookGathered;
}
export interface MeetingItem extends Common {
  type: 'meeting';
  now: MeetingGathered;
}
export type BenchItem = PieceItem | BookItem | MeetingItem;

export class BenchItems {
  #items: BenchItem[] = [];
  #byId = new Map<string, BenchItem>();
  #rules: LearntRule[] = [];
  /** Grows with every change, so that what is worked out from all can be kept until then. */
  revision = 0;

  constructor(readonly ledger: BenchLedger) {}

  get all(): readonly BenchItem[] {
    return this.#items;
  }

  get(id: string): BenchItem | undefined {
    return this.#byId.get(id);
  }

  piece(id: string): PieceItem | undefined {
    const item = this.#byId.get(id);
    return item?.type === 'piece' ? item : undefined;
  }

  /** Rules learnt from the reader, then those that go by the title of this file. */
  rules(file: number | undefined): LearntRule[] {
    if (file === undefined) return this.#rules;
    const pieces = this.#items.flatMap((item) =>
      item.type === 'piece' && item.file === file ? [item.sorted] : [],
    );
    return [...this.#rules, ...titleRules(pieces, new Set(this.ledger.revoked))];
  }

  /** Everything anew: another gathering, or records of another window. */
  rebuild(): void {
    this.#items = [];
    for (const [number, held] of this.ledger.files()) this.#addFile(number, held);
    this.#items.forEach((item, at) => (item.at = at));
    this.#byId = new Map(this.#items.map((item) => [item.id, item]));
    this.#rules = this.#learnt();
    this.#restand(this.#items);
    this.revision += 1;
  }

  /** Follows a patch that was laid. */
  follow(patch: Patch): void {
    if (patch.some(([key]) => fileOfKey(key) !== undefined)) {
      this.rebuild();
      return;
    }
    const touched = new Set(
      patch.flatMap(([key]) => {
        const id = itemOfKey(key);
        return (id !== undefined && this.#byId.get(id)) || [];
      }),
    );
    const before = this.#rules;
    const teaches = patch.some(([key]) => key === REVOKED || itemOfKey(key) !== undefined);
    if (teaches) this.#rules = this.#learnt();
    const changed = changedRules(before, this.#rules);
    const revoked = patch.some(([key]) => key === REVOKED);
    if (changed.length > 0 || revoked) {
      this.#restand(
        this.#items.filter(
          (item) =>
            touched.has(item) ||
            (item.type === 'piece' &&
              (changed.some((rule) => bearsOn(rule, item)) ||
                (revoked && item.sorted.ties.some(({ rule }) => rule)))),
        ),
      );
    } else this.#restand([...touched]);
    this.revision += 1;
  }

  #addFile(file: number, { pieces, books, meetings, told }: FileHeld): void {
    for (const sorted of pieces) {
      const { id } = sorted;
      const label = labelOf(sorted.text);
      this.#items.push({ type: 'piece', id, file, at: 0, sorted, now: sorted, label });
    }
    const key = told.digest.slice(0, 16);
    books.forEach((sorted, number) => {
      const id = `${key}-book-${number + 1}`;
      this.#items.push({ type: 'book', id, file, at: 0, sorted, now: sorted });
    });
    meetings.forEach((now, number) => {
      this.#items.push({ type: 'meeting', id: `${key}-meeting-${number + 1}`, file, at: 0, now });
    });
  }

  /** What all corrections together teach; the pieces each rule bears on are counted by their label and what they stand under. */
  #learnt(): LearntRule[] {
    const corrections: Correction[] = [];
    const corrected: GatherPiece[] = [];
    for (const [id, held] of this.ledger.items()) {
      const item = this.piece(id);
      if (!item || !(held.kind || held.tied)) continue;
      corrected.push(item.sorted);
      corrections.push(correctionOf(id, held));
    }
    if (corrections.length === 0) return [];
    return learn(corrected, corrections, new Set(this.ledger.revoked));
  }

  #restand(items: readonly BenchItem[]): void {
    const pieces: PieceItem[] = [];
    const corrections: Correction[] = [];
    for (const item of items) {
      const held = this.ledger.item(item.id);
      if (item.type === 'book') item.now = bookAs(item.sorted, held);
      if (item.type !== 'piece') continue;
      pieces.push(item);
      if (held?.kind || held?.tied || held?.untied) corrections.push(correctionOf(item.id, held));
    }
    const revoked = new Set(this.ledger.revoked);
    const now = applyRules(
      pieces.map(({ sorted }) => sorted),
      this.#rules,
      corrections,
      revoked,
    );
    pieces.forEach((item, at) => {
      item.now = wordedAs(now[at] ?? item.sorted, this.ledger.item(item.id));
    });
  }
}

function correctionOf(piece: string, { kind, tied, untied }: ItemHeld): Correction {
  return {
    piece,
    ...(kind ? { kind } : {}),
    ...(tied ? { tied } : {}),
    ...(untied ? { untied } : {}),
  };
}

/** Rules that are in one list and not in the other. */
function changedRules(a: readonly LearntRule[], b: readonly LearntRule[]): LearntRule[] {
  const [inA, inB] = [new Set(a.map(({ id }) => id)), new Set(b.map(({ id }) => id))];
  return [...a.filter(({ id }) => !inB.has(id)), ...b.filter(({ id }) => !inA.has(id))];
}

function bearsOn({ sign }: LearntRule, { label, sorted }: PieceItem): boolean {
  if ('begins' in sign) return label === sign.begins;
  if ('under' in sign) return sorted.source.under?.at(-1) === sign.under;
  return sorted.source.path === sign.title;
}

/** A piece in the reader's own wording. */
export function wordedAs(piece: GatherPiece, held: ItemHeld | undefined): GatherPiece {
  const words = held?.words;
  if (!words) return piece;
  const now = { ...piece };
  if (words.text !== undefined) now.text = words.text;
  for (const name of ['title', 'written', 'answer'] as const) {
    const word = words[name];
    if (word === undefined) continue;
    if (word === '') delete now[name];
    else now[name] = word;
  }
  if (words.alt !== undefined && now.picture) now.picture = { ...now.picture, alt: words.alt };
  return now;
}

function bookAs(book: BookGathered, held: ItemHeld | undefined): BookGathered {
  const change = held?.book;
  if (!change) return book;
  const now = { ...book, ...change };
  const { title, authors } = now;
  if (change.title !== undefined || change.authors !== undefined) {
    const { heading: _, ...tie } = book.tie;
    now.tie =
      title === book.title && !book.tie.isNew
        ? book.tie
        : { ...tie, name: title, certainty: 'sure', isNew: true, authors };
  }
  return now;
}
