/** The yardstick held against what is known of it; `npm run judge` itself takes minutes and is no part of `npm test`.
 * There its plain ranking is held against the published BM25 of SciFact. */
import { describe, expect, test } from 'vitest';
import { goldNotes, goldThemes } from '../bench/judge/gold';
import { PlainBm25, plainWords } from '../bench/judge/plain-bm25';
import { scoresOf } from '../bench/judge/scores';
import { bm25 } from './measures';

describe('the plain ranking of the yardstick', () => {
  test('scores by the formula, each text and query as its stems', () => {
    const texts = [
      'The moral of the story is that pride comes before a fall',
      'The moral lesson of the fox and the grapes',
      'A fall in the garden; the fox fell, and fell again',
    ];
    const plain = new PlainBm25(texts.map((text, at) => [String(at), text]));
    for (const query of ['moral fall', 'foxes falling', 'garden garden', 'nothing']) {
      const expected = bm25(plainWords(query), texts.map(plainWords), { k1: 0.9, b: 0.4 });
      const found = plain.scores(query);
      expected.forEach((score, at) => expect(found.get(String(at)) ?? 0).toBeCloseTo(score, 9));
    }
  });
});

describe('the measures over several queries', () => {
  // By the definitions; the measures of one query are held against published figures in ranking-measures.test.ts.
  test('are means, what was never found counting as nothing', () => {
    const { ndcg10, map, recall10, mrr, hit5 } = scoresOf([
      { ranked: ['a', 'x', 'b'], relevant: new Set(['a', 'b']) },
      { ranked: ['x'], relevant: new Set(['c']) },
    ]);
    const ideal = 1 + 1 / Math.log2(3);
    expect(ndcg10).toBeCloseTo((1 + 1 / 2) / ideal / 2, 9);
    expect(map).toBeCloseTo((1 + 2 / 3) / 2 / 2, 9);
    expect(recall10).toBe(0.5);
    expect(mrr).toBe(0.5);
    expect(hit5).toBe(0.5);
  });
});

describe('the gold set', () => {
  test('has themes and notes enough, hard negatives among them', () => {
    expect(goldThemes.length).toBeGreaterThanOrEqual(20);
    const belonging = goldNotes.filter(({ how }) => how !== 'not');
    expect(belonging.length).toBeGreaterThanOrEqual(120);
    expect(goldNotes.length - belonging.length).toBeGreaterThanOrEqual(40);
    expect(new Set(goldNotes.map(({ text }) => text)).size).toBe(goldNotes.length);
    for (const note of goldNotes)
      for (const theme of note.themes) expect(goldThemes).toContain(theme);
  });

  test('notes said to belong otherwise than by the word do not have it in any form', () => {
    for (const { text, themes, how } of goldNotes) {
      const [theme] = themes;
      if (!theme || how === 'not') continue;
      const own = plainWords(theme);
      const held = new Set(plainWords(text));
      const has = own.every((word) => held.has(word));
      expect(has, text).toBe(how === 'word');
    }
  });
});
