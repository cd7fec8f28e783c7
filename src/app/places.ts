import type { Component } from 'svelte';
import type { PlaceName } from './routes';

type Loaded = Promise<{ default: Component }>;
type Later = Exclude<PlaceName, 'find'>;

/** Find opens first and comes with the house; the other places are fetched when they are gone to, or in a quiet moment. */
const PLACES: Record<Later, () => Loaded> = {
  gather: () => import('./gather/GatherPlace.svelte'),
  weave: () => import('./weave/WeavePlace.svelte'),
  plan: () => import('./plan/PlanPlace.svelte'),
  read: () => import('./read/ReadPlace.svelte'),
};

const asked = new Map<Later, Loaded>();

export function place(name: Later): Loaded {
  const known = asked.get(name);
  if (known) return known;
  const loaded = PLACES[name]();
  asked.set(name, loaded);
  // What failed is tried again when it is gone to once more.
  loaded.catch(() => asked.delete(name));
  return loaded;
}

export function fetchPlaces(): void {
  for (const name of Object.keys(PLACES) as Later[]) void place(name).catch(() => undefined);
}
