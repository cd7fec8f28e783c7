import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { csrOf } from '../../src/weave/csr';
import { cheapestWay } from '../../src/weave/shortest';
import { waysOf } from '../ways';

type Link = [number, number, number];
const SIZE = 7;

const linksArbitrary = fc.uniqueArray(
  fc
    .tuple(fc.nat(SIZE - 1), fc.nat(SIZE - 1), fc.integer({ min: 1, max: 9 }))
    .filter(([a, b]) => a < b),
  { maxLength: 14, selector: ([a, b]) => `${a} ${b}` },
);

/** Every way from 0 to 1 that comes to no node twice. */
function allWays(links: readonly Link[]): number[][] {
  const found: number[][] = [];
  const go = (way: number[]): void => {
    const last = way.at(-1)!;
    if (last === 1) {
      found.push(way);
      return;
    }
    for (const [a, b] of links) {
      const next = a === last ? b : b === last ? a : -1;
      if (next >= 0 && !way.includes(next)) go([...way, next]);
    }
  };
  go([0]);
  return found;
}

const costOf = (links: readonly Link[], way: readonly number[]): number =>
  way
    .slice(1)
    .map((to, at) => {
      const from = way[at]!;
      const link = links.find(([a, b]) => (a === from && b === to) || (a === to && b === from));
      return link?.[2] ?? Infinity;
    })
    .reduce((a, b) => a + b, 0);

describe('the cheapest way', () => {
  test('costs what the cheapest of all ways costs, tried one by one', () => {
    fc.assert(
      fc.property(linksArbitrary, (links) => {
        const cost = (a: number, b: number): number => costOf(links, [a, b]);
        const csr = csrOf(SIZE, links, 'undirected');
        const found = cheapestWay(waysOf(csr), 0, 1, cost, (a, b) => a < b);
        const ways = allWays(links);
        if (ways.length === 0) expect(found).toBeUndefined();
        else {
          const least = Math.min(...ways.map((way) => costOf(links, way)));
          expect(costOf(links, found!)).toBe(least);
          expect([found![0], found!.at(-1)]).toEqual([0, 1]);
        }
      }),
      { numRuns: 500 },
    );
  });

  test('does not depend on the order of links, even where several cost the same', () => {
    fc.assert(
      fc.property(linksArbitrary, fc.func(fc.integer()), (links, order) => {
        const same = links.map(([a, b]): Link => [a, b, 1]);
        const shuffled = [...same].sort((a, b) => order(a) - order(b));
        const way = (each: Link[]): number[] | undefined =>
          cheapestWay(
            waysOf(csrOf(SIZE, each, 'undirected')),
            0,
            1,
            () => 1,
            (a, b) => a < b,
          );
        expect(way(shuffled)).toEqual(way(same));
      }),
    );
  });
});
