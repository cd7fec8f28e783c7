/** The typefaces a printing is set in, as files the app serves. */
import { printFaces } from '../engine/faces';
import type { Faces } from '../engine/publishing';

const ALL_FACES = import.meta.glob<string>(
  '../../node_modules/@fontsource/{alegreya,alegreya-sans}/files/*-{latin,latin-ext,greek,greek-ext,cyrillic,cyrillic-ext,vietnamese}-{400,500,700}-{normal,italic}.woff2',
  { query: '?url', import: 'default', eager: true },
);

async function base64Of(path: string): Promise<string | undefined> {
  const url = ALL_FACES[`../../node_modules/${path}`];
  if (!url) return undefined;
  const bytes = new Uint8Array(await (await fetch(url)).arrayBuffer());
  let text = '';
  for (let at = 0; at < bytes.length; at += 0x8000)
    text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
}

export const faceFiles: Faces = (which) => printFaces(base64Of, which);
