import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { regionPlaces, type Region } from '../../../src/weave/regions';
import { ringPlaces, type RingNode } from '../../../src/weave/rings';

const far = (a: { x: number; y: number }, b: { x: number; y: number }): number =>
  Math.hypot(a.x - b.x, a.y - b.y);

describe('places on rings', () => {
  const star: RingNode[] = [
    { id: 'middle', step: 0 },
    ...Array.from({ length: 12 }, (_, at) => ({ id: `n${at}`, step: 1, by: 'middle' })),
  ];

  it('put what is asked about in the middle, and its neighbours round it, beginning at the top', () => {
    const places = ringPlaces(star);
    expect(far(places.get('middle')!, { x: 0, y: 0 })).toBe(0);
    const top = places.get('n0')!;
    expect(top.x).toBeCloseTo(0);
    expect(top.y).toBeLessThan(0);
    const radii = star.slice(1).map(({ id }) => far(places.get(id)!, { x: 0, y: 0 }));
    for (const radius of radii) expect(radius).toBeCloseTo(radii[0]!);
  });

  it('are the same each time, and apart from each other, up to forty nodes', () => {
    fc.assert(
      fc.property(fc.array(fc.nat({ max: 38 }), { minLength: 1, maxLength: 39 }), (parents) => {
        const nodes: RingNode[] = [{ id: 'n0', step: 0 }];
        parents.forEach((raw, at) => {
          const by = nodes[raw % nodes.length]!;
          nodes.push({ id: `n${at + 1}`, step: by.step + 1, by: by.id });
        });
        const places = ringPlaces(nodes);
        expect(places.size).toBe(nodes.length);
        expect([...ringPlaces(nodes)]).toEqual([...places]);
        const all = [...places.values()];
        all.forEach((one, at) => {
          for (const other of all.slice(at + 1)) expect(far(one, other)).toBeGreaterThan(3);
        });
      }),
      { numRuns: 60 },
    );
  });

  it('leave nodes of the first ring where they were when one of them is opened', () => {
    const deep = Array.from({ length: 9 }, (_, at) => ({ id: `d${at}`, step: 2, by: 'n3' }));
    const opened = [...star, ...deep];
    const [before, after] = [ringPlaces(star), ringPlaces(opened)];
    for (const { id } of star) {
      expect(after.get(id)!.x).toBeCloseTo(before.get(id)!.x);
      expect(after.get(id)!.y).toBeCloseTo(before.get(id)!.y);
    }
  });
});

const arbitraryRegions = fc
  .array(fc.array(fc.nat({ max: 30 }), { minLength: 1, maxLength: 8 }), {
    minLength: 1,
    maxLength: 6,
  })
  .map((sizes) => {
    let next = 0;
    const take = (count: number): number[] => Array.from({ length: count }, () => next++);
    const regions = sizes.map((row): Region => ({
      headings: row.map((size) => ({ entries: take(size), size })),
      loose: take(row.length % 3),
    }));
    return { regions, entries: next };
  });

describe('places of a whole journal', () => {
  it('lie inside their regions, and regions lie apart', () => {
    fc.assert(
      fc.property(arbitraryRegions, ({ regions, entries }) => {
        const placed = regionPlaces(regions, entries);
        placed.regions.forEach((one, at) => {
          for (const other of placed.regions.slice(at + 1)) {
            expect(far(one, other)).toBeGreaterThanOrEqual(one.radius + other.radius - 1e-6);
          }
          const region = regions[at]!;
          const numbers = [...region.headings.flatMap((head) => head.entries), ...region.loose];
          for (const entry of numbers) {
            const x = placed.entries[entry * 2]!;
            const y = placed.entries[entry * 2 + 1]!;
            expect(far({ x, y }, one)).toBeLessThan(one.radius);
          }
        });
      }),
      { numRuns: 60 },
    );
  });

  it('are the same each time', () => {
    fc.assert(
      fc.property(arbitraryRegions, ({ regions, entries }) => {
        expect(regionPlaces(regions, entries)).toEqual(regionPlaces(regions, entries));
      }),
      { numRuns: 20 },
    );
  });

  it('keep entries at least half a step apart', () => {
    const numbers = Array.from({ length: 400 }, (_, at) => at);
    const { entries } = regionPlaces(
      [{ headings: [{ entries: numbers, size: 400 }], loose: [] }],
      400,
    );
    let least = Infinity;
    for (const a of numbers) {
      for (const b of numbers.slice(a + 1)) {
        const [x, y] = [
          entries[a * 2]! - entries[b * 2]!,
          entries[a * 2 + 1]! - entries[b * 2 + 1]!,
        ];
        least = Math.min(least, Math.hypot(x, y));
      }
    }
    expect(least).toBeGreaterThan(0.5);
  });
});
