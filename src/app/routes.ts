/** The places of the app and their addresses: `#/find/entry/ID`, `#/plan/guide/ID`. Nothing private goes in an address. */
export const PLACES = ['gather', 'find', 'weave', 'plan', 'read'] as const;
export type PlaceName = (typeof PLACES)[number];

export const PLACE_TITLES: Record<PlaceName, string> = {
  gather: 'Gather',
  find: 'Find',
  weave: 'Weave',
  plan: 'Plan',
  read: 'Read',
};

export interface Route {
  place: PlaceName;
  /** What is open in the place: "entry", "heading", "guide", "run", "write", "circles". */
  open?: string;
  id?: string;
}

/** A part of an address without its escapes; one that is broken stays as it is. */
function plainly(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

/** Reads an address; anything unknown leads to Find. */
export function readRoute(hash: string): Route {
  const [place, open, id] = hash.replace(/^#\/?/, '').split('/').map(plainly);
  const known = PLACES.find((name) => name === place);
  if (!known) return { place: 'find' };
  return { place: known, ...(open ? { open } : {}), ...(id ? { id } : {}) };
}

export function address({ place, open, id }: Route): string {
  return `#/${[place, open, id]
    .filter((part) => part !== undefined)
    .map(encodeURIComponent)
    .join('/')}`;
}
