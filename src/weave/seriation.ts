import type { Crossings } from './cloth-table';
import { knotSize } from './cloth-table';

/** Up to this many things are ordered by clustering and best leaf order, more by their place along the main trend. */
const MOST_CLUSTERED = 240;

/** How unlike two things are, 0 or more: a full symmetric matrix by rows, `size` × `size`. */
export interface Unlike {
  size: number;
  at: Float64Array;
}

/** What is laid end to end costs the sum of how unlike neighbours are; the less the better. */
export function lengthOf({ size, at }: Unlike, order: readonly number[]): number {
  let sum = 0;
  for (let place = 1; place < order.length; place++) {
    sum += at[order[place - 1]! * size + order[place]!]!;
  }
  return sum;
}

interface Branch {
  /** Leaves under it. */
  leaves: number[];
  left?: Branch;
  right?: Branch;
}

/** Up to this many things the shortest order of all is found. */
const MOST_EXACT = 12;

/**
 * An order in which like things lie side by side, so that its length is least: for a few things exactly, for more by way of a tree
 * ({@link orderByTree}). The same matrix gives the same order, begun from the end whose thing has the lower number.
 */
export function seriate(unlike: Unlike): number[] {
  const { size } = unlike;
  if (size < 3) return Array.from({ length: size }, (_, at) => at);
  const order = size <= MOST_EXACT ? shortestOrder(unlike) : orderByTree(unlike);
  return order[0]! < order[size - 1]! ? order : order.reverse();
}

/**
 * Average-linkage clustering, then of all the orders its tree allows the one of least length (optimal leaf ordering, Bar-Joseph, Gifford &
 * Jaakkola 2001), then what can still be gained by turning round a stretch or moving one thing.
 */
export function orderByTree(unlike: Unlike): number[] {
  return improved(unlike, bestLeafOrder(unlike, clustered(unlike)));
}

/** The order of least length, by the lengths of the best ways through every set of things (Held & Karp 1962). */
function shortestOrder({ size, at }: Unlike): number[] {
  const sets = 1 << size;
  const length = new Float64Array(sets * size).fill(Infinity);
  const cameFrom = new Int8Array(sets * size).fill(-1);
  for (let one = 0; one < size; one++) length[(1 << one) * size + one] = 0;
  for (let set = 1; set < sets; set++) {
    for (let last = 0; last < size; last++) {
      const sofar = length[set * size + last]!;
      if (sofar === Infinity) continue;
      for (let next = 0; next < size; next++) {
        if (set & (1 << next)) continue;
        const there = (set | (1 << next)) * size + next;
        const sum = sofar + at[last * size + next]!;
        if (sum >= length[there]!) continue;
        length[there] = sum;
        cameFrom[there] = last;
      }
    }
  }
  let set = sets - 1;
  let last = 0;
  for (let one = 1; one < size; one++) {
    if (length[set * size + one]! < length[set * size + last]!) last = one;
  }
  const order: number[] = [];
  while (last >= 0) {
    order.push(last);
    const before = cameFrom[set * size + last]!;
    set &= ~(1 << last);
    last = before;
  }
  return order;
}

/** The tree of average-linkage clustering (nearest-neighbour chain; Murtagh 1983). Ties go to the lower number. */
export function clustered({ size, at }: Unlike): Branch {
  const apart = at.slice();
  const branches: (Branch | undefined)[] = Array.from({ length: size }, (_, leaf) => ({
    leaves: [leaf],
  }));
  const chain: number[] = [];
  for (let left = size; left > 1; left--) {
    if (chain.length === 0) chain.push(branches.findIndex((branch) => branch !== undefined));
    for (;;) {
      const here = chain[chain.length - 1]!;
      const before = chain[chain.length - 2];
      let [best, least] = [
        before ?? -1,
        before === undefined ? Infinity : apart[here * size + before]!,
      ];
      for (let other = 0; other < size; other++) {
        if (other === here || !branches[other]) continue;
        if (apart[here * size + other]! < least)
          [best, least] = [other, apart[here * size + other]!];
      }
      if (best === before) break;
      chain.push(best);
    }
    const [a, b] = [chain.pop()!, chain.pop()!].sort((x, y) => x - y) as [number, number];
    const [one, two] = [branches[a]!, branches[b]!];
    const [m, n] = [one.leaves.length, two.leaves.length];
    branches[a] = { leaves: [...one.leaves, ...two.leaves], left: one, right: two };
    branches[b] = undefined;
    for (let other = 0; other < size; other++) {
      if (!branches[other] || other === a) continue;
      const mean = (m * apart[a * size + other]! + n * apart[b * size + other]!) / (m + n);
      apart[a * size + other] = mean;
      apart[other * size + a] = mean;
    }
  }
  return branches.find((branch) => branch !== undefined)!;
}

/**
 * Of the orders that turning round branches of a tree allows, the one of least length. For every branch and every pair of ends on its two sides
 * the least length between them is found from those of the branches below.
 */
