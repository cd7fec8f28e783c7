import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { compose, type Candidate, type Plan } from '../../../src/plan/compose';
import { worthOf } from '../../../src/plan/worth';
import { fittedParts } from '../../../src/plan/stretch';
import { candidate, randomCandidates, request, seeded } from './cases';

const ids = (plan: Plan): string[] => plan.parts.flatMap(({ items }) => items.map(({ id }) => id));
const sum = (items: readonly { minutes: number }[]): number =>
  items.reduce((all, { minutes }) => all + minutes, 0);

/** Quick effort for properties tried many times. */
const QUICK = { rounds: 40, pool: 40, fills: 40, branching: 30_000 };

describe('whatever it is given, a guide', () => {
  const cases = fc.record({
    seed: fc.integer({ min: 0, max: 1e6 }),
    count: fc.integer({ min: 0, max: 60 }),
    minutes: fc.integer({ min: 15, max: 120 }),
    lesson: fc.boolean(),
  });
  const made = ({
    seed,
    count,
    minutes,
    lesson,
  }: {
    seed: number;
    count: number;
    minutes: number;
    lesson: boolean;
  }) => {
    const candidates = randomCandidates(seeded(seed), count);
    const ask = request(minutes, lesson ? 'lesson' : 'discussion');
    return { candidates, ask, plan: compose(ask, candidates, QUICK) };
  };

  test('keeps to the minutes of each part and of the whole', () => {
    fc.assert(
      fc.property(cases, (given) => {
        const { plan, ask } = made(given);
        for (const part of plan.parts)
          expect(sum(part.items)).toBeLessThanOrEqual(part.minutes + 1e-9);
        expect(plan.planned).toBeLessThanOrEqual(ask.minutes + 1e-9);
        expect(plan.planned).toBeCloseTo(sum(plan.parts.flatMap(({ items }) => items)), 9);
      }),
      { numRuns: 60 },
    );
  });

  test('has each item once, and no spare that is also placed', () => {
    fc.assert(
      fc.property(cases, (given) => {
        const { plan } = made(given);
        const all = [...ids(plan), ...plan.spare.map(({ id }) => id)];
        expect(new Set(all).size).toBe(all.length);
      }),
      { numRuns: 40 },
    );
  });

  test('is worth by the formula what it says it is, and no more than its bound', () => {
    fc.assert(
      fc.property(cases, (given) => {
        const { plan, candidates, ask } = made(given);
        const placed = plan.parts.map(({ items }) => items.map(({ id }) => id));
        const { value } = worthOf(
          { ...ask, parts: fittedParts(ask, candidates) },
          candidates,
          placed,
        );
        expect(plan.objective.value).toBeCloseTo(value, 6);
        expect(plan.objective.bound).toBeGreaterThanOrEqual(plan.objective.value);
        if (plan.objective.exact) expect(plan.objective.gap).toBe(0);
      }),
      { numRuns: 40 },
    );
  });

  test('is the same when the candidates come in another order', () => {
    fc.assert(
      fc.property(cases, (given) => {
        const { plan, candidates, ask } = made(given);
        expect(compose(ask, [...candidates].reverse(), QUICK)).toEqual(plan);
      }),
      { numRuns: 20 },
    );
  });

  test('leaves nothing in that would be worth more left out', () => {
    fc.assert(
      fc.property(cases, (given) => {
        const { plan, candidates, ask } = made(given);
        const fitted = { ...ask, parts: fittedParts(ask, candidates) };
        const placed = plan.parts.map(({ items }) => items.map(({ id }) => id));
        for (const id of ids(plan)) {
          const without = placed.map((list) => list.filter((other) => other !== id));
          expect(worthOf(fitted, candidates, without).value).toBeLessThanOrEqual(
            plan.objective.value + 1e-6,
          );
        }
      }),
      { numRuns: 25 },
    );
  });
});

