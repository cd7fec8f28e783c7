/**
 * Latent semantics of a body of texts: a truncated singular value decomposition of their weighted stems (Deerwester et al. 1990), found by
 * subspace iteration from a seeded start (Halko, Martinsson & Tropp 2011, algorithm 4.4). Texts that use each other's company of words
 * come near to each other, also where they share none. Nothing is taken from outside: what it knows is what the texts hold.
 */
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

/** More directions than are kept make the kept ones truer. */
const SPARE = 12;
const ROUNDS = 3;
/** Texts gone through between two breaths. */
const SLICE = 100;
/** Rows of a block gone through between two breaths. */
const ROWS_SLICE = 250;

/** Texts as rows of stem numbers and weights, one after another. */
interface Rows {
  starts: Int32Array;
  stems: Int32Array;
  weights: Float32Array;
}

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

/** The leading right singular vectors, stem by stem: places of `dimensions` numbers. */
function* directions(
  rows: Rows,
  stems: number,
  dimensions: number,
  seed: number,
): Generator<void, Float32Array> {
  const width = Math.min(dimensions + SPARE, stems);
  let basis = new Float32Array(stems * width);
  let state = seed >>> 0;
  for (let at = 0; at < basis.length; at++) {
    // Lehmer's generator in its 32-bit form; any seeded start does, the rounds turn it.
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    basis[at] = state / 2 ** 31 - 1;
  }
  yield* orthonormal(basis, stems, width);
  for (let round = 0; round < ROUNDS; round++) {
    basis = yield* through(rows, basis, stems, width);
    yield* orthonormal(basis, stems, width);
  }
  // Inside the found span, the directions by how much of the texts they carry.
  const image = yield* through(rows, basis, stems, width);
  const small = new Float64Array(width * width);
  for (let stem = 0; stem < stems; stem++) {
    const from = stem * width;
    for (let a = 0; a < width; a++) {
      const left = basis[from + a]!;
      if (left === 0) continue;
      for (let b = 0; b < width; b++) small[a * width + b]! += left * image[from + b]!;
    }
    if (stem % ROWS_SLICE === ROWS_SLICE - 1) yield;
  }
  yield;
  const { values, vectors } = yield* eigen(small, width);
  const order = [...values.keys()].sort((a, b) => values[b]! - values[a]! || a - b);
  const places = new Float32Array(stems * dimensions);
  for (let stem = 0; stem < stems; stem++) {
    for (let at = 0; at < dimensions; at++) {
      const column = order[at]!;
      let sum = 0;
      for (let a = 0; a < width; a++)
        sum += basis[stem * width + a]! * vectors[a * width + column]!;
      places[stem * dimensions + at] = sum;
    }
    if (stem % ROWS_SLICE === ROWS_SLICE - 1) yield;
  }
  return places;
}

/** AᵀA times a block, text by text. */
function* through(
  { starts, stems, weights }: Rows,
  basis: Float32Array,
  size: number,
  width: number,
): Generator<void, Float32Array<ArrayBuffer>> {
  const out = new Float32Array(size * width);
  const middle = new Float64Array(width);
  for (let row = 0; row + 1 < starts.length; row++) {
    middle.fill(0);
    for (let at = starts[row]!; at < starts[row + 1]!; at++) {
      const from = stems[at]! * width;
      const weight = weights[at]!;
      for (let a = 0; a < width; a++) middle[a]! += weight * basis[from + a]!;
    }
    for (let at = starts[row]!; at < starts[row + 1]!; at++) {
      const from = stems[at]! * width;
      const weight = weights[at]!;
      for (let a = 0; a < width; a++) out[from + a]! += weight * middle[a]!;
    }
    if (row % SLICE === SLICE - 1) yield;
  }
  return out;
}