export function bestLeafOrder({ size, at }: Unlike, tree: Branch): number[] {
  // length[a * size + b]: least length of the branch in which both lie on different sides, with a at its left end and b at its right.
  const length = new Float64Array(size * size);
  /** Which inner leaves meet in the middle, as p * size + q, for the same pair of ends. */
  const meet = new Float64Array(size * size).fill(-1);
  /** The leaves that may be at the other end when `leaf` is at one end of `branch`: those on the side where it is not. */
  const across = (branch: Branch, leaf: number): number[] => {
    if (!branch.left || !branch.right) return [leaf];
    return branch.left.leaves.includes(leaf) ? branch.right.leaves : branch.left.leaves;
  };
  const solve = (branch: Branch): void => {
    const { left, right } = branch;
    if (!left || !right) return;
    solve(left);
    solve(right);
    // First from each left end to each leaf of the right side, then on to the right end: three loops for each step, not four.
    const toRight = new Map<number, { cost: number; over: number }>();
    const fromRight = new Map(right.leaves.map((b) => [b, across(right, b)]));
    for (const a of left.leaves) {
      toRight.clear();
      const inner = across(left, a);
      for (const q of right.leaves) {
        let [cost, over] = [Infinity, -1];
        for (const p of inner) {
          const sum = length[a * size + p]! + at[p * size + q]!;
          if (sum < cost) [cost, over] = [sum, p];
        }
        toRight.set(q, { cost, over });
      }
      for (const b of right.leaves) {
        let [cost, met] = [Infinity, -1];
        for (const q of fromRight.get(b)!) {
          const { cost: sofar, over } = toRight.get(q)!;
          const sum = sofar + length[q * size + b]!;
          if (sum < cost) [cost, met] = [sum, over * size + q];
        }
        length[a * size + b] = length[b * size + a] = cost;
        meet[a * size + b] = met;
        meet[b * size + a] = (met % size) * size + Math.floor(met / size);
      }
    }
  };
  solve(tree);
  const lay = (branch: Branch, a: number, b: number): number[] => {
    if (!branch.left || !branch.right) return [a];
    const met = meet[a * size + b]!;
    const [p, q] = [Math.floor(met / size), met % size];
    const [here, there] = branch.left.leaves.includes(a)
      ? [branch.left, branch.right]
      : [branch.right, branch.left];
    return [...lay(here, a, p), ...lay(there, q, b)];
  };
  if (!tree.left || !tree.right) return tree.leaves;
  let [least, ends] = [Infinity, [0, 0] as [number, number]];
  for (const a of tree.left.leaves) {
    for (const b of tree.right.leaves) {
      if (length[a * size + b]! < least) [least, ends] = [length[a * size + b]!, [a, b]];
    }
  }
  return lay(tree, ...ends);
}

const LEAST_GAIN = 1e-9;
const MOST_ROUNDS = 60;

/** Turns stretches round and moves single things while that makes the whole shorter. */
function improved(unlike: Unlike, order: number[]): number[] {
  const { size, at } = unlike;
  const gap = (a: number | undefined, b: number | undefined): number =>
    a === undefined || b === undefined ? 0 : at[a * size + b]!;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    let better = false;
    for (let from = 0; from < size - 1; from++) {
      for (let to = from + 1; to < size; to++) {
        const [before, first, last, after] = [
          order[from - 1],
          order[from],
          order[to],
          order[to + 1],
        ];
        const gain = gap(before, first) + gap(last, after) - gap(before, last) - gap(first, after);
        if (gain <= LEAST_GAIN) continue;
        order.splice(from, to - from + 1, ...order.slice(from, to + 1).reverse());
        better = true;
      }
    }
    for (let from = 0; from < size; from++) {
      const [before, thing, after] = [order[from - 1], order[from]!, order[from + 1]];
      const freed = gap(before, thing) + gap(thing, after) - gap(before, after);
      const rest = order.filter((one) => one !== thing);
      let [best, most] = [-1, LEAST_GAIN];
      for (let to = 0; to <= rest.length; to++) {
        const [left, right] = [rest[to - 1], rest[to]];
        const gain = freed - gap(left, thing) - gap(thing, right) + gap(left, right);
        if (gain > most) [best, most] = [to, gain];
      }
      if (best < 0) continue;
      rest.splice(best, 0, thing);
      order = rest;
      better = true;
    }
    if (!better) break;
  }
  return order;
}

/** A matrix of knots by one side of the cloth: each thread's weights along the threads of the other. */
interface Sparse {
  starts: Int32Array;
  at: Int32Array;
  weights: Float64Array;
}

/** Many entries at one knot say little more than a few: the square root of their number counts. */
const weighted = ({ starts, at, counts }: Crossings): Sparse => ({
  starts,
  at,
  weights: Float64Array.from(at, (_, knot) => Math.sqrt(knotSize(counts, knot))),
});

function turned({ starts, at, weights }: Sparse, rows: number, columns: number): Sparse {
  const begin = new Int32Array(columns + 1);
  for (const column of at) begin[column + 1]! += 1;
  for (let column = 0; column < columns; column++) begin[column + 1]! += begin[column]!;
  const next = begin.slice();
  const rowsAt = new Int32Array(at.length);
  const turnedWeights = new Float64Array(at.length);
  for (let row = 0; row < rows; row++) {
    for (let knot = starts[row]!; knot < starts[row + 1]!; knot++) {
      const place = next[at[knot]!]!++;
      rowsAt[place] = row;
      turnedWeights[place] = weights[knot]!;
    }
  }
  return { starts: begin, at: rowsAt, weights: turnedWeights };
}

