import type { EntryId } from '../journal/records';
import { IntList, plainList } from '../language/int-list';
import { linesOf } from '../language/lines';
import { withRoom } from '../language/room';
import { NumberReader, PackedNumbers } from '../language/packed-numbers';
import { Places, type MetIds } from '../language/places';
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

/** A word table as it is stored; see {@link PackedNumbers}. */
export interface PackedWords {
  /** By number, a line each; and how many entries each has. */
  stems: string;
  counts: Int32Array<ArrayBuffer>;
  /** Each entry's stems with their times in it; the byte where each begins. */
  runs: Uint8Array<ArrayBuffer>;
  runsAt: Int32Array<ArrayBuffer>;
  norms: Float32Array<ArrayBuffer>;
  /** Each stem's entries, by how far each is from the last one, with the times; and likewise. */
  postings: Uint8Array<ArrayBuffer>;
  postingsAt: Int32Array<ArrayBuffer>;
}

/** A number with the times something occurs: mostly once. */
function pushTimes(into: PackedNumbers, number: number, times: number): void {
  into.push(number * 2 + (times === 1 ? 0 : 1));
  if (times !== 1) into.push(times);
}

function eachTimes(
  reader: NumberReader,
  end: number,
  found: (number: number, times: number) => void,
) {
  while (reader.at < end) {
    const held = reader.next();
    found(held >> 1, held % 2 === 0 ? 1 : reader.next());
  }
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
  #norms = new Float32Array(64);
  /** Each entry's stems with their times, from the byte where it begins. */
  #starts = new IntList();
  #runs = new PackedNumbers();
  /** What a folded word comes to, so that each is stemmed once. */
  #known = new Map<string, number>();

  /** The table that was packed, over those of its entries that were met again; what is handed in is the table's own from here on. */
  static of(packed: PackedWords, { ids, places }: MetIds): WordTable {
    const table = new WordTable();
    table.#packed = packed;
    table.#stems = linesOf(packed.stems);
    table.#stems.forEach((stem, number) => {
      table.#ids.set(stem, number);
      table.#postings.push(undefined);
    });
    table.#counts = plainList(packed.counts);
    table.#entries = ids as (EntryId | undefined)[];
    table.#slots = new Places(places);
    table.#norms = packed.norms;
    table.#starts = new IntList(packed.runsAt, ids.length);
    table.#runs = PackedNumbers.of(packed.runs);
    if (places.thinned)
      ids.forEach((id, slot) => {
        if (id === undefined) table.#uncount(slot);
      });
    return table;
  }

  /** The table with the entries that stand, in the order of `ids`, which are all of them. */
  pack(ids: readonly EntryId[]): PackedWords {
    // The commonest stems get the smallest numbers, which take the fewest bytes.
    const stems = [...this.#stems.keys()]
      .filter((number) => this.#counts[number]! > 0)
      .sort((a, b) => this.#counts[b]! - this.#counts[a]! || a - b);
    const numbers = new Map(stems.map((stem, number) => [stem, number]));
    const runsAt = new Int32Array(ids.length);
    const runs = new PackedNumbers();
    const held = stems.map(() => ({ numbers: new PackedNumbers(), last: -1 }));
    ids.forEach((id, at) => {
      runsAt[at] = runs.length;
      this.#eachIn(this.#slots.get(id)!, (stem, times) => {
        const number = numbers.get(stem)!;
        pushTimes(runs, number, times);
        const own = held[number]!;
        pushTimes(own.numbers, at - own.last, times);
        own.last = at;
      });
    });
    const postingsAt = new Int32Array(held.length + 1);
    held.forEach(({ numbers: { length } }, number) => {
      postingsAt[number + 1] = postingsAt[number]! + length;
    });
    const postings = new Uint8Array(postingsAt.at(-1)!);
    held.forEach((own, number) => postings.set(own.numbers.taken(), postingsAt[number]));
    return {
      stems: stems.map((stem) => this.#stems[stem]).join('\n'),
      counts: Int32Array.from(stems, (stem) => this.#counts[stem]!),
      runs: runs.taken(),
      runsAt,
      norms: Float32Array.from(ids, (id) => this.#norms[this.#slots.get(id)!]!),
      postings,
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
    this.#uncount(slot);
    if (this.#entries.length > 1.5 * this.#slots.size + 1000) this.#clear();
  }

  #uncount(slot: number): void {
    this.#eachIn(slot, (number) => void (this.#counts[number]! -= 1));
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
    const unpacked = new IntList();
    let slot = -1;
    const reader = new NumberReader(postings, postingsAt[number]);
    eachTimes(reader, postingsAt[number + 1]!, (step, times) => {
      slot += step;
      unpacked.push(slot * TIMES + times);
    });
    return (this.#postings[number] = unpacked);
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
      pushTimes(this.#runs, number, held);
      weights.push(held);
    }
    for (const held of weights.sort((a, b) => a - b)) squares += LOG_TIMES[held]! ** 2;
    this.#norms = withRoom(this.#norms, slot + 1);
    this.#norms[slot] = Math.sqrt(squares) || 1;
  }

  #eachIn(slot: number, found: (number: number, times: number) => void): void {
    const end = slot + 1 < this.#starts.length ? this.#starts.at(slot + 1) : this.#runs.length;
    eachTimes(this.#runs.from(this.#starts.at(slot)), end, found);
  }

  /** Lays the standing entries out anew, without gaps. */
  #clear(): void {
    const rows = this.#entries.flatMap((id, slot): [EntryId, Map<number, number>][] => {
      if (id === undefined) return [];
      const found = new Map<number, number>();
      this.#eachIn(slot, (number, times) => found.set(number, times));
      return [[id, found]];
    });
    this.#slots = new Places();
    this.#entries = [];
    this.#norms = new Float32Array(64);
    this.#starts = new IntList();
    this.#runs = new PackedNumbers();
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
