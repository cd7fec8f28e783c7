/** Made-up candidates and requests for tests, the same for the same seed. */
import type { Candidate, PlanRequest } from '../../../src/plan/compose';
import { aimsFor } from '../../../src/plan/aims';
import { partsFor } from '../../../src/plan/shapes';
import { ENTRY_KINDS, LEVELS, type Shape } from '../../../src/journal/records';

export type Random = () => number;

/** Park & Miller's minimal standard generator (1988), 0 to 1. */
export function seeded(seed: number): Random {
  let state = (seed % 2147483646) + 1;
  return () => (state = (state * 48271) % 2147483647) / 2147483647;
}

export const pick = <T>(random: Random, list: readonly T[]): T =>
  list[Math.floor(random() * list.length)]!;

export function candidate(id: string, more: Partial<Candidate> = {}): Candidate {
  return {
    id,
    kind: 'question',
    level: 'analyse',
    minutes: 6,
    relevance: 0.8,
    rest: 1,
    books: [],
    themes: [],
    words: [id],
    ...more,
  };
}

export function request(
  minutes = 60,
  shape: Shape = 'discussion',
  more: Partial<PlanRequest> = {},
): PlanRequest {
  return {
    shape,
    minutes,
    parts: partsFor(shape, minutes),
    aims: aimsFor(shape, minutes),
    focusBooks: ['b0', 'b1'],
    focusThemes: ['t0'],
    spareTarget: minutes,
    ...more,
  };
}

/** Candidates of all kinds; about one in ten is a rewording of an earlier one. */
export function randomCandidates(random: Random, count: number): Candidate[] {
  const made: Candidate[] = [];
  for (let k = 0; k < count; k += 1) {
    const kind = random() < 0.55 ? 'question' : pick(random, ENTRY_KINDS);
    const like = k > 3 && random() < 0.1 ? [...pick(random, made).words].slice(1) : undefined;
    made.push({
      id: `e${String(k).padStart(4, '0')}`,
      kind,
      ...(kind === 'question' || random() < 0.2 ? { level: pick(random, LEVELS) } : {}),
      minutes: kind === 'lesson' ? 5 + Math.floor(random() * 12) : 2 + Math.floor(random() * 8),
      relevance: 0.1 + 0.9 * random(),
      rest: random() < 0.15 ? 0 : random() < 0.3 ? 0.6 + 0.35 * random() : 1,
      books: ['b0', 'b1', 'b2'].filter(() => random() < 0.35),
      themes: ['t0', 't1'].filter(() => random() < 0.3),
      words: [
        ...(like ?? []),
        ...Array.from({ length: like ? 2 : 10 }, () => `w${Math.floor(random() * 900)}`),
      ],
      place: Math.floor(random() * 30),
    });
  }
  return made;
}
