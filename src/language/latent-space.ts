/**
 * Latent semantics of a body of texts: a truncated singular value decomposition of their weighted stems (Deerwester et al. 1990). Texts that use
 * each other's company of words come near to each other, also where they share none. Nothing is taken from outside: what it knows is what the
 * texts hold.
 */
import { directions, type Rows } from './directions';
import { linesOf } from './lines';
import { Places, type MetIds } from './places';
import { RoundedRows, type PackedRows } from './rounded-rows';

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
  places: PackedRows;
  dimensions: number;
  /** `dimensions` numbers for each text. */
  vectors: PackedRows;
  /** Texts that have no place, by their numbers. */
  nowhere: Int32Array;
}

export class LatentSpace {
  #numbers: Map<string, number>;
  #idf: Float32Array;
  /** For each stem its place, `dimensions` numbers. */
  #places: RoundedRows;
  #slots = new Places();
  #ids: (string | undefined)[] = [];
  #vectors: RoundedRows;
  #free: number[] = [];
  readonly dimensions: number;

  private constructor(
    numbers: Map<string, number>,
    idf: Float32Array,
    places: RoundedRows,
    vectors = new RoundedRows(places.width),
  ) {
    this.#numbers = numbers;
    this.#idf = idf;
    this.#places = places;
    this.#vectors = vectors;
    this.dimensions = places.width;
  }

  /** The space that was packed, with those of its texts that were met again; of those changed since, `put` is to be called. */
  static of(
    { stems, idf, places, dimensions, vectors, nowhere }: PackedSpace,
    texts: MetIds,
  ): LatentSpace {
    const numbers = new Map(linesOf(stems).map((stem, at) => [stem, at]));
    const space = new LatentSpace(
      numbers,
      idf,
      RoundedRows.of(dimensions, places),
      RoundedRows.of(dimensions, vectors),
    );
    space.#ids = texts.ids.slice();
    space.#slots = new Places(texts.places);
    if (texts.places.thinned) texts.ids.forEach((id, slot) => void (id ?? space.#free.push(slot)));
    for (const slot of nowhere) {
      const id = texts.ids[slot];
      if (id !== undefined) space.remove(id);
    }
    return space;
  }

  /** What was learnt, and where some texts lie by it, in their order. */
  pack(ids: readonly string[]): PackedSpace {
    const slots = ids.map((id) => this.#slots.get(id) ?? -1);
    const nowhere = [...slots.keys()].filter((at) => slots[at]! < 0);
    return {
      stems: [...this.#numbers.keys()].join('\n'),
      idf: this.#idf,
      places: this.#places.pack([...this.#numbers.values()]),
      dimensions: this.dimensions,
      vectors: this.#vectors.pack(slots),
      nowhere: Int32Array.from(nowhere),
    };
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
    const found = yield* directions(rows, numbers.size, dimensions, settings.seed);
    const places = new RoundedRows(dimensions);
    for (let stem = numbers.size - 1; stem >= 0; stem--)
      places.put(stem, found.subarray(stem * dimensions, (stem + 1) * dimensions));
    const space = new LatentSpace(numbers, idf, places);
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
      this.#places.addTo(place, number, weight);
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
    this.#vectors.put(slot, place);
  }

  remove(id: string): void {
    const slot = this.#slots.get(id);
    if (slot === undefined) return;
    this.#slots.delete(id);
    this.#ids[slot] = undefined;
    this.#free.push(slot);
  }

  /** Where a held text lies, of length 1 but for what rounding takes. */
  vectorOf(id: string): Float32Array | undefined {
    const slot = this.#slots.get(id);
    return slot === undefined ? undefined : this.#vectors.row(slot);
  }

  /** The cosine of every held text with a place, -1 to 1, to be read by `cosineOf` and `nearest` until the next change. */
  cosines(place: Float32Array): Float32Array {
    return this.#vectors.products(place, this.#ids.length);
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
