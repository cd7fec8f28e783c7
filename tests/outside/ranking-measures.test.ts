import { describe, expect, test } from 'vitest';
import { PassageIndex } from '../../src/find/passage-index';
import {
  averagePrecision,
  bm25,
  cosine,
  dcg,
  kappa,
  logCount,
  mean,
  ndcg,
  norm,
  recallAt,
  reciprocalRank,
} from './measures';

const rounded = (values: readonly number[], places = 2): number[] =>
  values.map((value) => Number(value.toFixed(places)));

describe('likeness of count vectors', () => {
  // Source: Manning, Raghavan and Schütze 2008, Introduction to Information Retrieval, section "Dot products" (the norms are
  // printed there; the counts are the book's table, given from memory and recomputed).
  const [one, two, three] = [
    [27, 3, 0, 14],
    [4, 33, 33, 0],
    [24, 0, 29, 17],
  ] as const;
  test('three count vectors have the printed lengths', () => {
    expect(rounded([norm(one), norm(two), norm(three)])).toEqual([30.56, 46.84, 41.3]);
  });
  test('the first of them, made one long, has the printed weights', () => {
    expect(rounded(one.map((count) => count / norm(one)))).toEqual([0.88, 0.1, 0, 0.46]);
  });

  // Source: the same book's three novels by counts of affection, jealous, gossip (and wuthering on the slides); from memory,
  // recomputed. The book prints .888 for the second cosine, from rounded weights; whole weights give .8889.
  test('three novels are alike by their raw counts', () => {
    const [sense, pride, heights] = [
      [115, 10, 2],
      [58, 7, 0],
      [20, 11, 6],
    ] as const;
    expect(cosine(sense, pride)).toBeCloseTo(0.999, 3);
    expect(Math.abs(cosine(sense, heights) - 0.888)).toBeLessThan(0.0015);
  });
  test('and by weighted counts with a fourth word', () => {
    const [sense, pride, heights] = [
      [115, 10, 2, 0],
      [58, 7, 0, 0],
      [20, 11, 6, 38],
    ].map((counts) => counts.map(logCount)) as [number[], number[], number[]];
    expect(rounded([cosine(sense, pride), cosine(sense, heights), cosine(pride, heights)])).toEqual(
      [0.94, 0.79, 0.69],
    );
  });
  test('a vector of zeros is like nothing', () => {
    expect(cosine([0, 0], [1, 2])).toBe(0);
  });
});

describe('BM25', () => {
  // Source: worked by hand from the formula of Robertson and Zaragoza 2009 with the variant named; no printed figures were found.
  const documents = [
    'the moral of the story is that pride comes before a fall',
    'the moral lesson of the fox and the grapes',
    'a fall in the garden',
  ].map((text) => text.split(' '));
  test('with the factor k1 + 1', () => {
    expect(rounded(bm25(['moral', 'fall'], documents), 6)).toEqual([0.812212, 0.462723, 0.568376]);
  });
  test('without it the order is the same and the values are smaller by 2.2', () => {
    expect(rounded(bm25(['moral', 'fall'], documents, { bare: true }), 6)).toEqual([
      0.369187, 0.210329, 0.258353,
    ]);
  });
  test('the index scores a text by the same formula, with its own k1 and b', () => {
    const index = new PassageIndex((word) => word);
    for (const text of documents) index.add({ text });
    const scores = [0, 0, 0];
    for (const word of ['moral', 'fall'])
      index.score(index.term(word)!, (doc, score) => (scores[doc]! += score));
    expect(rounded(scores, 6)).toEqual(
      rounded(bm25(['moral', 'fall'], documents, { k1: 0.9, b: 0.4 }), 6),
    );
  });
});

describe('cumulated gain', () => {
  // Source: Järvelin and Kekäläinen 2002, ACM TOIS 20(4):422-446; the vectors from memory, recomputed.
  const gains = [3, 2, 3, 0, 0, 1, 2, 2, 3, 0];
  const known = [3, 3, 3, 2, 2, 2, 1, 1, 1, 1];
  test('ranks below the base of the logarithm are not discounted', () => {
    expect(rounded(dcg(gains, 'from-base'))).toEqual([
      3, 5, 6.89, 6.89, 6.89, 7.28, 7.99, 8.66, 9.61, 9.61,
    ]);
  });
  test('normalised by the ideal vector', () => {
    expect(rounded(ndcg(gains, known, 'from-base'))).toEqual([
      1, 0.83, 0.87, 0.78, 0.71, 0.69, 0.73, 0.77, 0.83, 0.81,
    ]);
  });
  // Two other usages of the same gains, recomputed: which is meant must be said beside any figure.
  test('normalised by the list itself sorted, the last five are higher', () => {
    expect(rounded(ndcg(gains, gains, 'from-base')).slice(5)).toEqual([
      0.69, 0.73, 0.8, 0.88, 0.88,
    ]);
  });
  test('discounting every rank by log2(i + 1) gives .9168 at ten', () => {
    expect(ndcg(gains)[9]).toBeCloseTo(0.9168, 4);
  });
  test('no gain at all is 0, not a division by 0', () => {
    expect(ndcg([0, 0])).toEqual([0, 0]);
  });
});

describe('precision, recall and first hits', () => {
  // Source: Croft, Metzler and Strohman 2009, Search Engines: Information Retrieval in Practice, ch. 8; from memory, recomputed.
  test('average precision over two queries', () => {
    const values = [averagePrecision([1, 3, 6, 9, 10], 5), averagePrecision([2, 5, 7], 3)];
    expect(rounded(values, 3)).toEqual([0.622, 0.443]);
    expect(mean(values)).toBeCloseTo(0.533, 3);
  });
  // Source: a worked example at nameidi.com, which prints .83, .45 and .64.
  test('what was never found counts as nothing', () => {
    const values = [averagePrecision([1, 2, 4, 7], 4), averagePrecision([1, 3, 5], 5)];
    expect(rounded(values)).toEqual([0.83, 0.45]);
    expect(rounded([mean(values)])).toEqual([0.64]);
  });
  // Source: the tests of the ranx library (metrics_test).
  test('first hits at 2, at 1 and nowhere have a mean reciprocal rank of one half', () => {
    expect(mean([2, 1, undefined].map(reciprocalRank))).toBe(0.5);
  });
  // By the definition; no published figure.
  test('recall counts what stands among the first', () => {
    expect(recallAt(2, ['a', 'x', 'b'], new Set(['a', 'b']))).toBe(0.5);
    expect(recallAt(3, ['a', 'x', 'b'], new Set(['a', 'b']))).toBe(1);
  });
});

// Source: slides to Manning, Raghavan and Schütze 2008, ch. 8 (pooled marginals).
test('two judges of 400 documents agree with a kappa of .776', () => {
  const found = kappa({ yesYes: 300, yesNo: 20, noYes: 10, noNo: 70 });
  expect(found.agreed).toBeCloseTo(0.925, 6);
  expect(found.byChance).toBeCloseTo(0.6653, 4);
  expect(found.kappa).toBeCloseTo(0.776, 3);
});
