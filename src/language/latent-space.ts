/**
 * Latent semantics of a body of texts: a truncated singular value decomposition of their weighted stems (Deerwester et al. 1990). Texts that use
 * each other's company of words come near to each other, also where they share none. Nothing is taken from outside: what it knows is what the
 * texts hold.
 */
import { directions, type Rows } from './directions';
import { linesOf } from './lines';
import { Places, type IdList } from './places';

/** How often each stem occurs in a text. */
export type Stems = ReadonlyMap<string, number>;

export interface LatentOptions {
  /** Dimensions kept; fewer where the texts do not have as many. */
  dimensions: number;
  /** Stems in fewer texts than this are left out: one text cannot teach how a word is used. */
  leastTexts: number;
  /** At most so many stems, the commonest first. */
  mostStems: number;
  /**
   * At most so many texts are learnt from, evenly spread; the others are placed by what was learnt. Of 3,700 sections of stories half taught
   * all but a hundredth of what all taught (nDCG@10 .715 and .724).
   */
  mostTexts: number;
  seed: number;
}

export const USUAL_LATENT: LatentOptions = {
  dimensions: 100,
  leastTexts: 3,
  mostStems: 20_000,
  mostTexts: 8_000,
  seed: 1706,
};

/** Texts gone through between two breaths. */
const SLICE = 100;

/** A space as it is stored. */
export interface PackedSpace {
  /** Stems by number, a line each; for each its rarity, and its place of `dimensions` numbers. */
  stems: string;
  idf: Float32Array;
  places: Float32Array;
  dimensions: number;
  /** `dimensions` numbers for each text; see {@link UNIT}. */
  vectors: Int16Array<ArrayBuffer>;
  /** Texts that have no place, by their numbers. */
  nowhere: Int32Array;
}

/** Places of texts are held in whole numbers, this many to 1: half the memory, and no cosine is off by more than .0002. */
const UNIT = 32_767;

export class LatentSpace {
  #numbers: Map<string, number>;
  #idf: Float32Array;
  /** For each stem its place, `dimensions` numbers. */
  #places: Float32Array;
  #slots = new Places();
  #ids: (string | undefined)[] = [];
  #vectors = new Int16Array(0);
  #free: number[] = [];
  readonly dimensions: number;

  private constructor(
    numbers: Map<string, number>,
    idf: Float32Array,
    places: Float32Array,
    dimensions: number,
  ) {
    this.#numbers = numbers;
    this.#idf = idf;
    this.#places = places;
    this.dimensions = dimensions;
  }

  /** The space that was packed, with the texts it was packed with; of those changed since, `put` is to be called. */
  static of(
    { stems, idf, places, dimensions, vectors, nowhere }: PackedSpace,
    texts: IdList,
  ): LatentSpace {
    const numbers = new Map(linesOf(stems).map((stem, at) => [stem, at]));
    const space = new LatentSpace(numbers, idf, places, dimensions);
    space.#vectors = vectors;
    space.#ids = texts.ids.slice();
    space.#slots = new Places(texts.places);
    for (const slot of nowhere) space.remove(texts.ids[slot]!);
    return space;
  }