describe('what the leader insists on', () => {
  const crowd = randomCandidates(seeded(5), 40);

  test('stays in, however little it suits', () => {
    const must = candidate('must', { must: true, relevance: 0, rest: 0, level: 'remember' });
    const plan = compose(request(), [...crowd, must]);
    expect(ids(plan)).toContain('must');
    expect(plan.late).not.toContain('must');
  });

  test('stays in even where it does not fit the time', () => {
    const musts = Array.from({ length: 6 }, (_, k) =>
      candidate(`must${k}`, { must: true, minutes: 20 }),
    );
    const plan = compose(request(45), [...crowd, ...musts]);
    expect(ids(plan).filter((id) => id.startsWith('must'))).toHaveLength(6);
    expect(plan.planned).toBeGreaterThan(45);
    expect(plan.objective.bound).toBeGreaterThanOrEqual(plan.objective.value);
  });

  test('placed by hand stays in its part, at its position, for its minutes', () => {
    const fixed = candidate('fixed', {
      fixed: { part: 2, position: 1, minutes: 4 },
      kind: 'note',
      rest: 0,
    });
    const plan = compose(request(90), [...crowd, fixed]);
    expect(plan.parts[2]!.items[1]).toMatchObject({ id: 'fixed', minutes: 4 });
    expect(plan.parts[2]!.items[1]!.reasons).toContain('placed by you');
    expect(plan.late).not.toContain('fixed');
  });

  test('in a part that is gone stands in the last one', () => {
    const plan = compose(request(), [candidate('fixed', { fixed: { part: 9, position: 0 } })]);
    expect(plan.parts.at(-1)!.items.map(({ id }) => id)).toEqual(['fixed']);
  });

  test('put aside is neither placed nor a spare, unless it was placed by hand afterwards', () => {
    const aside = candidate('aside', { refused: true, must: true, relevance: 1 });
    const back = candidate('back', { refused: true, fixed: { part: 1, position: 0 } });
    const plan = compose(request(), [...crowd, aside, back]);
    expect(ids(plan)).not.toContain('aside');
    expect(plan.spare.map(({ id }) => id)).not.toContain('aside');
    expect(ids(plan)).toContain('back');
  });

  test('composing again from what was composed, all of it fixed, changes nothing', () => {
    const ask = request();
    const first = compose(ask, crowd);
    const at = new Map<string, Candidate['fixed']>();
    first.parts.forEach(({ items }, part) =>
      items.forEach(({ id, minutes }, position) => at.set(id, { part, position, minutes })),
    );
    const again = compose(
      ask,
      crowd.map((one) => ({ ...one, ...(at.has(one.id) ? { fixed: at.get(one.id)! } : {}) })),
    );
    for (const [p, part] of first.parts.entries()) {
      const kept = again.parts[p]!.items.map(({ id }) => id).filter((id) => at.has(id));
      expect(kept).toEqual(part.items.map(({ id }) => id));
    }
  });
});

