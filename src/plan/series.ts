/** A book parted among several meetings: chapters stay whole, and no stretch is longer than it need be. */

/** A run of chapters by number from 1, both ends in it. */
export interface Stretch {
  from: number;
  to: number;
  /** In the unit of the sizes handed in: pages, or chapters. */
  size: number;
}

/**
 * Parts `sizes` (none negative) into `parts` runs in their order, each with at least one. The longest run is as short as
 * can be (the linear partition problem: Skiena, The Algorithm Design Manual, 3rd ed., 10.7), and of
 * those ways the most even is taken, by least squares. At most one part for each size.
 */
export function splitEvenly(sizes: readonly number[], parts: number): Stretch[] {
  const count = sizes.length;
  const many = Math.max(1, Math.min(Math.floor(parts), count));
  if (count === 0) return [];
  const upTo = [0];
  for (const size of sizes) upTo.push(upTo.at(-1)! + size);
  const longest = shortestLongest(upTo, many);
  const least = squares(upTo, many, longest);
  const found: Stretch[] = [];
  let end = count;
  for (let part = many; part > 0; part -= 1) {
    const begin = least[part]![end]!;
    found.unshift({ from: begin + 1, to: end, size: upTo[end]! - upTo[begin]! });
    end = begin;
  }
  return found;
}

/** The least longest run of `parts` runs; `upTo` are sums from the beginning. */
function shortestLongest(upTo: readonly number[], parts: number): number {
  const count = upTo.length - 1;
  let before = upTo.map((sum, end) => (end === 0 ? Infinity : sum));
  for (let part = 2; part <= parts; part += 1) {
    before = upTo.map((sum, end) => {
      let best = Infinity;
      for (let begin = part - 1; begin < end; begin += 1)
        best = Math.min(best, Math.max(before[begin]!, sum - upTo[begin]!));
      return best;
    });
  }
  return before[count]!;
}

/** By part and end, where the part begins in the way of the least sum of squares with no run above `longest`. */
function squares(upTo: readonly number[], parts: number, longest: number): number[][] {
  const begins: number[][] = [[]];
  let before = upTo.map((_, end) => (end === 0 ? 0 : Infinity));
  for (let part = 1; part <= parts; part += 1) {
    const from = new Array<number>(upTo.length).fill(0);
    const costs = upTo.map((sum, end) => {
      let best = Infinity;
      for (let begin = part - 1; begin < end; begin += 1) {
        const size = sum - upTo[begin]!;
        if (size > longest * (1 + 1e-12)) continue;
        const cost = before[begin]! + size * size;
        if (cost < best) {
          best = cost;
          from[end] = begin;
        }
      }
      return best;
    });
    begins.push(from);
    before = costs;
  }
  return begins;
}

/** The fewest runs of which none is above `most`, but for a single chapter that is so by itself. At least one. */
export function partsForPace(sizes: readonly number[], most: number): number {
  let parts = 1;
  let used = 0;
  sizes.forEach((size, at) => {
    if (at > 0 && used + size > most) {
      parts += 1;
      used = 0;
    }
    used += size;
  });
  return parts;
}

/** Pages of each chapter from the pages they begin on and the last page; undefined where those do not rise. */
export function pagesOfChapters(begins: readonly number[], last: number): number[] | undefined {
  const sizes = begins.map((page, at) => (begins[at + 1] ?? last + 1) - page);
  return sizes.length > 0 && sizes.every((size) => size > 0) ? sizes : undefined;
}

/** Pages `from` to `to` shared among `days` days, first days first and as evenly as can be; fewer days where there are fewer pages. */
export function pagesByDay(from: number, to: number, days: number): { from: number; to: number }[] {
  const pages = to - from + 1;
  const many = Math.max(0, Math.min(days, pages));
  return Array.from({ length: many }, (_, day) => ({
    from: from + Math.ceil((pages * day) / many),
    to: from + Math.ceil((pages * (day + 1)) / many) - 1,
  }));
}
