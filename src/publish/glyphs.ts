/** The marks of a printing: kinds by shape, levels by the tall sort, and the knot that ends a handout. Drawn once here, for the web page and for PDF. */
import { LEVELS, type Level } from '../journal/records';
import type { DocItem } from './model';

export type Mark = DocItem['kind'] | 'caution' | 'knot';

/** A shape in a square of 20 units: filled, or drawn with a line so many units wide. */
export interface Stroke {
  path: string;
  width?: number;
  /** How lines meet; mitred when left out. */
  round?: boolean;
  evenOdd?: boolean;
}

export const MARK_UNITS = 20;

export const MARKS: Record<Mark, readonly Stroke[]> = {
  note: [{ path: 'M4.4 10a5.6 5.6 0 1 0 11.2 0a5.6 5.6 0 1 0 -11.2 0Z' }],
  quote: [{ path: 'M4 4.2L9 10L4 15.8M11 4.2L16 10L11 15.8', width: 2.5 }],
  question: [
    { path: 'M5.2 7.2C5.2 4 7.3 2.4 10 2.4s4.8 1.7 4.8 4.4c0 3.4 -4.6 3.6 -4.6 7', width: 2.5 },
    { path: 'M8.35 17.1a1.75 1.75 0 1 0 3.5 0a1.75 1.75 0 1 0 -3.5 0Z' },
  ],
  lesson: [
    {
      path: 'M10 .8C10.7 6.9 13.1 9.3 19.2 10C13.1 10.7 10.7 13.1 10 19.2C9.3 13.1 6.9 10.7 .8 10C6.9 9.3 9.3 6.9 10 .8Z',
    },
  ],
  assignment: [{ path: 'M3 3h14v14H3ZM5.1 5.1v5.1h9.8V5.1Z', evenOdd: true }],
  free: [{ path: 'M5.4 10a4.6 4.6 0 1 0 9.2 0a4.6 4.6 0 1 0 -9.2 0Z', width: 2 }],
  caution: [
    { path: 'M10 1.5L19 18H1Z', width: 2, round: true },
    { path: 'M10 7v5.5M10 14.3v2', width: 2 },
  ],
  knot: [
    {
      path: 'M10 .6L14.4 5L10 9.4L5.6 5ZM15 5.6L19.4 10L15 14.4L10.6 10ZM10 10.6L14.4 15L10 19.4L5.6 15ZM5 5.6L9.4 10L5 14.4L.6 10Z',
    },
  ],
};

/** Six sorts on one line in a box of 29 by 11 units, the level's own tall. */
export const SORTS_BOX = { width: 29, height: 11 } as const;

export function sortsOf(
  level: Level,
): readonly { x: number; y: number; width: number; height: number }[] {
  return LEVELS.map((name, at) =>
    name === level
      ? { x: at * 5, y: 0, width: 3.4, height: 11 }
      : { x: at * 5, y: 7, width: 2.8, height: 4 },
  );
}

function svgOf({ path, width, round, evenOdd }: Stroke): string {
  const joined = round ? ' stroke-linejoin="round"' : '';
  const drawn = width ? ` fill="none" stroke="currentColor" stroke-width="${width}"${joined}` : '';
  return `<path d="${path}"${evenOdd ? ' fill-rule="evenodd"' : ''}${drawn}/>`;
}

/** The symbols, to stand once at the head of the page. */
export function symbols(): string {
  const shapes = Object.entries(MARKS).map(
    ([name, strokes]) =>
      `<symbol id="k-${name}" viewBox="0 0 20 20">${strokes.map(svgOf).join('')}</symbol>`,
  );
  const levels = LEVELS.map((name) => {
    const sorts = sortsOf(name).map(
      ({ x, y, width, height }) => `<rect x="${x}" y="${y}" width="${width}" height="${height}"/>`,
    );
    return `<symbol id="l-${name}" viewBox="0 0 29 11">${sorts.join('')}</symbol>`;
  });
  return `<svg class="symbols" width="0" height="0" aria-hidden="true" fill="currentColor">${[...shapes, ...levels].join('')}</svg>`;
}

/** One mark. With a name it speaks it; without, a word stands beside it and it keeps silent. */
export function glyph(shape: Mark, name?: string): string {
  const voice = name ? `role="img" aria-label="${name}"` : 'aria-hidden="true"';
  return `<svg class="glyph" viewBox="0 0 20 20" ${voice}><use href="#k-${shape}"/></svg>`;
}

export function levelSorts(level: Level): string {
  return `<svg class="sorts" viewBox="0 0 29 11" aria-hidden="true"><use href="#l-${level}"/></svg>`;
}
