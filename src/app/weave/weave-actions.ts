/** What can be done in Weave by the palette, and the keys that are told at the foot. */
import type { Action, KeyHint } from '../house.svelte';
import { SHOWINGS, type Showing, type WeaveState } from './weave.svelte';

const HINTS: Partial<Record<Showing, KeyHint[]>> = {
  cloth: [
    { keys: ['←', '→', '↑', '↓'], does: 'move along threads' },
    { keys: ['Enter'], does: 'open knot' },
    { keys: ['B'], does: 'whole book' },
    { keys: ['H'], does: 'whole theme' },
    { keys: ['C'], does: 'connect two' },
  ],
  map: [
    { keys: ['←', '→', '↑', '↓'], does: 'to the next' },
    { keys: ['Shift', '→'], does: 'choose' },
    { keys: ['Enter'], does: 'open' },
    { keys: ['P'], does: 'keep in place' },
    { keys: ['Del'], does: 'take off' },
    { keys: ['Backspace'], does: 'step back' },
  ],
};
const FOLDS: KeyHint = { keys: ['O'], does: 'open or close a fold' };

/** The keys of what is shown; that of folds is told where the cloth has any. */
export function hintsOf({ bare, showing, cloth }: WeaveState): KeyHint[] {
  if (bare) return [];
  const folds = [...(cloth?.books ?? []), ...(cloth?.themes ?? [])].some(({ fold }) => fold);
  return [...(HINTS[showing] ?? []), ...(showing === 'cloth' && folds ? [FOLDS] : [])];
}

const SAYS: Record<Showing, string> = {
  cloth: 'Show the cloth',
  table: 'Show the cloth as a table',
  map: 'Show the map',
  gaps: 'Show gaps',
  strands: 'Show strands',
};

interface WeaveHands {
  /** Goes to the question of how two things are connected. */
  chain: () => void;
  /** Marks the crossing that is chosen, or connects it with the one that was marked. */
  connect: () => void;
  /** Whether a crossing was marked. */
  held: () => boolean;
  /** Whether one thread is shown at a time, and no crossing is chosen. */
  phone: () => boolean;
}

export function weaveActions(weave: WeaveState, hands: WeaveHands): Action[] {
  const crossing = (): boolean =>
    weave.showing === 'cloth' && weave.chosen !== undefined && !hands.phone();
  return [
    ...SHOWINGS.map((showing): Action => ({
      id: `weave-${showing}`,
      says: SAYS[showing],
      words: 'plain list grid missing cluster network',
      run: () => (weave.showing = showing),
    })),
    {
      id: 'weave-connect',
      says: 'How are two things connected?',
      words: 'chain path link between',
      run: hands.chain,
    },
    ...(['book', 'theme'] as const).map((what): Action => ({
      id: `weave-${what}`,
      says: () => `The whole ${what}${weave[what] ? `: ${weave[what].name}` : ''}`,
      words: 'thread all entries crossing',
      keys: what === 'book' ? 'B' : 'H',
      when: () => crossing(),
      run: () => weave.chosen && weave.choose({ ...weave.chosen, what }),
    })),
    {
      id: 'weave-from-here',
      says: () =>
        hands.held() ? 'Connect it with this crossing' : 'Connect this crossing with another',
      words: 'chain two path',
      keys: 'C',
      when: () => crossing(),
      run: hands.connect,
    },
    {
      id: 'weave-all-years',
      says: 'All years',
      words: 'time range span clear',
      when: () =>
        (weave.showing === 'cloth' || weave.showing === 'table') &&
        Object.keys(weave.span).length > 0,
      run: () => weave.setSpan({}),
    },
  ];
}
