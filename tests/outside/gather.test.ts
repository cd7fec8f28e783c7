import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { longestFirst, WordAutomaton, type Found } from '../../src/gather/automaton';
import { jaro, jaroWinkler, levenshtein } from '../../src/gather/likeness';
import {
  hashOf,
  jaccard,
  minHash,
  shinglesOf,
  signatureOf,
  SIGNATURE_LENGTH,
} from '../../src/gather/shingles';

/** Leskovec, Rajaraman & Ullman, Mining of Massive Datasets, chapter 3, as in the trade's B55 and B56. */
describe('shingles and MinHash as in Mining of Massive Datasets', () => {
  test('the 2-shingles of abcdabd are ab, bc, cd, da and bd (section 3.2.1)', () => {
    expect([...shinglesOf([...'abcdabd'], 2, '')].sort()).toEqual(['ab', 'bc', 'bd', 'cd', 'da']);
  });

  const sets = [[0, 3], [2], [1, 3, 4], [0, 2, 3]].map((rows) => new Set(rows));
  const functions = [(row: number) => (row + 1) % 5, (row: number) => (3 * row + 1) % 5];

  test('signatures of the four sets by x+1 and 3x+1 mod 5 (section 3.3.5)', () => {
    const signature = (set: Set<number>): number[] => {
      const into = new Uint32Array(functions.length);
      minHash(set, (row, place) => functions[place]!(row), into);
      return [...into];
    };
    expect(sets.map(signature)).toEqual([
      [1, 0],
      [3, 2],
      [0, 0],
      [1, 0],
    ]);
  });

  test('their true likenesses: 2/3, 1/4 and 0', () => {
    const [s1, s2, s3, s4] = sets as [Set<number>, Set<number>, Set<number>, Set<number>];
    expect(jaccard(s1, s4)).toBeCloseTo(2 / 3, 12);
    expect(jaccard(s1, s3)).toBeCloseTo(1 / 4, 12);
    expect(jaccard(s1, s2)).toBe(0);
  });

  test('two signatures agree in about as many places as their sets are alike (section 3.3.3)', () => {
    // The standard error of 40 pairs by 48 functions is under 0.012.
    for (const shared of [20, 50, 80]) {
      let [agree, of] = [0, 0];
      for (let trial = 0; trial < 40; trial += 1) {
        const common = Array.from({ length: shared }, (_, at) => `${trial} c ${at}`);
        const rest = (side: string): string[] =>
          Array.from({ length: (100 - shared) / 2 }, (_, at) => `${trial} ${side} ${at}`);
        const [a, b] = [new Uint32Array(SIGNATURE_LENGTH), new Uint32Array(SIGNATURE_LENGTH)];
        signatureOf([...common, ...rest('a')], a);
        signatureOf([...common, ...rest('b')], b);
        agree += a.filter((value, at) => value === b[at]).length;
        of += SIGNATURE_LENGTH;
      }
      expect(Math.abs(agree / of - shared / 100)).toBeLessThan(0.05);
    }
  });
});

/** FNV-1a before mixing is published; after it only its spread can be tested. */
test('hashes of many words do not collide more than chance allows', () => {
  const hashes = new Set(Array.from({ length: 50_000 }, (_, at) => hashOf(`word ${at}`)));
  // By the birthday bound 0.3 collisions are to be expected in 32 bits.
  expect(50_000 - hashes.size).toBeLessThan(6);
});

/** Winkler 1990, as in the trade's B61; the same pairs stand in most descriptions of the measure. */
describe('Jaro and Jaro-Winkler on the published pairs', () => {
  test.each([
    ['MARTHA', 'MARHTA', 0.944, 0.961],
    ['DIXON', 'DICKSONX', 0.767, 0.813],
    ['DWAYNE', 'DUANE', 0.822, 0.84],
  ])('%s and %s', (a, b, plain, winkler) => {
    expect(jaro(a, b)).toBeCloseTo(plain, 3);
    expect(jaroWinkler(a, b)).toBeCloseTo(winkler, 3);
  });

  test('alike both ways, 1 for the same, within 0 and 1', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 12 }), fc.string({ maxLength: 12 }), (a, b) => {
        expect(jaro(a, a)).toBe(1);
        expect(jaroWinkler(a, b)).toBeGreaterThanOrEqual(0);
        expect(jaroWinkler(a, b)).toBeLessThanOrEqual(1 + 1e-12);
      }),
    );
  });
});

