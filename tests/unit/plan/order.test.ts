import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { LEVELS } from '../../../src/journal/records';
import { inOrder } from '../../../src/plan/order';
import { candidate, randomCandidates, seeded } from './cases';

const ids = (items: readonly { id: string }[]): string => items.map(({ id }) => id).join(' ');

describe('inside a part', () => {
  test('levels rise', () => {
    const items = ['create', 'remember', 'analyse'].map((level, k) =>
      candidate(`q${k}`, { level: level as 'create' }),
    );
    expect(ids(inOrder(items))).toBe('q1 q2 q0');
  });

  test('at one level, places in a book go forward', () => {
    const items = [9, 2, 5].map((place) => candidate(`p${place}`, { books: ['b'], place }));
    expect(ids(inOrder(items))).toBe('p2 p5 p9');
  });

  test('a quotation stands straight before the question about the same place', () => {
    const quote = candidate('quote', { kind: 'quote', level: undefined, books: ['b'], place: 7 });
    const easy = candidate('easy', { level: 'remember', books: ['b'], place: 3 });
    const about = candidate('about', { level: 'analyse', books: ['b'], place: 7 });
    expect(ids(inOrder([about, easy, quote]))).toBe('easy quote about');
  });

  test('a quotation of the same place in another book is not about it', () => {
    const quote = candidate('quote', { kind: 'quote', level: undefined, books: ['c'], place: 7 });
    const about = candidate('about', { level: 'analyse', books: ['b'], place: 7 });
    const easy = candidate('easy', { level: 'remember', books: ['b'], place: 3 });
    expect(ids(inOrder([about, easy, quote]))).toBe('quote easy about');
  });

  test('a quotation with no question of its own stands among the places of its book', () => {
    const quote = candidate('quote', { kind: 'quote', level: undefined, books: ['b'], place: 5 });
    const early = candidate('early', { books: ['b'], place: 2 });
    const later = candidate('later', { books: ['b'], place: 8 });
    expect(ids(inOrder([later, quote, early]))).toBe('early quote later');
  });

  test('what was placed by hand keeps its position', () => {
    const fixed = candidate('fixed', { level: 'create', fixed: { part: 0, position: 0 } });
    expect(ids(inOrder([candidate('a', { level: 'remember' }), fixed]))).toBe('fixed a');
  });

  test('a quotation still stands before a question that was placed by hand', () => {
    const about = candidate('about', { books: ['b'], place: 7, fixed: { part: 0, position: 1 } });
    const quote = candidate('quote', { kind: 'quote', level: undefined, books: ['b'], place: 7 });
    const easy = candidate('easy', { level: 'remember', books: ['c'], place: 1 });
    const ordered = inOrder([easy, about, quote]);
    expect(ordered[1]!.id).toBe('about');
    expect(ordered[0]!.id).toBe('quote');
  });

  test('whatever the items, levels never fall and nothing is lost', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 1e6 }),
        fc.integer({ min: 0, max: 20 }),
        (seed, count) => {
          const items = randomCandidates(seeded(seed), count);
          const ordered = inOrder(items);
          expect([...ordered].sort((a, b) => (a.id < b.id ? -1 : 1))).toEqual(items);
          expect(inOrder([...items].reverse())).toEqual(ordered);
          const heights = ordered.flatMap(({ level }) => (level ? [LEVELS.indexOf(level)] : []));
          expect(heights).toEqual([...heights].sort((a, b) => a - b));
          for (const quote of ordered.filter(({ kind, level }) => kind === 'quote' && !level)) {
            const about = ordered.findIndex(
              (item) =>
                item.kind === 'question' &&
                item.place === quote.place &&
                item.books[0] !== undefined &&
                item.books[0] === quote.books[0],
            );
            if (about >= 0) expect(ordered.indexOf(quote)).toBeLessThan(about);
          }
        },
      ),
    );
  });
});
