/** The typefaces a printing is set in. Static cuts only: the variable ones turn into outlines without letters in a PDF. */

export interface Face {
  face: 'Alegreya' | 'Alegreya Sans';
  weight: 400 | 500 | 700;
  style: 'normal' | 'italic';
  /** The file, from the folder packages are installed in. */
  path: string;
}

/** A face with its bytes, read by the caller. */
export interface FontData {
  face: string;
  weight: number | string;
  style: string;
  /** A woff2 file, base64. */
  base64: string;
}

function cut(face: Face['face'], weight: Face['weight'], style: Face['style']): Face {
  const name = face === 'Alegreya' ? 'alegreya' : 'alegreya-sans';
  return {
    face,
    weight,
    style,
    path: `@fontsource/${name}/files/${name}-latin-${weight}-${style}.woff2`,
  };
}

export const FACES: readonly Face[] = [
  cut('Alegreya', 400, 'normal'),
  cut('Alegreya', 400, 'italic'),
  cut('Alegreya', 500, 'normal'),
  cut('Alegreya', 700, 'normal'),
  cut('Alegreya Sans', 400, 'normal'),
  cut('Alegreya Sans', 400, 'italic'),
  cut('Alegreya Sans', 500, 'normal'),
  cut('Alegreya Sans', 700, 'normal'),
];

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
