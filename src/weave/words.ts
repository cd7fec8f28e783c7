import type { EntryId } from '../journal/records';
import { IntList } from '../language/int-list';
import { linesOf } from '../language/lines';
import { Places, type IdList } from '../language/places';
import { stem } from '../language/stem';
import { STOP_WORDS, tokens } from '../language/tokens';
import { highest } from './ranking';

/** Times a stem occurs in one entry are counted up to this. */
const MOST_TIMES = 15;
const TIMES = MOST_TIMES + 1;

/** The stem of a folded word, or undefined for a word that says little of what a text is about. */
export function tellingStem(folded: string): string | undefined {
  if (folded.length < 2 || STOP_WORDS.has(folded) || /^\d{1,2}$/.test(folded)) return undefined;
  const found = stem(folded);
  return found === '' ? undefined : found;
}

/** How often each stem occurs in a text. */
export function stemsOf(text: string): Map<string, number> {
  const found = new Map<string, number>();
  for (const { folded } of tokens(text)) {
    const word = tellingStem(folded);
    if (word !== undefined) found.set(word, (found.get(word) ?? 0) + 1);
  }
  return found;
}

/** A word table as it is stored. */
export interface PackedWords {
  /** By number, a line each. */
  stems: string;
  /** Each entry's stems (number times 16, plus the times in it); where each begins, and where the last ends. */
  runs: Int32Array<ArrayBuffer>;
  runsAt: Int32Array<ArrayBuffer>;
  norms: Float64Array<ArrayBuffer>;
  /** Each stem's entries (place times 16, plus the times in it), and likewise. */
  postings: Int32Array<ArrayBuffer>;
  postingsAt: Int32Array<ArrayBuffer>;
}

/**
 * The stems of every entry, both ways, and likeness by tf-idf. The scheme is lnc.ltc of the SMART notation (Manning, Raghavan &
 * Schütze 2008, section 6.4.3): an entry's weights are 1 + ln tf, cosine-normalised, without idf, so that they stay true when others
 * come and go; idf comes in with the question.
 *
 * An entry that changes takes a new slot and its old one is passed over, until such slots outnumber half of the rest.
 */
export class WordTable {
  #ids = new Map<string, number>();
  /** Slots (times 16, plus the times in that entry) by stem; see {@link WordTable.#postingsOf}. */
  #postings: (IntList | undefined)[] = [];
  /** Where those of a stem that nobody has asked about yet are read from. */
  #packed: PackedWords | undefined;
  #counts: number[] = [];
  #stems: string[] = [];
  #slots = new Places<EntryId>();
  #entries: (EntryId | undefined)[] = [];
  #norms: number[] = [];
  #starts: number[] = [];
  #runs = new IntList();
  /** What a folded word comes to, so that each is stemmed once. */
  #known = new Map<string, number>();