  /** What was learnt, and where some texts lie by it, in their order. */
  pack(ids: readonly string[]): PackedSpace {
    const { dimensions } = this;
    const vectors = new Int16Array(ids.length * dimensions);
    const nowhere: number[] = [];
    ids.forEach((id, at) => {
      const slot = this.#slots.get(id);
      if (slot === undefined) nowhere.push(at);
      else vectors.set(this.#numbersOf(slot), at * dimensions);
    });
    const stems = [...this.#numbers.keys()].join('\n');
    const { idf, places } = { idf: this.#idf, places: this.#places };
    return { stems, idf, places, dimensions, vectors, nowhere: Int32Array.from(nowhere) };
  }

  /** Texts held. */
  get size(): number {
    return this.#slots.size;
  }

  /**
   * Learns from texts and places them. It yields between slices of some milliseconds, so that a caller may let other work come
   * between. The same texts give the same space, in whatever order they are handed in.
   */
  static *learn(
    texts: Iterable<readonly [id: string, stems: Stems]>,
    options: Partial<LatentOptions> = {},
  ): Generator<void, LatentSpace> {
    const settings = { ...USUAL_LATENT, ...options };
    const sorted = [...texts].sort(([a], [b]) => (a < b ? -1 : 1));
    const { numbers, idf } = yield* vocabulary(sorted, settings);
    yield;
    const learnt = spread(sorted, settings.mostTexts);
    const rows = yield* rowsOf(learnt, numbers, idf);
    yield;
    const dimensions = Math.min(settings.dimensions, numbers.size, learnt.length);
    const places = yield* directions(rows, numbers.size, dimensions, settings.seed);
    const space = new LatentSpace(numbers, idf, places, dimensions);
    let done = 0;
    for (const [id, stems] of sorted) {
      space.put(id, stems);
      if (++done % SLICE === 0) yield;
    }
    return space;
  }

  /** Where a text lies, of length 1; undefined where none of its stems is known. */
  placeOf(stems: Stems): Float32Array | undefined {
    const place = new Float32Array(this.dimensions);
    let known = false;
    for (const [stem, times] of stems) {
      const number = this.#numbers.get(stem);
      if (number === undefined) continue;
      known = true;
      const weight = (1 + Math.log(times)) * this.#idf[number]!;
      const from = number * this.dimensions;
      for (let at = 0; at < this.dimensions; at++) place[at]! += weight * this.#places[from + at]!;
    }
    return known && toUnit(place) ? place : undefined;
  }

  put(id: string, stems: Stems): void {
    this.remove(id);
    const place = this.placeOf(stems);
    if (!place) return;
    const slot = this.#free.pop() ?? this.#ids.length;
    this.#ids[slot] = id;
    this.#slots.set(id, slot);
    const end = (slot + 1) * this.dimensions;
    if (end > this.#vectors.length) {
      const grown = new Int16Array(Math.max(end, Math.ceil(this.#vectors.length * 1.5)));
      grown.set(this.#vectors);
      this.#vectors = grown;
    }
    const from = slot * this.dimensions;
    for (let at = 0; at < place.length; at++)
      this.#vectors[from + at] = Math.round(place[at]! * UNIT);
  }

  remove(id: string): void {
    const slot = this.#slots.get(id);
    if (slot === undefined) return;
    this.#slots.delete(id);
    this.#ids[slot] = undefined;
    this.#free.push(slot);
  }

  #numbersOf(slot: number): Int16Array {
    return this.#vectors.subarray(slot * this.dimensions, (slot + 1) * this.dimensions);
  }

  /** Where a held text lies, of length 1 but for what rounding takes. */
  vectorOf(id: string): Float32Array | undefined {
    const slot = this.#slots.get(id);
    if (slot === undefined) return undefined;
    return Float32Array.from(this.#numbersOf(slot), (value) => value / UNIT);
  }

  /** The cosine of every held text with a place, -1 to 1, to be read by `cosineOf` and `nearest` until the next change. */
  cosines(place: Float32Array): Float32Array {
    const { dimensions } = this;
    const vectors = this.#vectors;
    const found = new Float32Array(this.#ids.length);
    for (let slot = 0; slot < found.length; slot++) {
      let sum = 0;
      const from = slot * dimensions;
      for (let at = 0; at < dimensions; at++) sum += place[at]! * vectors[from + at]!;
      found[slot] = sum / UNIT;
    }
    return found;
  }

  /** 0 for a text that has no place. */
  cosineOf(id: string, cosines: Float32Array): number {
    const slot = this.#slots.get(id);
    return slot === undefined ? 0 : cosines[slot]!;
  }

  /** The texts nearest to a place, nearest first, ties by id. */
  nearest(cosines: Float32Array, most: number): [id: string, cosine: number][] {
    const found: [string, number][] = [];
    let least = -Infinity;
    for (let slot = 0; slot < cosines.length; slot++) {
      const cosine = cosines[slot]!;
      const id = this.#ids[slot];
      if (cosine <= least || id === undefined) continue;
      found.push([id, cosine]);
      if (found.length >= 4 * most) least = cut(found, most);
    }
    cut(found, most);
    return found;
  }
}

/** Sorts and keeps the first; answers the least score kept. */
function cut(found: [string, number][], most: number): number {
  found.sort(([a, left], [b, right]) => right - left || (a < b ? -1 : 1));
  found.length = Math.min(found.length, most);
  return found.length < most ? -Infinity : found.at(-1)![1];
}

function spread<Item>(list: readonly Item[], most: number): readonly Item[] {
  if (list.length <= most) return list;
  return Array.from({ length: most }, (_, at) => list[Math.floor((at * list.length) / most)]!);
}

function* vocabulary(
  texts: readonly (readonly [string, Stems])[],
  { leastTexts, mostStems }: LatentOptions,
): Generator<void, { numbers: Map<string, number>; idf: Float32Array }> {
  const counts = new Map<string, number>();
  for (const [row, [, stems]] of texts.entries()) {
    for (const stem of stems.keys()) counts.set(stem, (counts.get(stem) ?? 0) + 1);
    if (row % SLICE === SLICE - 1) yield;
  }
  const kept = [...counts]
    .filter(([, count]) => count >= leastTexts)
    .sort(([a, left], [b, right]) => right - left || (a < b ? -1 : 1))
    .slice(0, mostStems);
  const idf = Float32Array.from(kept, ([, count]) => Math.log(texts.length / count));
  return { numbers: new Map(kept.map(([stem], at) => [stem, at])), idf };
}

function* rowsOf(
  texts: readonly (readonly [string, Stems])[],
  numbers: ReadonlyMap<string, number>,
  idf: Float32Array,
): Generator<void, Rows> {
  const starts = new Int32Array(texts.length + 1);
  const stems: number[] = [];
  const weights: number[] = [];
  for (const [row, [, held]] of texts.entries()) {
    let squares = 0;
    const from = stems.length;
    const known = [...held].flatMap(([stem, times]): [number, number][] => {
      const number = numbers.get(stem);
      return number === undefined ? [] : [[number, times]];
    });
    // In one order, so that sums come out the same to the last bit.
    for (const [number, times] of known.sort(([a], [b]) => a - b)) {
      const weight = (1 + Math.log(times)) * idf[number]!;
      stems.push(number);
      weights.push(weight);
      squares += weight * weight;
    }
    const length = Math.sqrt(squares) || 1;
    for (let at = from; at < weights.length; at++) weights[at]! /= length;
    starts[row + 1] = stems.length;
    if (row % SLICE === SLICE - 1) yield;
  }
  return { starts, stems: Int32Array.from(stems), weights: Float32Array.from(weights) };
}

function toUnit(vector: Float32Array): boolean {
  let squares = 0;
  for (const value of vector) squares += value * value;
  if (squares === 0) return false;
  const length = Math.sqrt(squares);
  for (let at = 0; at < vector.length; at++) vector[at]! /= length;
  return true;
}
