import { tick } from 'svelte';
import type { PlanState } from './plan.svelte';

/** The chosen item may have another place by now: the hand goes with it once it is drawn there, unless it went on meanwhile. */
export async function focusChosen(plan: PlanState): Promise<void> {
  const before = document.activeElement;
  await plan.viewed();
  await tick();
  const now = document.activeElement;
  const to = plan.chosen;
  const item = to && document.getElementById(`item-${to.part}-${to.item}`);
  // A field of the item itself, drawn anew in its new place, may have taken the focus.
  const still = now === before || now === document.body || now?.id.startsWith('item-');
  if (still || item?.closest('li')?.contains(now)) item?.focus();
}
