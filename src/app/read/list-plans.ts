/** How each list is planned, kept in this browser like other preferences: the journal itself holds the books and their order. */
import type { ListAsk } from '../../engine/reading-lists';

export type ListPlanHeld = Pick<ListAsk, 'order' | 'perDay' | 'finishBy' | 'free'>;
const STORED = 'bookweft.list-plans';

function all(): Record<string, ListPlanHeld> {
  try {
    return JSON.parse(localStorage.getItem(STORED) ?? '{}') as Record<string, ListPlanHeld>;
  } catch {
    return {};
  }
}

export const planFor = (id: string): ListPlanHeld => all()[id] ?? {};

export function keepPlan(id: string, plan: ListPlanHeld): void {
  try {
    localStorage.setItem(STORED, JSON.stringify({ ...all(), [id]: plan }));
  } catch {
    // A browser that stores nothing plans the list for this sitting.
  }
}