  /** The table that was packed, over the entries it was packed with. */
  static of(packed: PackedWords, { ids, places }: IdList): WordTable {
    const table = new WordTable();
    const { postingsAt } = packed;
    table.#packed = packed;
    table.#stems = linesOf(packed.stems);
    table.#stems.forEach((stem, number) => {
      table.#ids.set(stem, number);
      table.#postings.push(undefined);
      table.#counts.push(postingsAt[number + 1]! - postingsAt[number]!);
    });
    table.#entries = ids.slice() as EntryId[];
    table.#slots = new Places(places);
    table.#norms = Array.from(packed.norms);
    table.#starts = Array.from(packed.runsAt.subarray(0, ids.length));
    table.#runs = IntList.of(packed.runs);
    return table;
  }

  /** The table with the entries that stand, in the order of `ids`, which are all of them. */
  pack(ids: readonly EntryId[]): PackedWords {
    const runsAt = new Int32Array(ids.length + 1);
    const runs = new IntList();
    const postings = this.#stems.map(() => new IntList());
    ids.forEach((id, at) => {
      this.#eachIn(this.#slots.get(id)!, (number, times) => {
        runs.push(number * TIMES + times);
        postings[number]!.push(at * TIMES + times);
      });
      runsAt[at + 1] = runs.length;
    });
    const postingsAt = new Int32Array(postings.length + 1);
    postings.forEach(({ length }, number) => {
      postingsAt[number + 1] = postingsAt[number]! + length;
    });
    const flat = new Int32Array(runs.length);
    postings.forEach((held, number) => flat.set(held.taken(), postingsAt[number]));
    return {
      stems: this.#stems.join('\n'),
      runs: runs.taken(),
      runsAt,
      norms: Float64Array.from(ids, (id) => this.#norms[this.#slots.get(id)!]!),
      postings: flat,
      postingsAt,
    };
  }

  /** Entries held. */
  get size(): number {
    return this.#slots.size;
  }

  put(id: EntryId, text: string): void {
    this.remove(id);
    const found = new Map<number, number>();
    for (const { folded } of tokens(text)) {
      let number = this.#known.get(folded);
      if (number === undefined) {
        const word = tellingStem(folded);
        number = word === undefined ? -1 : this.#number(word);
        this.#known.set(folded, number);
      }
      if (number >= 0) found.set(number, (found.get(number) ?? 0) + 1);
    }
    this.#enter(id, found);
  }

  remove(id: EntryId): void {
    const slot = this.#slots.get(id);
    if (slot === undefined) return;
    this.#slots.delete(id);
    this.#entries[slot] = undefined;
    this.#eachIn(slot, (number) => void (this.#counts[number]! -= 1));
    if (this.#entries.length > 1.5 * this.#slots.size + 1000) this.#clear();
  }

  holds(id: EntryId): boolean {
    return this.#slots.has(id);
  }

  has(id: EntryId, word: string): boolean {
    const [slot, wanted] = [this.#slots.get(id), this.#ids.get(word)];
    let found = false;
    if (slot !== undefined && wanted !== undefined) {
      this.#eachIn(slot, (number) => void (found ||= number === wanted));
    }
    return found;
  }

  /** Stems that have been met, those of entries since gone among them; each has a number below this. */
  get stems(): number {
    return this.#stems.length;
  }

  stemAt(number: number): string {
    return this.#stems[number]!;
  }

  /** The numbers of an entry's stems, each once. */
  eachStem(id: EntryId, found: (number: number) => void): void {
    const slot = this.#slots.get(id);
    if (slot !== undefined) this.#eachIn(slot, found);
  }

  /** Which of some stems an entry has, in no order. */
  shared(id: EntryId, words: ReadonlyMap<string, unknown>): string[] {
    const found: string[] = [];
    const slot = this.#slots.get(id);
    if (slot !== undefined)
      this.#eachIn(slot, (number) => {
        const word = this.#stems[number]!;
        if (words.has(word)) found.push(word);
      });
    return found;
  }

  /** Entries that have a stem. */
  entriesWith(word: string): EntryId[] {
    const number = this.#ids.get(word);
    if (number === undefined) return [];
    const found: EntryId[] = [];
    const { values, length } = this.#postingsOf(number);
    for (let at = 0; at < length; at++) {
      const id = this.#entries[Math.floor(values[at]! / TIMES)];
      if (id !== undefined) found.push(id);
    }
    return found;
  }

  /** How many entries have a stem. */
  count(word: string): number {
    return this.#counts[this.#ids.get(word) ?? -1] ?? 0;
  }

  /** ln(N / df); 0 for a stem no entry has. */
  idf(word: string): number {
    const count = this.count(word);
    return count === 0 ? 0 : Math.log(this.size / count);
  }

  /** How often an entry has each of its stems. */
  stemsIn(id: EntryId): Map<string, number> {
    const slot = this.#slots.get(id);
    const found = new Map<string, number>();
    if (slot !== undefined)
      this.#eachIn(slot, (number, times) => found.set(this.#stems[number]!, times));
    return found;
  }

  /** An entry's weights by stem, of length 1, without idf. */
  vectorOf(id: EntryId): Map<string, number> {
    const norm = this.#norms[this.#slots.get(id) ?? -1] ?? 1;
    const found = this.stemsIn(id);
    for (const [word, times] of found) found.set(word, (1 + Math.log(times)) / norm);
    return found;
  }

  /** A question of these words: (1 + ln tf) × idf, of length 1. Stems no entry has, or every entry, are left out. */
  question(stems: ReadonlyMap<string, number>): Map<string, number> {
    const weighted = new Map<string, number>();
    for (const [word, times] of stems) {
      const idf = this.idf(word);
      if (idf > 0) weighted.set(word, (1 + Math.log(Math.max(times, 1))) * idf);
    }
    return unit(weighted);
  }

  /** The entries most like a question, about `most` of them with how like, 0 to 1, in no order. */
  mostLike(question: ReadonlyMap<string, number>, most: number): [EntryId, number][] {
    return highest(this.#sums(question), most, (slot) => this.#entries[slot]);
  }

  #sums(question: ReadonlyMap<string, number>): Float64Array {
    const sums = new Float64Array(this.#entries.length);
    // In order of words, so that a sum does not depend on the order things were put in.
    for (const [word, weight] of [...question].sort(([a], [b]) => (a < b ? -1 : 1))) {
      const number = this.#ids.get(word);
      if (number === undefined) continue;
      const { values, length } = this.#postingsOf(number);
      for (let at = 0; at < length; at++) {
        const posting = values[at]!;
        const slot = Math.floor(posting / TIMES);
        if (this.#entries[slot] === undefined) continue;
        sums[slot]! += (weight * LOG_TIMES[posting % TIMES]!) / this.#norms[slot]!;
      }
    }
    return sums;
  }

  #postingsOf(number: number): IntList {
    const held = this.#postings[number];
    if (held) return held;
    const { postings, postingsAt } = this.#packed!;
    return (this.#postings[number] = IntList.of(
      postings.subarray(postingsAt[number], postingsAt[number + 1]),
    ));
  }

  #number(word: string): number {
    let number = this.#ids.get(word);
    if (number === undefined) {
      number = this.#stems.push(word) - 1;
      this.#ids.set(word, number);
      this.#postings.push(new IntList());
      this.#counts.push(0);
    }
    return number;
  }

  #enter(id: EntryId, found: ReadonlyMap<number, number>): void {
    const slot = this.#entries.push(id) - 1;
    this.#slots.set(id, slot);
    this.#starts.push(this.#runs.length);
    let squares = 0;
    // In order of words: the norm must come out the same to the last bit whatever order the stems were first met in.
    const weights: number[] = [];
    for (const [number, times] of found) {
      const held = Math.min(times, MOST_TIMES);
      this.#postingsOf(number).push(slot * TIMES + held);
      this.#counts[number]! += 1;
      this.#runs.push(number * TIMES + held);
      weights.push(held);
    }
    for (const held of weights.sort((a, b) => a - b)) squares += LOG_TIMES[held]! ** 2;
    this.#norms.push(Math.sqrt(squares) || 1);
  }

  #eachIn(slot: number, found: (number: number, times: number) => void): void {
    const end = this.#starts[slot + 1] ?? this.#runs.length;
    for (let at = this.#starts[slot]!; at < end; at++) {
      const run = this.#runs.at(at);
      found(Math.floor(run / TIMES), run % TIMES);
    }
  }

  /** Lays the standing entries out anew, without gaps. */
  #clear(): void {
    const rows = [...this.#slots].map(([id, slot]): [EntryId, Map<number, number>] => {
      const found = new Map<number, number>();
      this.#eachIn(slot, (number, times) => found.set(number, times));
      return [id, found];
    });
    this.#slots = new Places();
    this.#entries = [];
    this.#norms = [];
    this.#starts = [];
    this.#runs = new IntList();
    this.#packed = undefined;
    this.#postings = this.#stems.map(() => new IntList());
    this.#counts = this.#stems.map(() => 0);
    for (const [id, found] of rows) this.#enter(id, found);
  }
}

const LOG_TIMES = Array.from({ length: TIMES }, (_, times) =>
  times === 0 ? 0 : 1 + Math.log(times),
);

/** The same weights with length 1. */
export function unit(weights: Map<string, number>): Map<string, number> {
  let squares = 0;
  for (const weight of [...weights.values()].sort((a, b) => a - b)) squares += weight * weight;
  const length = Math.sqrt(squares) || 1;
  for (const [word, weight] of weights) weights.set(word, weight / length);
  return weights;
}
