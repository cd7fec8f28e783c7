import { describe, expect, test } from 'vitest';
import { LatentSpace, type Stems } from '../../../src/language/latent-space';

function learnt(rows: Iterable<readonly [string, Stems]>, dimensions = 4): LatentSpace {
  const learning = LatentSpace.learn(rows, { dimensions, leastTexts: 1 });
  for (;;) {
    const step = learning.next();
    if (step.done) return step.value;
  }
}
const stems = (text: string): Stems => {
  const found = new Map<string, number>();
  for (const word of text.split(' ')) found.set(word, (found.get(word) ?? 0) + 1);
  return found;
};
const TEXTS: [string, Stems][] = [
  'car engine road',
  'automobile engine road',
  'car wheel road',
  'automobile wheel engine',
  'rose petal garden',
  'tulip petal garden',
  'rose stem garden',
  'tulip stem petal',
].map((text, at) => [`t${at}`, stems(text)]);
const cosine = (space: LatentSpace, a: string, b: string): number => {
  const [one, other] = [space.placeOf(stems(a))!, space.placeOf(stems(b))!];
  return one.reduce((sum, value, at) => sum + value * other[at]!, 0);
};

describe('latent semantics', () => {
  test('words that share no text but their company come near', () => {
    const space = learnt(TEXTS, 2);
    expect(cosine(space, 'car', 'automobile')).toBeGreaterThan(0.9);
    expect(Math.abs(cosine(space, 'car', 'tulip'))).toBeLessThan(0.2);
  });

  test('with every dimension kept, cosines of texts are those of their weighted words', () => {
    const space = learnt(TEXTS, 100);
    const idf = new Map<string, number>();
    for (const [, held] of TEXTS)
      for (const stem of held.keys()) idf.set(stem, (idf.get(stem) ?? 0) + 1);
    for (const [stem, count] of idf) idf.set(stem, Math.log(TEXTS.length / count));
    for (const [a, left] of TEXTS) {
      for (const [b, right] of TEXTS) {
        let [dot, one, other] = [0, 0, 0];
        for (const [stem] of left) {
          one += idf.get(stem)! ** 2;
          if (right.has(stem)) dot += idf.get(stem)! ** 2;
        }
        for (const [stem] of right) other += idf.get(stem)! ** 2;
        const [p, q] = [space.vectorOf(a)!, space.vectorOf(b)!];
        const found = p.reduce((sum, value, at) => sum + value * q[at]!, 0);
        // Rounding to whole numbers of 8 bits takes its share.
        expect(Math.abs(found - dot / Math.sqrt(one * other))).toBeLessThan(0.01);
      }
    }
  });

  test('the order in which texts are handed in makes no difference', () => {
    const place = stems('rose engine');
    const there = learnt(TEXTS);
    const one = there.nearest(there.cosines(there.placeOf(place)!), 5);
    const back = learnt([...TEXTS].reverse());
    expect(back.nearest(back.cosines(back.placeOf(place)!), 5)).toEqual(one);
  });

  test('a text put again has its new place, and one removed is not found', () => {
    const space = learnt(TEXTS, 2);
    space.put('t0', stems('tulip petal'));
    const first = space
      .nearest(space.cosines(space.placeOf(stems('petal garden'))!), 5)
      .map(([id]) => id);
    expect(first).toContain('t0');
    space.remove('t0');
    const then = space
      .nearest(space.cosines(space.placeOf(stems('petal garden'))!), 8)
      .map(([id]) => id);
    expect(then).not.toContain('t0');
    expect(space.size).toBe(TEXTS.length - 1);
  });

  test('nothing to learn from, and words never met, are no fault', () => {
    expect(learnt([]).placeOf(stems('rose'))).toBeUndefined();
    expect(learnt(TEXTS).placeOf(stems('unknown'))).toBeUndefined();
  });
});