describe('what is chosen', () => {
  test('what was used inside the resting time is left out', () => {
    const plan = compose(request(), [candidate('rested'), candidate('tired', { rest: 0 })]);
    expect(ids(plan)).toEqual(['rested']);
    expect(plan.spare).toEqual([]);
  });

  test('of two that say the same, one is taken', () => {
    const words = ['wall', 'lichen', 'knowledg', 'cling', 'rock', 'stop'];
    const plan = compose(request(), [
      candidate('a', { words }),
      candidate('b', { words: [...words, 'once'] }),
    ]);
    expect(ids(plan)).toHaveLength(1);
  });

  test('a second book of the focus is brought in before a fourth item on the first', () => {
    const ask = request(45, 'discussion', { focusThemes: [] });
    const first = Array.from({ length: 12 }, (_, k) =>
      candidate(`a${k}`, { books: ['b0'], relevance: 0.9 }),
    );
    const plan = compose(ask, [...first, candidate('z', { books: ['b1'], relevance: 0.75 })]);
    expect(ids(plan)).toContain('z');
  });

  test('levels are spread: a lower-ranked evaluate question beats one more analyse question', () => {
    const analyse = Array.from({ length: 10 }, (_, k) => candidate(`a${k}`, { relevance: 0.9 }));
    const plan = compose(request(60), [
      ...analyse,
      candidate('z', { level: 'evaluate', relevance: 0.8 }),
    ]);
    expect(ids(plan)).toContain('z');
    expect(plan.levels.evaluate).toBe(6);
  });

  test('spares come to about as many minutes as asked for, and those kept by the leader come first', () => {
    const crowd = randomCandidates(seeded(11), 200);
    const plan = compose(request(60), [
      ...crowd,
      candidate('kept', { spare: true, relevance: 0.2 }),
    ]);
    expect(plan.spare[0]!.id).toBe('kept');
    expect(ids(plan)).not.toContain('kept');
    expect(sum(plan.spare)).toBeGreaterThan(45);
    expect(sum(plan.spare)).toBeLessThanOrEqual(60);
    expect(compose(request(60, 'discussion', { spareTarget: 0 }), crowd).spare).toEqual([]);
  });

  test('when late, everything may go but musts, what was placed by hand and the last item of the closing', () => {
    const crowd = randomCandidates(seeded(3), 60);
    crowd[0] = { ...crowd[0]!, must: true };
    const plan = compose(request(60), crowd);
    const closing = plan.parts.at(-1)!.items.at(-1)!.id;
    const expected = ids(plan).filter((id) => id !== closing && id !== crowd[0]!.id);
    expect([...plan.late].sort()).toEqual(expected.sort());
  });

  test('nothing to choose from gives an empty guide, and no parts give none', () => {
    const empty = compose(request(), []);
    expect(empty.planned).toBe(0);
    expect(empty.objective).toEqual({ value: 0, bound: 0, gap: 0, exact: true });
    expect(compose({ ...request(), parts: [] }, [candidate('a')]).parts).toEqual([]);
  });

  test('two candidates with one id, or minutes that are no length of time, are a bug and throw', () => {
    expect(() => compose(request(), [candidate('a'), candidate('a')])).toThrow(/id a/);
    expect(() => compose(request(), [candidate('a', { minutes: -1 })])).toThrow(/length of time/);
    expect(() => compose(request(), [candidate('a', { minutes: NaN })])).toThrow(/length of time/);
  });
});

describe('parts are fitted to what there is', () => {
  test('a lesson makes room for a lesson idea longer than its Teaching', () => {
    const idea = candidate('idea', { kind: 'lesson', level: 'apply', minutes: 25, relevance: 1 });
    const plan = compose(request(45, 'lesson'), [idea]);
    expect(ids(plan)).toEqual(['idea']);
    expect(plan.parts.reduce((all, { minutes }) => all + minutes, 0)).toBeLessThanOrEqual(45);
  });

  test('the closing takes from slack where nothing that suits it would fit', () => {
    const ask = request(60);
    const closing = ask.parts.at(-1)!.minutes;
    const plan = compose(ask, [candidate('end', { level: 'evaluate', minutes: closing + 2 })]);
    expect(plan.parts.at(-1)!.minutes).toBe(closing + 2);
  });

  test('parts the leader has set keep their minutes', () => {
    const ask = request(60);
    ask.parts[3]!.minutes = 3;
    const plan = compose(ask, [candidate('end', { level: 'evaluate', minutes: 5 })]);
    expect(plan.parts.map(({ minutes }) => minutes)).toEqual(
      ask.parts.map(({ minutes }) => minutes),
    );
  });
});

test('5,000 candidates are composed in under 300 milliseconds', () => {
  const crowd = randomCandidates(seeded(42), 5_000);
  const ask = request(60);
  let best = Infinity;
  for (let run = 0; run < 6; run += 1) {
    const from = performance.now();
    const plan = compose(ask, crowd);
    best = Math.min(best, performance.now() - from);
    expect(plan.objective.gap).toBeLessThan(0.06);
  }
  expect(best).toBeLessThan(300);
});
