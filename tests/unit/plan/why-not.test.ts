import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { compose, type Candidate } from '../../../src/plan/compose';
import { whyNot, whyNotOf } from '../../../src/plan/why-not';
import { worthOf } from '../../../src/plan/worth';
import { fittedParts } from '../../../src/plan/stretch';
import { candidate, randomCandidates, request, seeded } from './cases';

const full = Array.from({ length: 14 }, (_, k) =>
  candidate(`full${String(k).padStart(2, '0')}`, { relevance: 0.95 }),
);

function reason(one: Candidate, others: Candidate[] = full, ask = request()) {
  const candidates = [...others, one];
  return whyNotOf(one.id, ask, candidates, compose(ask, candidates));
}

describe('why an entry is not in the guide', () => {
  test.each<[string, Partial<Candidate>]>([
    ['put-aside', { refused: true }],
    ['kept-spare', { spare: true }],
    ['off-focus', { relevance: 0 }],
    ['resting', { rest: 0 }],
    [
      'suits-no-part',
      { kind: 'assignment', suits: { Opening: 0, 'Close reading': 0, Connections: 0, Closing: 0 } },
    ],
    ['displaces', { relevance: 0.4 }],
  ])('%s', (code, more) => {
    expect(reason(candidate('one', more)).code).toBe(code);
  });

  test('too long for any part: it says by how many minutes', () => {
    const longest = Math.max(...request().parts.map(({ minutes }) => minutes));
    const told = reason(candidate('one', { minutes: longest + 3 }));
    expect(told).toMatchObject({ code: 'no-room', over: 3 });
    expect(told.text).toContain('3 minutes more than Close reading');
  });

  test('saying the same as another: it names the other by its label', () => {
    const words = ['wall', 'lichen', 'knowledg', 'cling', 'rock'];
    const other = candidate('other', { words, relevance: 1, label: 'If knowledge clings' });
    const told = reason(candidate('one', { words, relevance: 0.9 }), [other]);
    expect(told).toMatchObject({ code: 'says-the-same', as: 'other' });
    expect(told.text).toContain('“If knowledge clings”');
  });

  test('an entry in the guide, and one never weighed, are told as such', () => {
    const plan = compose(request(), full);
    const placed = plan.parts[1]!.items[0]!.id;
    expect(whyNotOf(placed, request(), full, plan).code).toBe('in-guide');
    expect(whyNotOf('stranger', request(), full, plan).code).toBe('unknown');
    expect(whyNot('stranger', request(), full, plan)).toMatch(/nothing to do with the focus/);
  });

  test('a displacement told is true: the guide with the exchange is worth no more', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e5 }), (seed) => {
        const candidates = randomCandidates(seeded(seed), 40);
        const ask = request(60);
        const plan = compose(ask, candidates);
        const fitted = { ...ask, parts: fittedParts(ask, candidates) };
        const placed = plan.parts.map(({ items }) => items.map(({ id }) => id));
        for (const { id } of candidates) {
          const told = whyNotOf(id, ask, candidates, plan);
          expect(told.text).toMatch(/^[A-Z].*\.$/);
          if (told.code !== 'displaces') continue;
          fitted.parts.forEach((part, p) => {
            const swapped = placed.map((list, q) => [
              ...list.filter((other) => other !== told.other),
              ...(p === q ? [id] : []),
            ]);
            const used = swapped[p]!.reduce(
              (sum, other) => sum + candidates.find((one) => one.id === other)!.minutes,
              0,
            );
            if (used > part.minutes + 1e-9) return;
            const { value } = worthOf(fitted, candidates, swapped);
            // NaN where the part is not for its kind.
            if (!Number.isNaN(value))
              expect(value).toBeLessThanOrEqual(plan.objective.value + 1e-6);
          });
        }
      }),
      { numRuns: 12 },
    );
  });
});
