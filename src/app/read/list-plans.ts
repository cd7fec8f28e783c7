/** Plans of lists that an earlier version kept in this browser: they belong to the journal, and are handed over to it once. */
import type { ReadingDesk } from '../../engine/reading-desk';
import type { ListId, ListPace } from '../../journal/records';

const STORED = 'bookweft.list-plans';

/** Gives each list the plan this browser held for it, unless it has one; what belongs to no list of this journal waits for its own. */
export async function handOverPlans(
  desk: Pick<ReadingDesk, 'list' | 'paceList'>,
  store: Pick<Storage, 'getItem' | 'setItem' | 'removeItem'> = localStorage,
): Promise<void> {
  const held = read(store);
  for (const [id, { order, perDay, finishBy, free }] of Object.entries(held)) {
    const list = await desk.list(id as ListId, {});
    if (!list) continue;
    const plan: ListPace = {
      ...(order && order !== 'hand' ? { order } : {}),
      ...(perDay ? { perDay } : {}),
      ...(finishBy ? { finishBy } : {}),
      ...(free ? { free } : {}),
    };
    if (Object.keys(list.plan).length === 0 && Object.keys(plan).length > 0)
      await desk.paceList(id as ListId, plan);
    delete held[id];
  }
  if (Object.keys(held).length > 0) store.setItem(STORED, JSON.stringify(held));
  else store.removeItem(STORED);
}

function read(store: Pick<Storage, 'getItem'>): Record<string, ListPace> {
  try {
    const held: unknown = JSON.parse(store.getItem(STORED) ?? '{}');
    const plans = typeof held === 'object' && held !== null ? Object.entries(held) : [];
    return Object.fromEntries(plans.filter(([, plan]) => typeof plan === 'object' && plan));
  } catch {
    return {};
  }
}
