/** What can be done in Plan with the item that is chosen, for the palette. */
import type { Action, House } from '../house.svelte';
import type { PlanState } from './plan.svelte';

/** `after` brings the focus back to the item, wherever it has come to. */
export function itemActions(house: House, plan: PlanState, after: () => void): Action[] {
  const item = (): boolean =>
    plan.chosenItem !== undefined && !['circle', 'run'].includes(house.route.open ?? '');
  const withItem = (doing: (at: NonNullable<typeof plan.chosen>) => void) => (): void => {
    if (plan.chosen) doing(plan.chosen);
    after();
  };
  return [
    {
      id: 'item-up',
      says: 'Move the item up',
      words: 'reorder',
      keys: 'Alt ↑',
      when: item,
      run: withItem((at) => plan.move(at, -1)),
    },
    {
      id: 'item-down',
      says: 'Move the item down',
      words: 'reorder',
      keys: 'Alt ↓',
      when: item,
      run: withItem((at) => plan.move(at, 1)),
    },
    {
      id: 'item-more',
      says: 'A minute more for the item',
      words: 'longer time',
      keys: '+',
      when: item,
      run: withItem((at) => plan.minutes(at, (plan.chosenItem?.minutes ?? 0) + 1)),
    },
    {
      id: 'item-less',
      says: 'A minute less for the item',
      words: 'shorter time',
      keys: '−',
      when: item,
      run: withItem((at) => plan.minutes(at, (plan.chosenItem?.minutes ?? 2) - 1)),
    },
    {
      id: 'item-level',
      says: 'Next level for the item',
      words: 'thinking taxonomy',
      keys: 'L',
      when: item,
      run: withItem((at) => plan.nextLevel(at)),
    },
    {
      id: 'item-must',
      says: 'The item must stay, or need not',
      words: 'must keep',
      keys: 'M',
      when: item,
      run: withItem((at) => plan.must(at, !plan.chosenItem?.must)),
    },
    {
      id: 'item-spare',
      says: 'Hold the item ready as a spare',
      when: item,
      run: withItem((at) => plan.takeOut(at, 'spare')),
    },
    {
      id: 'item-out',
      says: 'Take the item out of the guide',
      words: 'remove delete',
      keys: 'Del',
      when: item,
      run: withItem((at) => plan.takeOut(at)),
    },
    {
      id: 'part-add',
      says: 'Add a part to the guide',
      when: () => plan.guide !== undefined && !['circle', 'run'].includes(house.route.open ?? ''),
      run: () => plan.addPart(),
    },
  ];
}
