export type Scored<Id extends string = string> = [id: Id, score: number];

/** Two scores closer than this, in proportion, differ only by the order in which things were added up. */
const SAME = 1e-9;

/**
 * The ids of the highest scores above 0, `most` of them and those that score the same as the last; in no order. Where there are
 * fewer, all. `idAt` gives undefined for what is not to be counted.
 */
export function highest<Id extends string>(
  scores: Float64Array,
  most: number,
  idAt: (index: number) => Id | undefined,
): Scored<Id>[] {
  const counted = (index: number): boolean => scores[index]! > 0 && idAt(index) !== undefined;
  const least = atRank(scores, most, counted) * (1 - SAME);
  const found: Scored<Id>[] = [];
  for (let index = 0; index < scores.length; index++) {
    if (scores[index]! >= least && counted(index)) found.push([idAt(index)!, scores[index]!]);
  }
  return found;
}

/** The score of the `rank`th highest of those counted, from 1, or 0 where there are fewer; a heap of the highest so far, lowest on top. */
function atRank(scores: Float64Array, rank: number, counted: (index: number) => boolean): number {
  const heap = new Float64Array(rank);
  for (let index = 0; index < scores.length; index++) {
    const score = scores[index]!;
    if (score <= heap[0]! || !counted(index)) continue;
    let at = 0;
    for (;;) {
      let child = 2 * at + 1;
      if (child >= rank) break;
      if (child + 1 < rank && heap[child + 1]! < heap[child]!) child += 1;
      if (heap[child]! >= score) break;
      heap[at] = heap[child]!;
      at = child;
    }
    heap[at] = score;
  }
  return heap[0] ?? 0;
}

/** A score to the digits that count. */
export const rounded = (score: number): number => Number(score.toPrecision(9));

/** The highest scores first, ties by id, `most` of them and those that score the same as the last. */
export function best<Id extends string>(rows: readonly Scored<Id>[], most: number): Scored<Id>[] {
  const sorted = rows
    .map(([id, score]): Scored<Id> => [id, rounded(score)])
    .sort(([a, left], [b, right]) => right - left || (a < b ? -1 : 1));
  const least = sorted[most - 1]?.[1] ?? 0;
  return sorted.filter(([, score]) => score >= least);
}

/** At most so many of a list, evenly spread. */
export function spread<Item>(list: readonly Item[], most: number): readonly Item[] {
  if (list.length <= most) return list;
  return Array.from({ length: most }, (_, at) => list[Math.floor((at * list.length) / most)]!);
}
