/** A guide that is composed while its reader goes on: elsewhere, or altering it by hand. */
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { House } from '../../../src/app/house.svelte';
import { PlanState } from '../../../src/app/plan/plan.svelte';
import type { Composed } from '../../../src/engine/answers';
import type { Guide } from '../../../src/journal/records';

const guideOf = (title: string): Guide =>
  ({
    id: 'g',
    title,
    focus: {},
    minutes: 60,
    shape: 'discussion',
    parts: [{ name: 'Opening', minutes: 5, items: [{ kind: 'free', text: 'Hello', minutes: 5 }] }],
  }) as unknown as Guide;
const composed = (title: string): Composed =>
  ({
    candidates: 3,
    guide: guideOf(title),
    answer: { parts: [{ items: [{}] }], objective: {} },
  }) as unknown as Composed;

const address = vi.fn();
let answer: (composed: Composed) => void;
let kept: Guide[];
let said: string[];

/** Plan over a desk that composes only when it is told what to answer. */
function plan(): PlanState {
  const desk = {
    saveGuide: async (guide: Guide) => {
      kept.push(guide);
      return { ok: true, said: 'Kept' };
    },
    planning: {
      compose: () => new Promise<Composed>((done) => (answer = done)),
      guideView: async () => ({ parts: [], spare: [] }),
      suggest: async () => [],
      usualParts: async () => [],
      standing: async () => undefined,
    },
  };
  const house = {
    desk,
    tray: [],
    totals: { entries: 3 },
    route: { place: 'plan' },
    say: (words: string) => said.push(words),
  };
  return new PlanState(house as unknown as House);
}

beforeEach(() => {
  [kept, said] = [[], []];
  address.mockClear();
  vi.stubGlobal('history', { replaceState: address });
});
afterEach(() => vi.unstubAllGlobals());

test('a first guide has the address as its own', async () => {
  const state = plan();
  const composing = state.compose();
  answer(composed('Storms'));
  await composing;
  expect(kept).toEqual([expect.objectContaining({ title: 'Storms' })]);
  expect(address).toHaveBeenCalledWith(null, '', '#/plan/guide/g');
  expect(state.house.route).toEqual({ place: 'plan', open: 'guide', id: 'g' });
});

test('a reader who has gone elsewhere is left there, and told that the guide is kept', async () => {
  const state = plan();
  const composing = state.compose();
  state.house.route = { place: 'find' };
  answer(composed('Storms'));
  await composing;
  expect(kept).toHaveLength(1);
  expect(address).not.toHaveBeenCalled();
  expect(state.house.route).toEqual({ place: 'find' });
  expect(said.at(-1)).toBe('Storms is composed, and stands among the guides in Plan.');
});

test('what is altered while it is composed again stays', async () => {
  const state = plan();
  state.guide = guideOf('By hand');
  const composing = state.compose();
  await state.keep(guideOf('By hand, altered'));
  answer(composed('Storms'));
  await composing;
  expect(state.guide.title).toBe('By hand, altered');
  expect(kept.map(({ title }) => title)).toEqual(['By hand, altered']);
  expect(said.at(-1)).toMatch(/^It was altered while it was composed/);
});
