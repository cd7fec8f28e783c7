/**
 * Measures of ranking, agreement and likeness, written from their definitions, to judge finding and nearness by. They are
 * used by tests and benchmarks only; their own check against published figures is `ranking-measures.test.ts`.
 */

/**
 * How gain is discounted by rank. `from-base` is that of Järvelin and Kekäläinen (2002): with logarithm to the base 2 the ranks
 * below 2 count whole and rank i counts 1 / log2(i). `every-rank` is the later usage: rank i counts 1 / log2(i + 1).
 */
export type Discount = 'from-base' | 'every-rank';

const discountAt = (rank: number, discount: Discount): number =>
  discount === 'every-rank' ? 1 / Math.log2(rank + 1) : rank < 2 ? 1 : 1 / Math.log2(rank);

/** Discounted cumulated gain at each rank, from 1. `gains` are 0 or more, in the order ranked. */
export function dcg(gains: readonly number[], discount: Discount = 'every-rank'): number[] {
  let sum = 0;
  return gains.map((gain, at) => (sum += gain * discountAt(at + 1, discount)));
}

/**
 * DCG over that of an ideal ranking, at each rank, 0 to 1. `known` are the gains of all judged documents in any order; left out,
 * the ideal is the list itself sorted, which flatters a ranking that missed something.
 */
export function ndcg(
  gains: readonly number[],
  known: readonly number[] = gains,
  discount: Discount = 'every-rank',
): number[] {
  const sorted = [...known].sort((a, b) => b - a);
  const ideal = dcg(
    gains.map((_, at) => sorted[at] ?? 0),
    discount,
  );
  return dcg(gains, discount).map((value, at) => (ideal[at] ? value / ideal[at] : 0));
}

/** Precision at the rank of each relevant document, averaged over all `relevant` of them, found or not. Ranks from 1. */
export function averagePrecision(ranks: readonly number[], relevant: number): number {
  if (relevant === 0) return 0;
  const inOrder = [...ranks].sort((a, b) => a - b);
  return inOrder.reduce((sum, rank, at) => sum + (at + 1) / rank, 0) / relevant;
}

/** One over the rank of the first relevant document, 0 where none was found. */
export const reciprocalRank = (firstRank: number | undefined): number =>
  firstRank === undefined ? 0 : 1 / firstRank;

/** The mean of one value a query (MAP, MRR), 0 for none. */
export const mean = (values: readonly number[]): number =>
  values.length === 0 ? 0 : values.reduce((sum, value) => sum + value, 0) / values.length;

/** Of the relevant documents, the share among the first `k`. */
export function recallAt(
  k: number,
  ranked: readonly string[],
  relevant: ReadonlySet<string>,
): number {
  if (relevant.size === 0) return 0;
  return ranked.slice(0, k).filter((id) => relevant.has(id)).length / relevant.size;
}

/** Counts of two judges' yes and no: `yesNo` is the first's yes with the second's no. */
export interface Judged {
  yesYes: number;
  yesNo: number;
  noYes: number;
  noNo: number;
}

/**
 * Agreement beyond chance. Chance agreement is from pooled marginals, both judges taken together (Scott's pi, called kappa in
 * Manning, Raghavan and Schütze 2008, ch. 8); Cohen's own takes each judge's apart.
 */
export function kappa({ yesYes, yesNo, noYes, noNo }: Judged): {
  agreed: number;
  byChance: number;
  kappa: number;
} {
  const all = yesYes + yesNo + noYes + noNo;
  const agreed = (yesYes + noNo) / all;
  const yes = (2 * yesYes + yesNo + noYes) / (2 * all);
  const byChance = yes ** 2 + (1 - yes) ** 2;
  return { agreed, byChance, kappa: byChance === 1 ? 1 : (agreed - byChance) / (1 - byChance) };
}

/** Euclidean length. */
export const norm = (vector: readonly number[]): number => Math.hypot(...vector);

/** Cosine of the angle between two vectors of one length, 0 where either is all zero. */
export function cosine(a: readonly number[], b: readonly number[]): number {
  const lengths = norm(a) * norm(b);
  return lengths === 0 ? 0 : a.reduce((sum, value, at) => sum + value * (b[at] ?? 0), 0) / lengths;
}

/** Weighted count of a term: 1 + log10 of it, 0 for none. */
export const logCount = (count: number): number => (count > 0 ? 1 + Math.log10(count) : 0);

/**
 * BM25 of each document for a query, both given as words. IDF is ln(1 + (N - n + 0.5) / (n + 0.5)), which is never below 0; the
 * saturated count is multiplied by k1 + 1 unless `bare`.
 */
export function bm25(
  query: readonly string[],
  documents: readonly (readonly string[])[],
  { k1 = 1.2, b = 0.75, bare = false }: { k1?: number; b?: number; bare?: boolean } = {},
): number[] {
  const usual = mean(documents.map(({ length }) => length));
  return documents.map((words) =>
    query.reduce((sum, term) => {
      const held = documents.filter((one) => one.includes(term)).length;
      const idf = Math.log(1 + (documents.length - held + 0.5) / (held + 0.5));
      const count = words.filter((word) => word === term).length;
      const saturated = count / (count + k1 * (1 - b + (b * words.length) / usual));
      return sum + idf * saturated * (bare ? 1 : k1 + 1);
    }, 0),
  );
}
