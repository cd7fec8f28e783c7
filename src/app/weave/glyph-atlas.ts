/** The glyphs of kinds side by side in one picture, for drawing them by the thousand. */
import sprite from '../look/glyphs.svg?raw';

export const ATLAS_KINDS = [
  'note',
  'quote',
  'question',
  'lesson',
  'assignment',
  'book',
  'theme',
  'person',
] as const;
const SYMBOLS: Record<(typeof ATLAS_KINDS)[number], string> = {
  note: 'note',
  quote: 'quote',
  question: 'question',
  lesson: 'idea',
  assignment: 'task',
  book: 'book',
  theme: 'theme',
  person: 'person',
};
/** Pixels of a cell, and how much of it the glyph fills. */
const CELL = 64;
export const FILLS = 20 / 24;

/** The inside of a glyph's symbol, in a square of 20 units. */
export function glyphShape(kind: (typeof ATLAS_KINDS)[number]): string {
  const found = new RegExp(`<symbol id="${SYMBOLS[kind]}"[^>]*>(.*?)</symbol>`, 's').exec(sprite);
  return found?.[1] ?? '';
}

let made: Promise<HTMLCanvasElement> | undefined;

/** A canvas with the eight glyphs in white in a row. */
export function glyphAtlas(): Promise<HTMLCanvasElement> {
  return (made ??= draw());
}

async function draw(): Promise<HTMLCanvasElement> {
  const wide = CELL * ATLAS_KINDS.length;
  const cells = ATLAS_KINDS.map(
    (kind, at) =>
      `<svg x="${at * CELL}" width="${CELL}" height="${CELL}" viewBox="-2 -2 24 24">${glyphShape(kind)}</svg>`,
  );
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${wide}" height="${CELL}" color="#fff">${cells.join('')}</svg>`;
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
  await image.decode();
  const canvas = document.createElement('canvas');
  [canvas.width, canvas.height] = [wide, CELL];
  canvas.getContext('2d')?.drawImage(image, 0, 0);
  return canvas;
}
