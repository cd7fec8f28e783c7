import { expect, test } from 'vitest';
import { findActions, narrowingActions } from '../../../src/app/find/find-actions';
import { FindState } from '../../../src/app/find/find.svelte';
import type { House } from '../../../src/app/house.svelte';
import type { FindQuery } from '../../../src/find/query';
import type { Desk } from '../../../src/engine/desk';
import type { Circle } from '../../../src/journal/records';

const desk = { find: () => new Promise(() => undefined) } as unknown as Desk;
const hands = { chosen: () => undefined, inHand: () => [], tie: () => {}, removed: () => {} };

function palette(): { find: FindState; says: (id: string) => string; run: (id: string) => void } {
  const find = new FindState(desk);
  find.circles = [{ id: 'c', name: 'Harbour Lane' } as unknown as Circle];
  find.facets = { theme: {}, book: {}, person: {}, year: {} } as unknown as FindState['facets'];
  const action = (id: string): { says: string | (() => string); run: () => void } =>
    [...findActions({} as House, find, hands), ...narrowingActions(find)].find(
      (one) => one.id === id,
    )!;
  return {
    find,
    says: (id) => {
      const { says } = action(id);
      return typeof says === 'function' ? says() : says;
    },
    run: (id) => action(id).run(),
  };
}

test.each<[string, FindQuery['use'], string, string]>([
  ['show-unused', { never: true }, 'only what was never used', 'also what was used'],
  ['show-used', { used: true }, 'only what was used before', 'also what was never used'],
  [
    'show-rested',
    { restedMonths: 24 },
    'only what has rested two years',
    'also what was used in the last two years',
  ],
  [
    'narrow-unused-c',
    { unusedWith: 'c' } as FindQuery['use'],
    'only what was never used with Harbour Lane',
    'also what was used with Harbour Lane',
  ],
])('%s narrows by use, and says what it does when it is on', (id, use, only, also) => {
  const { find, says, run } = palette();
  expect(says(id)).toBe(`Show ${only}`);
  run(id);
  expect(find.use).toEqual(use);
  expect(says(id)).toBe(`Show ${also}`);
  run(id);
  expect(find.use).toBeUndefined();
  expect(says(id)).toBe(`Show ${only}`);
});
