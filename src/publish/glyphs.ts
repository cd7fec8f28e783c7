/** The marks of a printing as inline symbols: kinds by shape, levels by the tall sort, and the knot that ends a handout. */
import { LEVELS, type Level } from '../journal/records';
import type { DocItem } from './model';

const SHAPES: Record<DocItem['kind'] | 'caution' | 'knot', string> = {
  note: '<circle cx="10" cy="10" r="5.6"/>',
  quote:
    '<path d="M4 4.2 9 10l-5 5.8M11 4.2 16 10l-5 5.8" fill="none" stroke="currentColor" stroke-width="2.5"/>',
  question:
    '<path d="M5.2 7.2C5.2 4 7.3 2.4 10 2.4s4.8 1.7 4.8 4.4c0 3.4-4.6 3.6-4.6 7" fill="none" stroke="currentColor" stroke-width="2.5"/><circle cx="10.1" cy="17.1" r="1.75"/>',
  lesson:
    '<path d="M10 .8C10.7 6.9 13.1 9.3 19.2 10 13.1 10.7 10.7 13.1 10 19.2 9.3 13.1 6.9 10.7.8 10 6.9 9.3 9.3 6.9 10 .8Z"/>',
  assignment: '<path fill-rule="evenodd" d="M3 3h14v14H3Zm2.1 2.1v5.1h9.8V5.1Z"/>',
  free: '<circle cx="10" cy="10" r="4.6" fill="none" stroke="currentColor" stroke-width="2"/>',
  caution:
    '<path d="M10 1.5 19 18H1Z" fill="none" stroke="currentColor" stroke-width="2" stroke-linejoin="round"/><path d="M10 7v5.5M10 14.3v2" stroke="currentColor" stroke-width="2"/>',
  knot: '<path d="M10 .6 14.4 5 10 9.4 5.6 5ZM15 5.6 19.4 10 15 14.4 10.6 10ZM10 10.6 14.4 15 10 19.4 5.6 15ZM5 5.6 9.4 10 5 14.4.6 10Z"/>',
};

/** Six sorts on one line, the level's own tall. */
function sorts(level: number): string {
  return LEVELS.map((_, at) => {
    const tall = at === level;
    return `<rect x="${at * 5}" y="${tall ? 0 : 7}" width="${tall ? 3.4 : 2.8}" height="${tall ? 11 : 4}"/>`;
  }).join('');
}

/** The symbols, to stand once at the head of the page. */
export function symbols(): string {
  const shapes = Object.entries(SHAPES).map(
    ([name, body]) => `<symbol id="k-${name}" viewBox="0 0 20 20">${body}</symbol>`,
  );
  const levels = LEVELS.map(
    (name, at) => `<symbol id="l-${name}" viewBox="0 0 29 11">${sorts(at)}</symbol>`,
  );
  return `<svg class="symbols" width="0" height="0" aria-hidden="true" fill="currentColor">${[...shapes, ...levels].join('')}</svg>`;
}

/** One mark. With a name it speaks it; without, a word stands beside it and it keeps silent. */
export function glyph(shape: keyof typeof SHAPES, name?: string): string {
  const voice = name ? `role="img" aria-label="${name}"` : 'aria-hidden="true"';
  return `<svg class="glyph" viewBox="0 0 20 20" ${voice}><use href="#k-${shape}"/></svg>`;
}

export function levelSorts(level: Level): string {
  return `<svg class="sorts" viewBox="0 0 29 11" aria-hidden="true"><use href="#l-${level}"/></svg>`;
}
