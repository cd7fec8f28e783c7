import type { EntryId } from '../../journal/records';
import type { House } from '../house.svelte';

/** Entries put by, as a guide takes them. */
interface Taken {
  /** Those the journal has: a guide can name no others. */
  there: EntryId[];
  /** Those that are put by no more once a guide is kept: what the journal has no more is among them. */
  done: readonly EntryId[];
}

/** What is not here because it still comes from the store, or lies aside unread, stays put by. */
export async function taken(house: House, ids: readonly EntryId[]): Promise<Taken> {
  if (ids.length === 0) return { there: [], done: [] };
  const whole = house.totals?.loading === 0 && house.keep.aside.length === 0;
  const has = new Set((await house.desk.rows([...ids])).map(({ id }) => id));
  const there = ids.filter((id) => has.has(id));
  return { there, done: whole ? ids : there };
}
