import type { Engine } from '../../../src/engine/engine';
import type { Journal } from '../../../src/journal/records';
import { engineOver } from './journals';
import { DEPTH, scoresOf, type Judged, type Measure, type Scores } from './scores';

/** One way of ranking, scored over one set. */
export interface Result {
  way: string;
  scores: Scores;
}

/** What is aimed at: a value, or so much more than the plain ranking of the same run. */
export type Goal = { measure: Measure; atLeast: number } | { measure: Measure; timesPlain: number };

/** A judged set with all that was measured over it, plain ranking first, the engine last. */
export interface Measured {
  set: string;
  shown: Measure[];
  goal: Goal;
  results: Result[];
}

/** Makes the engine that is judged; the ablation hands in one with a part left out. */
export type MakeEngine = (journal: Journal) => Engine;
export const wholeEngine: MakeEngine = engineOver;

export const PLAIN = 'plain BM25';
export const ENGINE = 'Bookweft';

export interface Query {
  text: string;
  relevant: ReadonlySet<string>;
  /** Left out of the ranking: the entry the query was made from. */
  without?: string;
}

export function judge(
  way: string,
  queries: readonly Query[],
  rank: (query: Query) => readonly string[],
): Result {
  const judged = queries.map((query): Judged => ({
    ranked: rank(query),
    relevant: query.relevant,
  }));
  return { way, scores: scoresOf(judged) };
}

/** What the engine finds for typed words, as ids. */
export const foundBy =
  (engine: Engine, typing = false) =>
  ({ text }: Query): string[] =>
    engine.find({ text, limit: DEPTH, typing }).hits.map(({ id }) => id);
