import type { Component } from 'svelte';
import type { PlaceName } from './routes';

type Loaded = Promise<{ default: Component }>;
type Sheet = 'comfort' | 'copy' | 'first-run' | 'keep' | 'keep-menu' | 'publish' | 'writing';
type Part = PlaceName | Sheet;

/** The places and the sheets laid over them: fetched when they are gone to, or in a quiet moment. */
const PARTS: Record<Part, () => Loaded> = {
  find: () => import('./find/FindPlace.svelte'),
  gather: () => import('./gather/GatherPlace.svelte'),
  weave: () => import('./weave/WeavePlace.svelte'),
  plan: () => import('./plan/PlanPlace.svelte'),
  read: () => import('./read/ReadPlace.svelte'),
  comfort: () => import('./keep/Comfort.svelte'),
  copy: () => import('./keep/CopyIn.svelte'),
  'first-run': () => import('./keep/FirstRun.svelte'),
  keep: () => import('./keep/KeepPage.svelte'),
  'keep-menu': () => import('./keep/KeepMenu.svelte'),
  publish: () => import('./keep/PublishSheet.svelte'),
  writing: () => import('./write/Writing.svelte'),
};

/** What a part brings is run in one turn of the window and drawn in another, so that neither waits for both. */
const inTurn = <T>(loaded: T): Promise<T> =>
  new Promise((resolve) => setTimeout(resolve, 0, loaded));

const asked = new Map<Part, Loaded>();

export function part(name: Part): Loaded {
  const known = asked.get(name);
  if (known) return known;
  const loaded = PARTS[name]().then(inTurn);
  asked.set(name, loaded);
  // What failed is tried again when it is gone to once more.
  loaded.catch(() => asked.delete(name));
  return loaded;
}

/** Fetches what has not been gone to yet, one after the other, so that none holds up what is done meanwhile. */
export async function fetchParts(): Promise<void> {
  for (const name of Object.keys(PARTS) as Part[]) await part(name).catch(() => undefined);
}
