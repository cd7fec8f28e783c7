import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  loadRelatedWords,
  RelatedWords,
  writeRelatedWords,
} from '../../../src/language/related-words';

const word = fc.stringMatching(/^[a-z]{3,12}$/);
const someLinks = fc.dictionary(
  word,
  fc.array(fc.tuple(word, fc.double({ min: 0.06, max: 1, noNaN: true })), { maxLength: 12 }),
  { maxKeys: 30 },
);

describe('a thesaurus written small', () => {
  test('is read back word for word, weights within a tenth', () => {
    fc.assert(
      fc.property(someLinks, (rows) => {
        const links = new Map(Object.entries(rows));
        const read = new RelatedWords(writeRelatedWords(links));
        for (const [from, list] of links) {
          const found = read.of(from);
          expect(found.map(({ word }) => word)).toEqual(list.map(([other]) => other));
          found.forEach(({ weight }, at) =>
            expect(Math.abs(weight / list[at]![1] - 1)).toBeLessThan(0.11),
          );
        }
      }),
    );
  });

  test('knows nothing of a word that is not in it', () => {
    const read = new RelatedWords(writeRelatedWords(new Map([['sea', [['ocean', 0.5]]]])));
    expect(read.of('ocean')).toEqual([]);
    expect(read.of('xyzzy')).toEqual([]);
    expect(read.of('constructor')).toEqual([]);
  });
});

describe('the thesaurus of Bookweft', () => {
  test('leads from words of themes to words near them, nearest first', async () => {
    const words = await loadRelatedWords();
    const near = (from: string): string[] => words.of(from).map(({ word }) => word);
    expect(near('courage')).toEqual(expect.arrayContaining(['bravery', 'valour', 'heroism']));
    expect(near('bravery')).toContain('courage');
    expect(near('greed')).toEqual(expect.arrayContaining(['avarice', 'covetousness']));
    expect(near('home')).toContain('dwelling');
    for (const from of ['courage', 'home', 'run']) {
      const weights = words.of(from).map(({ weight }) => weight);
      expect(weights).toEqual([...weights].sort((a, b) => b - a));
    }
  });

  test('keeps to what a word usually means', async () => {
    const words = await loadRelatedWords();
    const near = (from: string): string[] => words.of(from).map(({ word }) => word);
    // Senses that WordNet has and hardly ever met: a comedian of that name; what happens to a stocking.
    expect(near('hope')).not.toContain('comedian');
    expect(near('run').slice(0, 10)).not.toContain('ladder');
  });
});
