import type { PlanState } from './plan.svelte';

/** The chosen item may have another place by now: the hand goes with it, once it is drawn there. */
export function focusChosen(plan: PlanState): void {
  const to = plan.chosen;
  requestAnimationFrame(() =>
    setTimeout(() => to && document.getElementById(`item-${to.part}-${to.item}`)?.focus(), 60),
  );
}
