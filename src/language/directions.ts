/**
 * The directions that carry most of a body of texts: a truncated singular value decomposition, found by subspace iteration from a seeded start
 * (Halko, Martinsson & Tropp 2011, algorithm 4.4).
 */

/** Texts as rows of stem numbers and weights, one after another. */
export interface Rows {
  starts: Int32Array;
  stems: Int32Array;
  weights: Float32Array;
}

/** More directions than are kept make the kept ones truer. */
const SPARE = 12;
const ROUNDS = 3;
/** Texts gone through between two breaths. */
const SLICE = 100;
/** Rows of a block gone through between two breaths. */
const ROWS_SLICE = 250;

/** The leading right singular vectors, stem by stem: places of `dimensions` numbers. */
export function* directions(
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
