/** How Weave was left, so that who comes back finds it so: kept as long as the window is open, wherever one goes in the journal. */
import type { Desk } from '../../engine/desk';
import { ChainState } from './chain.svelte';
import { MapState } from './map.svelte';
import { WeaveState } from './weave.svelte';

interface Looked {
  weave: WeaveState;
  map: MapState;
  chain: ChainState;
}

/** Which journal was looked at, and after which of its changes. */
export interface Stand {
  journal: string;
  revision: number;
}

export class WeaveLeft {
  /** What a link last asked for. */
  #followed: string | undefined;

  constructor(
    readonly looked: Looked,
    public stand: Stand,
  ) {}

  /** As it was, but with nothing shown that might no longer be so. */
  anew(stand: Stand): WeaveLeft {
    const { weave, map, chain } = this.looked;
    const looked = { weave: weave.anew(), map: map.anew(), chain: chain.anew() };
    const next = new WeaveLeft(looked, stand);
    next.#followed = this.#followed;
    return next;
  }

  /** Whether a link to `id` is to be followed: not where the reader is back at one that was, with no other followed since. */
  follows(id: string): boolean {
    const state = history.state as { followed?: string } | null;
    const before = state?.followed === id && this.#followed === id;
    history.replaceState({ ...state, followed: id }, '');
    this.#followed = id;
    return !before;
  }
}

const asLeft = new WeakMap<Desk, WeaveLeft>();

/** How a journal was looked at last; what was shown of it stays shown only where it has not changed since. */
export function weaveAsLeft(desk: Desk, stand: Stand): WeaveLeft {
  const left = stoodAt(desk, asLeft.get(desk), stand);
  asLeft.set(desk, left);
  return left;
}

function stoodAt(desk: Desk, left: WeaveLeft | undefined, stand: Stand): WeaveLeft {
  if (left?.stand.journal === stand.journal)
    return left.stand.revision === stand.revision ? left : left.anew(stand);
  const [weave, map, chain] = [new WeaveState(desk), new MapState(desk), new ChainState(desk)];
  return new WeaveLeft({ weave, map, chain }, stand);
}
