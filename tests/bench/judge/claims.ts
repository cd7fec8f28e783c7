import { journalOf, noteOf } from './journals';
import { hasData, rowsOf, type Claim, type Passage } from './open-data';
import { PlainBm25 } from './plain-bm25';
import { ENGINE, foundBy, judge, PLAIN, type MakeEngine, type Measured } from './result';
import { DEPTH } from './scores';

/**
 * What Anserini's BM25 scores on this set (its reproductions, BEIR v1.0.0 SciFact, flat index), nDCG@10. Tokens and stems here are our own, so
 * the plain ranking must come within `WITHIN` of it, not to the digit.
 */
const PUBLISHED_BM25 = 0.679;
const WITHIN = 0.01;

/** SciFact: claims to the abstracts that judge them. Far from reading notes, and so a guard against ranking that suits one kind of text only. */
export function claims(make: MakeEngine): Measured | undefined {
  if (!hasData('scifact-passages', 'scifact-queries')) return undefined;
  const passages = rowsOf<Passage>('scifact-passages');
  const queries = rowsOf<Claim>('scifact-queries').map(({ query, relevant }) => ({
    text: query,
    relevant: new Set(relevant),
  }));
  const plain = new PlainBm25(passages.map(({ id, text }) => [id, text]));
  const baseline = judge(PLAIN, queries, ({ text }) => plain.rank(text, DEPTH));
  if (Math.abs(baseline.scores.ndcg10 - PUBLISHED_BM25) > WITHIN)
    throw new Error(`The plain ranking scores ${baseline.scores.ndcg10}, published is .679.`);
  const engine = make(journalOf(passages.map(({ id, text }) => noteOf(id, text))));
  return {
    set: 'SciFact: claim to abstract',
    shown: ['ndcg10', 'map', 'recall10', 'recall50', 'mrr', 'hit5'],
    goal: { measure: 'ndcg10', timesPlain: 1 },
    results: [baseline, judge(ENGINE, queries, foundBy(engine))],
  };
}
