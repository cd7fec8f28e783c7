/** The typefaces a printing is set in. Static cuts only: the variable ones turn into outlines without letters in a PDF. */

/** Which letters a file has. Each file holds one part of the face; `latin` has what English needs. */
export const LETTERS = [
  'latin',
  'latin-ext',
  'greek',
  'greek-ext',
  'cyrillic',
  'cyrillic-ext',
  'vietnamese',
] as const;
export type Letters = (typeof LETTERS)[number];

export interface Face {
  face: 'Alegreya' | 'Alegreya Sans';
  weight: 400 | 500 | 700;
  style: 'normal' | 'italic';
  letters: Letters;
  /** The file, from the folder packages are installed in. */
  path: string;
}

/** A face with its bytes, read by the caller. */
export interface FontData {
  face: string;
  weight: number | string;
  style: string;
  letters?: Letters;
  /** A woff2 file, base64. */
  base64: string;
}

const CUTS = [
  ['Alegreya', 400, 'normal'],
  ['Alegreya', 400, 'italic'],
  ['Alegreya', 500, 'normal'],
  ['Alegreya', 700, 'normal'],
  ['Alegreya Sans', 400, 'normal'],
  ['Alegreya Sans', 400, 'italic'],
  ['Alegreya Sans', 500, 'normal'],
  ['Alegreya Sans', 700, 'normal'],
] as const;

function cuts(letters: Letters): Face[] {
  return CUTS.map(([face, weight, style]) => {
    const name = face === 'Alegreya' ? 'alegreya' : 'alegreya-sans';
    const path = `@fontsource/${name}/files/${name}-${letters}-${weight}-${style}.woff2`;
    return { face, weight, style, letters, path };
  });
}

/** What every printing needs. */
export const FACES: readonly Face[] = cuts('latin');

/** The rest of the letters these faces have, for a printing that meets one. */
export const MORE_FACES: readonly Face[] = LETTERS.slice(1).flatMap(cuts);

/** `@font-face` rules with the bytes inside; a face whose data is not base64 is left out. */
export function fontFaces(fonts: readonly FontData[]): string {
  return fonts
    .filter(
      ({ face, weight, style, base64 }) =>
        /^[A-Za-z ]+$/.test(face) &&
        /^\d{3}$/.test(String(weight)) &&
        /^(normal|italic)$/.test(style) &&
        /^[A-Za-z0-9+/]+={0,2}$/.test(base64),
    )
    .map(
      ({ face, weight, style, base64 }) =>
        `@font-face{font-family:"${face}";font-weight:${weight};font-style:${style};` +
        `src:url(data:font/woff2;base64,${base64}) format("woff2")}`,
    )
    .join('\n');
}
