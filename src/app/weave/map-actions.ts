/** What can be done with a map by the palette and by keys, while it is looked at. */
import type { ThingSaid } from '../../engine/weave-answers';
import type { Action } from '../house.svelte';
import type { MapState } from './map.svelte';

/** What the map's own view does for them. */
export interface MapHands {
  open: (key: string) => void;
  middle: (thing: ThingSaid) => void;
  back: () => void;
  zoom: (by: 'in' | 'out' | 'all') => void;
  /** Begins to draw a line round things, or leaves off. */
  drawRound: () => void;
  /** Lets go of what is chosen and leaves off drawing. */
  letGo: () => void;
  /** A key moved to another node. */
  moved: () => void;
  save: (as: 'svg' | 'png') => void;
}

export function mapActions(map: MapState, hands: MapHands): Action[] {
  const focused = (): ThingSaid | undefined => map.thing(map.focus);
  return [
    {
      id: 'map-open',
      says: () => `Open out ${focused()?.text ?? ''}`,
      words: 'map around',
      when: () => focused() !== undefined,
      run: () => map.focus && hands.open(map.focus),
    },
    {
      id: 'map-pin',
      says: () => `Keep ${focused()?.text ?? ''} in place, or let it go`,
      words: 'map pin hold',
      keys: 'P',
      when: () => focused() !== undefined && !map.isWhole,
      run: () => map.focus && map.pin(map.focus),
    },
    {
      id: 'map-off',
      says: 'Take what is chosen off the map',
      words: 'prune remove hide',
      keys: 'Del',
      when: () => focused() !== undefined && !map.isWhole,
      run: () => pruned(map),
    },
    {
      id: 'map-back',
      says: 'Step back to the map before',
      words: 'undo',
      keys: 'Backspace',
      when: () => map.steps > 0,
      run: hands.back,
    },
    {
      id: 'map-whole',
      says: 'Map of the whole journal',
      when: () => !map.isWhole,
      run: () => map.wholeJournal(),
    },
    {
      id: 'map-all',
      says: 'Show all of the map',
      words: 'zoom fit',
      run: () => hands.zoom('all'),
    },
    {
      id: 'map-round',
      says: 'Draw a line round things of the map',
      words: 'lasso choose select',
      run: hands.drawRound,
    },
    {
      id: 'map-svg',
      says: 'Save the map as SVG',
      words: 'picture export',
      run: () => hands.save('svg'),
    },
    {
      id: 'map-png',
      says: 'Save the map as PNG',
      words: 'picture export',
      run: () => hands.save('png'),
    },
  ];
}

const ARROWS: Record<string, readonly [number, number]> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** Does what a key asks for on the map; keys it knows nothing of go on to the page. */
export function mapKey(event: KeyboardEvent, map: MapState, hands: MapHands): void {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const { focus } = map;
  const arrow = ARROWS[event.key];
  const does: Record<string, (() => void) | undefined> = {
    Enter: () => focus && hands.open(focus),
    ' ': () => map.choose(focus, true),
    Delete: () => pruned(map),
    Backspace: hands.back,
    Escape: hands.letGo,
    p: () => focus && !map.isWhole && map.pin(focus),
    m: () => {
      const thing = map.thing(focus);
      if (thing) hands.middle(thing);
    },
    '+': () => hands.zoom('in'),
    '=': () => hands.zoom('in'),
    '-': () => hands.zoom('out'),
    '0': () => hands.zoom('all'),
  };
  const run = does[event.key];
  if (!arrow && !run) return;
  event.preventDefault();
  event.stopPropagation();
  if (arrow) {
    map.step(arrow, event.shiftKey);
    hands.moved();
  } else run?.();
}

/** Takes what is chosen off the map, or what is looked at. */
function pruned(map: MapState): void {
  if (map.isWhole) return;
  map.prune(map.chosen.size > 0 ? [...map.chosen] : map.focus ? [map.focus] : []);
}