/** The trade's B60: Wagner & Fischer's worked pairs, from memory there and worked out again. */
describe('Levenshtein’s distance on well-known pairs', () => {
  test.each([
    ['kitten', 'sitting', 3],
    ['cats', 'fast', 3],
    ['intention', 'execution', 5],
    ['', 'abc', 3],
    ['abc', '', 3],
  ])('%s and %s: %i', (a, b, edits) => {
    expect(levenshtein(a, b)).toBe(edits);
  });

  test('a distance in the sense of geometry', () => {
    const word = fc.string({ maxLength: 8, unit: fc.constantFrom('a', 'b', 'c') });
    fc.assert(
      fc.property(word, word, word, (a, b, c) => {
        expect(levenshtein(a, b)).toBe(levenshtein(b, a));
        expect(levenshtein(a, c)).toBeLessThanOrEqual(levenshtein(a, b) + levenshtein(b, c));
        expect(levenshtein(a, b) === 0).toBe(a === b);
      }),
    );
  });
});

/** Every occurrence by trying every name at every place. */
function byForce(names: readonly string[][], words: readonly string[]): string[] {
  return names
    .flatMap((name, value) =>
      words.flatMap((_, first) =>
        name.length > 0 && name.every((word, at) => words[first + at] === word)
          ? [`${value} ${first}-${first + name.length - 1}`]
          : [],
      ),
    )
    .sort();
}

const told = (found: readonly Found<number>[]): string[] =>
  found.map(({ value, first, last }) => `${value} ${first}-${last}`).sort();

/** Aho & Corasick 1975. */
describe('the automaton of Aho and Corasick', () => {
  test('finds he, she, his and hers in ushers as in the paper', () => {
    const automaton = new WordAutomaton<string>();
    for (const name of ['he', 'she', 'his', 'hers']) automaton.add([...name], name);
    const found = automaton.find([...'ushers']).map(({ value, last }) => `${value} ${last}`);
    expect(found).toEqual(['she 3', 'he 3', 'hers 5']);
  });

  const word = fc.constantFrom('a', 'b', 'c');
  const names = fc.array(fc.array(word, { maxLength: 4 }), { maxLength: 12 });

  test('finds what trying every name at every place finds', () => {
    fc.assert(
      fc.property(names, fc.array(word, { maxLength: 40 }), (given, words) => {
        const automaton = new WordAutomaton<number>();
        given.forEach((name, value) => automaton.add(name, value));
        expect(told(automaton.find(words))).toEqual(byForce(given, words));
      }),
    );
  });

  test('names added after a search are found too', () => {
    fc.assert(
      fc.property(names, names, fc.array(word, { maxLength: 30 }), (early, late, words) => {
        const automaton = new WordAutomaton<number>();
        early.forEach((name, value) => automaton.add(name, value));
        automaton.find(words);
        late.forEach((name, at) => automaton.add(name, early.length + at));
        expect(told(automaton.find(words))).toEqual(byForce([...early, ...late], words));
      }),
    );
  });

  test('of overlapping names the longest stands, and what is left out overlaps one that stands and is no shorter', () => {
    fc.assert(
      fc.property(names, fc.array(word, { maxLength: 30 }), (given, words) => {
        const automaton = new WordAutomaton<number>();
        given.forEach((name, value) => automaton.add(name, value));
        const all = automaton.find(words);
        const standing = longestFirst(all);
        const sameSpan = (a: Found<number>, b: Found<number>): boolean =>
          a.first === b.first && a.last === b.last;
        const overlap = (a: Found<number>, b: Found<number>): boolean =>
          a.first <= b.last && b.first <= a.last;
        for (const a of standing) {
          for (const b of standing) expect(!overlap(a, b) || sameSpan(a, b)).toBe(true);
        }
        for (const out of all.filter((each) => !standing.includes(each))) {
          expect(
            standing.some(
              (one) => overlap(one, out) && one.last - one.first >= out.last - out.first,
            ),
          ).toBe(true);
        }
      }),
    );
  });
});