/** 1 less the cosine of two threads' knots; threads without knots are wholly unlike everything. */
function unlikeness(threads: Sparse, size: number, across: number): Unlike {
  const at = new Float64Array(size * size).fill(1);
  const norms = Float64Array.from({ length: size }, (_, one) => {
    let sum = 0;
    for (let knot = threads.starts[one]!; knot < threads.starts[one + 1]!; knot++)
      sum += threads.weights[knot]! ** 2;
    return Math.sqrt(sum);
  });
  const row = new Float64Array(across);
  for (let one = 0; one < size; one++) {
    row.fill(0);
    for (let knot = threads.starts[one]!; knot < threads.starts[one + 1]!; knot++)
      row[threads.at[knot]!] = threads.weights[knot]!;
    at[one * size + one] = 0;
    for (let other = 0; other < one; other++) {
      let dot = 0;
      for (let knot = threads.starts[other]!; knot < threads.starts[other + 1]!; knot++)
        dot += row[threads.at[knot]!]! * threads.weights[knot]!;
      const norm = norms[one]! * norms[other]!;
      const apart = norm === 0 ? 1 : Math.max(0, 1 - dot / norm);
      at[one * size + other] = apart;
      at[other * size + one] = apart;
    }
  }
  return { size, at };
}

/** The cloth's rows (themes) or columns (books) in an order in which like threads lie side by side. */
export function byLikeness(crossings: Crossings, side: 'rows' | 'columns'): number[] {
  const { rows, columns } = crossings;
  const along = weighted(crossings);
  const across = turned(along, rows, columns);
  const size = side === 'rows' ? rows : columns;
  const threads = side === 'rows' ? along : across;
  if (size <= MOST_CLUSTERED)
    return seriate(unlikeness(threads, size, side === 'rows' ? columns : rows));
  return byTrend(along, across, rows, columns)[side];
}

const TREND_ROUNDS = 120;

/**
 * Spectral order for many threads: by the second singular vectors of the matrix scaled by the square roots of its margins (the first axis of
 * correspondence analysis; Dhillon 2001). By repeated multiplication from a fixed start, so it costs its knots a round.
 */
function byTrend(
  along: Sparse,
  across: Sparse,
  rows: number,
  columns: number,
): { rows: number[]; columns: number[] } {
  const mass = (side: Sparse, size: number): Float64Array =>
    Float64Array.from({ length: size }, (_, one) => {
      let sum = 0;
      for (let knot = side.starts[one]!; knot < side.starts[one + 1]!; knot++)
        sum += side.weights[knot]!;
      return Math.sqrt(sum);
    });
  const [rowMass, columnMass] = [mass(along, rows), mass(across, columns)];
  const multiply = (
    side: Sparse,
    own: Float64Array,
    other: Float64Array,
    vector: Float64Array,
  ): Float64Array =>
    own.map((root, one) => {
      if (root === 0) return 0;
      let sum = 0;
      for (let knot = side.starts[one]!; knot < side.starts[one + 1]!; knot++) {
        const there = side.at[knot]!;
        sum += (side.weights[knot]! / (root * other[there]!)) * vector[there]!;
      }
      return sum;
    });
  // The trend of the masses themselves is known; what is left when it is taken out is the one to order by.
  const clear = (vector: Float64Array, known: Float64Array): Float64Array => {
    let [dot, norm, square] = [0, 0, 0];
    for (let one = 0; one < known.length; one++) {
      dot += known[one]! * vector[one]!;
      norm += known[one]! ** 2;
    }
    for (let one = 0; one < known.length; one++) {
      vector[one]! -= (dot / (norm || 1)) * known[one]!;
      square += vector[one]! ** 2;
    }
    const length = Math.sqrt(square) || 1;
    for (let one = 0; one < known.length; one++) vector[one]! /= length;
    return vector;
  };
  let column: Float64Array = clear(
    Float64Array.from({ length: columns }, (_, one) => Math.sin(one + 1)),
    columnMass,
  );
  let row: Float64Array = new Float64Array(rows);
  for (let round = 0; round < TREND_ROUNDS; round++) {
    row = clear(multiply(along, rowMass, columnMass, column), rowMass);
    column = clear(multiply(across, columnMass, rowMass, row), columnMass);
  }
  const order = (vector: Float64Array, own: Float64Array): number[] => {
    const place = vector.map((value, one) => (own[one] === 0 ? Infinity : value / own[one]!));
    const sorted = Array.from(place.keys()).sort((a, b) => place[a]! - place[b]! || a - b);
    const bare = sorted.filter((one) => own[one] === 0);
    const held = sorted.filter((one) => own[one] !== 0);
    if (held.length > 1 && held[0]! > held[held.length - 1]!) held.reverse();
    return [...held, ...bare];
  };
  return { rows: order(row, rowMass), columns: order(column, columnMass) };
}
