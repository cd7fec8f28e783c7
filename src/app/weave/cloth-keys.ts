/** What keys do on the cloth: where an arrow leads along a thread, and what single letters ask for. */
import type { ClothThread, ClothView } from '../../engine/weave-answers';
import { prefs } from '../prefs.svelte';
import type { Chosen } from './weave.svelte';

export interface Place {
  book: number;
  theme: number;
}

type KeyDone =
  | { to: Place; does?: undefined }
  | { to?: undefined; does: 'open' | 'book' | 'theme' | 'connect' | 'fold' | 'knot' };

const has = (cloth: ClothView, theme: number, book: number): boolean => {
  for (let knot = cloth.starts[theme]!; knot < cloth.starts[theme + 1]!; knot++) {
    if (cloth.at[knot] === book) return true;
  }
  return false;
};

/** The next crossing along a thread in a direction: the next that holds something, or with `every` the very next. */
export function along(
  cloth: ClothView,
  { book, theme }: Place,
  [dx, dy]: readonly [number, number],
  every: boolean,
): Place | undefined {
  let [column, row] = [book + dx, theme + dy];
  while (column >= 0 && column < cloth.books.length && row >= 0 && row < cloth.themes.length) {
    if (every || has(cloth, row, column)) return { book: column, theme: row };
    [column, row] = [column + dx, row + dy];
  }
  return undefined;
}

/** The farthest crossing in a direction that holds something; with `every`, the corner of the cloth. */
function end(
  cloth: ClothView,
  { theme }: Place,
  side: 'first' | 'last',
  every: boolean,
): Place | undefined {
  if (every) {
    return side === 'first'
      ? { book: 0, theme: 0 }
      : { book: cloth.books.length - 1, theme: cloth.themes.length - 1 };
  }
  const [from, to] = [cloth.starts[theme]!, cloth.starts[theme + 1]!];
  if (from === to) return undefined;
  return { book: cloth.at[side === 'first' ? from : to - 1]!, theme };
}

const ARROWS: Record<string, readonly [number, number]> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};
const PAGE = 8;

/** What a key does at a crossing, or undefined where it means nothing here. */
export function clothKey(
  event: Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'altKey' | 'shiftKey'>,
  { cloth, book, theme }: Place & { cloth: ClothView },
): KeyDone | undefined {
  if (event.altKey || event.metaKey || book < 0 || theme < 0) return undefined;
  const here = { book, theme };
  const to = (place: Place | undefined): KeyDone | undefined => ({ to: place ?? here });
  const arrow = ARROWS[event.key];
  if (arrow && !event.shiftKey) return to(along(cloth, here, arrow, event.ctrlKey));
  if (event.key === 'Home') return to(end(cloth, here, 'first', event.ctrlKey));
  if (event.key === 'End') return to(end(cloth, here, 'last', event.ctrlKey));
  if (event.ctrlKey) return undefined;
  if (event.key === 'PageDown')
    return to({ book, theme: Math.min(cloth.themes.length - 1, theme + PAGE) });
  if (event.key === 'PageUp') return to({ book, theme: Math.max(0, theme - PAGE) });
  if (event.key === 'Enter') return { does: 'open' };
  if (event.key === 'Escape') return { does: 'knot' };
  if (!prefs.held.keys || event.shiftKey) return undefined;
  const letters = { b: 'book', h: 'theme', c: 'connect', o: 'fold' } as const;
  const does = letters[event.key.toLowerCase() as keyof typeof letters];
  return does && { does };
}

/** The fold that is to be opened or closed: that of the whole thread that is chosen; at a crossing one that is closed before one that is open. */
export function foldAt(
  what: Chosen['what'],
  book: ClothThread | undefined,
  theme: ClothThread | undefined,
): string | undefined {
  const threads = what === 'knot' ? [book, theme] : [what === 'book' ? book : theme];
  const folds = threads.filter((thread) => thread?.fold);
  return (folds.find((thread) => thread?.folded) ?? folds[0])?.fold?.key;
}
