/** A guide that is composed while its reader goes on: elsewhere, or altering it by hand. */
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import type { House } from '../../../src/app/house.svelte';
import { PlanState } from '../../../src/app/plan/plan.svelte';
import type { Composed } from '../../../src/engine/answers';
import type { PlanAsk } from '../../../src/engine/planning';
import type { EntryId, Guide } from '../../../src/journal/records';

const guideOf = (title: string): Guide =>
  ({
    id: 'g',
    title,
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
let tray: EntryId[];
/** Entries the journal has. */
let has: EntryId[];
/** Why the journal keeps no guide. */
let refusal: string | undefined;

/** Plan over a desk that composes only when it is told what to answer. */
function plan(): PlanState {
  const desk = {
    saveGuide: async (guide: Guide) => {
      if (refusal) return { ok: false, said: refusal };
      kept.push(guide);
      return { ok: true, said: 'Kept' };
    },
    rows: async (ids: EntryId[]) => has.filter((id) => ids.includes(id)).map((id) => ({ id })),
    circles: async () => [],
    planning: {
      compose: ({ focus }: PlanAsk) =>
        new Promise<Composed>((done) => {
          answer = (made) => done({ ...made, guide: Object.assign({ focus }, made.guide) });
        }),
      guideView: async () => ({ parts: [], spare: [] }),
      suggest: async () => [],
      usualParts: async () => [],
      standing: async () => undefined,
    },
  };
  const house = {
    desk,
    get tray() {
      return tray;
    },
    emptyTray: (of = tray) => (tray = tray.filter((id) => !of.includes(id))),
    totals: { entries: 3, loading: 0 },
    keep: { aside: [] },
    route: { place: 'plan' },
    say: (words: string) => said.push(words),
  };
  return new PlanState(house as unknown as House);
}

beforeEach(() => {
  [kept, said, tray, has, refusal] = [[], [], [], [], undefined];
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

describe('entries put by', () => {
  const ids = (...names: string[]): EntryId[] => names as EntryId[];
  async function composedFrom(state: PlanState): Promise<void> {
    await state.fresh();
    const composing = state.compose();
    answer(composed('Storms'));
    await composing;
  }

  test('are what a guide begins with, without those that were removed since', async () => {
    [tray, has] = [ids('a', 'gone', 'b'), ids('a', 'b')];
    const state = plan();
    await composedFrom(state);
    expect(state.purpose.entries).toEqual(ids('a', 'b'));
    expect(kept).toHaveLength(1);
    expect(tray).toEqual([]);
  });

  test('stay put by where the guide could not be kept, and it is not shown as kept', async () => {
    [tray, has] = [ids('a'), ids('a')];
    const state = plan();
    refusal = 'No room.';
    await composedFrom(state);
    expect(tray).toEqual(ids('a'));
    expect(address).not.toHaveBeenCalled();
    expect(state.guide).toBeUndefined();
    expect(said).toEqual(['No room.']);
    refusal = undefined;
    await composedFrom(state);
    expect(kept).toHaveLength(1);
    expect(tray).toEqual([]);
  });

  test('stay put by where they were put there while it was composed', async () => {
    [tray, has] = [ids('a'), ids('a', 'b')];
    const state = plan();
    await state.fresh();
    const composing = state.compose();
    tray = ids('a', 'b');
    answer(composed('Storms'));
    await composing;
    expect(tray).toEqual(ids('b'));
  });

  test('that are removed while it is composed are not in what it is altered to either', async () => {
    [tray, has] = [ids('a', 'b'), ids('a', 'b')];
    const state = plan();
    await state.fresh();
    const composing = state.compose();
    const { guide, ...rest } = composed('Storms');
    const focus = { words: [], headings: [], entries: ids('a') };
    answer({ ...rest, guide: { ...guide, focus } });
    await composing;
    state.purpose.words = 'sea';
    await state.purposeChanged();
    expect(kept.at(-1)?.focus).toEqual({ ...focus, words: ['sea'] });
  });

  test('are taken into a kept guide, without those that were removed since', async () => {
    [tray, has] = [ids('a', 'gone', 'b'), ids('a', 'b')];
    const state = plan();
    state.guide = guideOf('By hand');
    await state.takeTray();
    expect(kept.map(({ focus }) => focus.entries)).toEqual([ids('a', 'b')]);
    expect(tray).toEqual([]);
  });

  test('are put by still where a kept guide could not take them, or not all are here yet', async () => {
    [tray, has] = [ids('a', 'coming'), ids('a')];
    const state = plan();
    state.guide = guideOf('By hand');
    refusal = 'No room.';
    await state.takeTray();
    expect(state.purpose.entries).toEqual([]);
    expect(tray).toEqual(ids('a', 'coming'));
    refusal = undefined;
    state.house.totals = { ...state.house.totals!, loading: 5 };
    await state.takeTray();
    expect(state.purpose.entries).toEqual(ids('a'));
    expect(tray).toEqual(ids('coming'));
  });
});