/** Makes the columns of a block orthonormal in place, through the Cholesky factor of its Gram matrix, twice for accuracy. */
function* orthonormal(block: Float32Array, size: number, width: number): Generator<void, void> {
  for (let pass = 0; pass < 2; pass++) {
    const gram = new Float64Array(width * width);
    for (let row = 0; row < size; row++) {
      const from = row * width;
      for (let a = 0; a < width; a++) {
        const left = block[from + a]!;
        for (let b = 0; b <= a; b++) gram[a * width + b]! += left * block[from + b]!;
      }
      if (row % ROWS_SLICE === ROWS_SLICE - 1) yield;
    }
    const lower = cholesky(gram, width);
    for (let row = 0; row < size; row++) {
      const from = row * width;
      for (let a = 0; a < width; a++) {
        let sum = block[from + a]!;
        for (let b = 0; b < a; b++) sum -= lower[a * width + b]! * block[from + b]!;
        block[from + a] = lower[a * width + a]! > 0 ? sum / lower[a * width + a]! : 0;
      }
      if (row % ROWS_SLICE === ROWS_SLICE - 1) yield;
    }
  }
}

/** The lower factor; a direction that hangs on the others gets 0 on the diagonal. */
function cholesky(gram: Float64Array, width: number): Float64Array {
  const lower = new Float64Array(width * width);
  for (let a = 0; a < width; a++) {
    for (let b = 0; b <= a; b++) {
      let sum = gram[a * width + b]!;
      for (let c = 0; c < b; c++) sum -= lower[a * width + c]! * lower[b * width + c]!;
      if (a !== b)
        lower[a * width + b] = lower[b * width + b]! > 0 ? sum / lower[b * width + b]! : 0;
      else lower[a * width + a] = sum > 1e-10 * gram[a * width + a]! ? Math.sqrt(sum) : 0;
    }
  }
  return lower;
}

/** Eigenvalues and vectors of a symmetric matrix by Jacobi's rotations (Golub & Van Loan, section 8.5). */
function* eigen(
  matrix: Float64Array,
  size: number,
): Generator<void, { values: Float64Array; vectors: Float64Array }> {
  const held = matrix.slice();
  for (let a = 0; a < size; a++)
    for (let b = 0; b < a; b++)
      held[a * size + b] = held[b * size + a] = (matrix[a * size + b]! + matrix[b * size + a]!) / 2;
  const vectors = new Float64Array(size * size);
  for (let at = 0; at < size; at++) vectors[at * size + at] = 1;
  for (let sweep = 0; sweep < 30; sweep++) {
    let off = 0;
    let all = 0;
    for (let a = 0; a < size; a++)
      for (let b = 0; b < size; b++) {
        const square = held[a * size + b]! ** 2;
        all += square;
        if (a !== b) off += square;
      }
    if (off <= 1e-18 * all) break;
    yield;
    for (let p = 0; p < size; p++)
      for (let q = p + 1; q < size; q++) rotate(held, vectors, size, p, q);
  }
  return { values: Float64Array.from({ length: size }, (_, at) => held[at * size + at]!), vectors };
}

function rotate(
  held: Float64Array,
  vectors: Float64Array,
  size: number,
  p: number,
  q: number,
): void {
  const off = held[p * size + q]!;
  if (off === 0) return;
  const theta = (held[q * size + q]! - held[p * size + p]!) / (2 * off);
  const t = Math.sign(theta || 1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
  const cos = 1 / Math.sqrt(t * t + 1);
  const sin = t * cos;
  for (let at = 0; at < size; at++) {
    const left = held[at * size + p]!;
    const right = held[at * size + q]!;
    held[at * size + p] = cos * left - sin * right;
    held[at * size + q] = sin * left + cos * right;
  }
  for (let at = 0; at < size; at++) {
    const left = held[p * size + at]!;
    const right = held[q * size + at]!;
    held[p * size + at] = cos * left - sin * right;
    held[q * size + at] = sin * left + cos * right;
  }
  for (let at = 0; at < size; at++) {
    const left = vectors[at * size + p]!;
    const right = vectors[at * size + q]!;
    vectors[at * size + p] = cos * left - sin * right;
    vectors[at * size + q] = sin * left + cos * right;
  }
}

function toUnit(vector: Float32Array): boolean {
  let squares = 0;
  for (const value of vector) squares += value * value;
  if (squares === 0) return false;
  const length = Math.sqrt(squares);
  for (let at = 0; at < vector.length; at++) vector[at]! /= length;
  return true;
}
