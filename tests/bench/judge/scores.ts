import { averagePrecision, mean, ndcg, recallAt, reciprocalRank } from '../../outside/measures';

/** Rankings are judged down to this rank. */
export const DEPTH = 100;

/** Means over the queries of a set, each 0 to 1. Every rank is discounted by log2(rank + 1); what was not found counts as nothing. */
export interface Scores {
  ndcg10: number;
  map: number;
  recall10: number;
  recall50: number;
  mrr: number;
  hit5: number;
  hit10: number;
  queries: number;
}

export type Measure = Exclude<keyof Scores, 'queries'>;

export interface Judged {
  ranked: readonly string[];
  relevant: ReadonlySet<string>;
}

export function scoresOf(judged: readonly Judged[]): Scores {
  const over = (of: (one: Judged) => number): number => mean(judged.map(of));
  const hit =
    (k: number) =>
    ({ ranked, relevant }: Judged) =>
      ranked.slice(0, k).some((id) => relevant.has(id)) ? 1 : 0;
  return {
    ndcg10: over(({ ranked, relevant }) => {
      const gains = Array.from({ length: 10 }, (_, at) => (relevant.has(ranked[at] ?? '') ? 1 : 0));
      return (
        ndcg(
          gains,
          Array.from(relevant, () => 1),
        )[9] ?? 0
      );
    }),
    map: over(({ ranked, relevant }) => {
      const ranks = ranked.slice(0, DEPTH).flatMap((id, at) => (relevant.has(id) ? [at + 1] : []));
      return averagePrecision(ranks, relevant.size);
    }),
    recall10: over(({ ranked, relevant }) => recallAt(10, ranked, relevant)),
    recall50: over(({ ranked, relevant }) => recallAt(50, ranked, relevant)),
    mrr: over(({ ranked, relevant }) => {
      const at = ranked.slice(0, DEPTH).findIndex((id) => relevant.has(id));
      return reciprocalRank(at < 0 ? undefined : at + 1);
    }),
    hit5: over(hit(5)),
    hit10: over(hit(10)),
    queries: judged.length,
  };
}
