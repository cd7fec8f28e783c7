import type { BlockPicture } from '../../block';
import { join, latin, quad, word } from './bytes';
import { MOST_PICTURE_BYTES } from './limits';
import type { CleanPicture } from './clean-picture';
import { cleanGif, cleanWebp } from './picture-gif-webp';

/** The media type by the first bytes, of every kind that is told apart, kept or not. */
export function pictureType(bytes: Uint8Array): string | undefined {
  const text = (from: number, to: number): string => latin(bytes.subarray(from, to));
  if (bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff) return 'image/jpeg';
  if (text(0, 8) === '\x89PNG\r\n\x1a\n') return 'image/png';
  if (/^GIF8[79]a$/.test(text(0, 6))) return 'image/gif';
  if (text(0, 4) === 'RIFF' && text(8, 12) === 'WEBP') return 'image/webp';
  if (text(4, 8) === 'ftyp') {
    const brand = text(8, 12);
    if (/^(?:hei[cmsx]|hev[cmx]|mif1|msf1)$/.test(brand)) return 'image/heic';
    if (/^avi[fs]$/.test(brand)) return 'image/avif';
  }
  if (/^(?:II\*\0|MM\0\*)$/.test(text(0, 4))) return 'image/tiff';
  return undefined;
}

/** A picture fit to be kept, or undefined where the bytes are none, are damaged at the head, or are too many. */
export function pictureFrom(bytes: Uint8Array, alt: string): BlockPicture | undefined {
  const clean = cleanPicture(bytes);
  if (!clean) return undefined;
  const picture: BlockPicture = { bytes: clean.bytes, type: clean.type, alt };
  if (clean.width !== undefined) picture.width = clean.width;
  if (clean.height !== undefined) picture.height = clean.height;
  return picture;
}

/** Takes out of a JPEG, PNG, GIF or WebP everything that is not the picture. */
export function cleanPicture(bytes: Uint8Array): CleanPicture | undefined {
  if (bytes.length > MOST_PICTURE_BYTES) return undefined;
  switch (pictureType(bytes)) {
    case 'image/jpeg':
      return cleanJpeg(bytes);
    case 'image/png':
      return cleanPng(bytes);
    case 'image/gif':
      return cleanGif(bytes);
    case 'image/webp':
      return cleanWebp(bytes);
    default:
      return undefined;
  }
}

/** Segments that say how to show the picture; APP0 is JFIF, APP2 a colour profile, APP14 the colour transform. */
function keepsSegment(marker: number, body: Uint8Array): boolean {
  if (marker === 0xe2) return latin(body.subarray(0, 11)) === 'ICC_PROFILE';
  if (marker === 0xe0 || marker === 0xee) return true;
  return !(marker >= 0xe1 && marker <= 0xef) && marker !== 0xfe;
}

function cleanJpeg(bytes: Uint8Array): CleanPicture | undefined {
  const parts: Uint8Array[] = [bytes.subarray(0, 2)];
  let size: { width: number; height: number } | undefined;
  let orientation = 1;
  let at = 2;
  let whole = false;
  while (at + 4 <= bytes.length && !whole) {
    if (bytes[at] !== 0xff) return undefined;
    const marker = bytes[at + 1] ?? 0;
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    if (marker === 0xd9) break;
    const length = word(bytes, at + 2);
    if (length < 2) return undefined;
    const body = bytes.subarray(at + 4, at + 2 + length);
    if (isFrame(marker)) size = { height: word(body, 1), width: word(body, 3) };
    if (marker === 0xe1) orientation = orientationOf(body) ?? orientation;
    if (keepsSegment(marker, body)) parts.push(bytes.subarray(at, at + 2 + length));
    at += 2 + length;
    if (marker !== 0xda) continue;
    const end = endOfScan(bytes, at);
    parts.push(bytes.subarray(at, end));
    at = end;
  }
  whole = bytes[at] === 0xff && bytes[at + 1] === 0xd9;
  if (!size || size.width === 0 || size.height === 0) return undefined;
  if (orientation !== 1) parts.splice(1, 0, orientationSegment(orientation));
  parts.push(Uint8Array.of(0xff, 0xd9));
  return { bytes: join(parts), type: 'image/jpeg', ...size, whole };
}

function isFrame(marker: number): boolean {
  return marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;
}

/** Scan data runs to the next marker that is neither stuffing nor a restart. */
function endOfScan(bytes: Uint8Array, from: number): number {
  for (let at = from; at + 1 < bytes.length; at += 1) {
    if (bytes[at] !== 0xff) continue;
    const next = bytes[at + 1] ?? 0;
    if (next !== 0 && next !== 0xff && !(next >= 0xd0 && next <= 0xd7)) return at;
  }
  return bytes.length;
}

/** Exif tag 0x0112 of the first directory (Exif 2.3): 1 to 8, how the picture is turned. */
function orientationOf(app1: Uint8Array): number | undefined {
  if (latin(app1.subarray(0, 6)) !== 'Exif\0\0') return undefined;
  const tiff = app1.subarray(6);
  const little = latin(tiff.subarray(0, 2)) === 'II';
  if (tiff.length < 8) return undefined;
  const view = new DataView(tiff.buffer, tiff.byteOffset, tiff.byteLength);
  const directory = view.getUint32(4, little);
  if (directory + 2 > tiff.length) return undefined;
  const entries = Math.min(view.getUint16(directory, little), 200);
  for (let entry = 0; entry < entries; entry += 1) {
    const at = directory + 2 + entry * 12;
    if (at + 12 > tiff.length) return undefined;
    if (view.getUint16(at, little) !== 0x0112) continue;
    const value = view.getUint16(at + 8, little);
    return value >= 1 && value <= 8 ? value : undefined;
  }
  return undefined;
}

/** An APP1 segment that holds the orientation and nothing else. */
function orientationSegment(orientation: number): Uint8Array {
  const tiff = [
    0x4d,
    0x4d,
    0,
    42,
    0,
    0,
    0,
    8,
    0,
    1,
    0x01,
    0x12,
    0,
    3,
    0,
    0,
    0,
    1,
    0,
    orientation,
    0,
    0,
    0,
    0,
    0,
    0,
  ];
  const exif = [0x45, 0x78, 0x69, 0x66, 0, 0, ...tiff];
  return Uint8Array.of(0xff, 0xe1, 0, exif.length + 2, ...exif);
}

/** PNG chunks that make up the picture and its colours (PNG, third edition); text, time and Exif chunks are not among them. */
const PNG_CHUNKS = new Set(
  'IHDR PLTE IDAT IEND tRNS gAMA cHRM sRGB iCCP cICP sBIT bKGD pHYs acTL fcTL fdAT'.split(' '),
);

function cleanPng(bytes: Uint8Array): CleanPicture | undefined {
  if (latin(bytes.subarray(12, 16)) !== 'IHDR' || bytes.length < 33) return undefined;
  const width = quad(bytes, 16);
  const height = quad(bytes, 20);
  if (width === 0 || height === 0) return undefined;
  const parts: Uint8Array[] = [bytes.subarray(0, 8)];
  let whole = false;
  for (let at = 8; at + 12 <= bytes.length && !whole;) {
    const end = at + 12 + quad(bytes, at);
    const name = latin(bytes.subarray(at + 4, at + 8));
    if (end > bytes.length && name !== 'IDAT') break;
    if (PNG_CHUNKS.has(name)) parts.push(bytes.subarray(at, Math.min(end, bytes.length)));
    whole = name === 'IEND';
    at = end;
  }
  return { bytes: join(parts), type: 'image/png', width, height, whole };
}

/** The bytes a data address holds, where it is of a picture; a wrong one gives none. */
export function bytesOfDataAddress(address: string): Uint8Array | undefined {
  const head = /^data:image\/[\w.+-]{1,40}(?:;[\w=.+-]{1,60})*;base64,/i.exec(address)?.[0];
  if (!head) return undefined;
  try {
    const binary = atob(address.slice(head.length).replace(/%3D/gi, '=').replace(/\s+/g, ''));
    return Uint8Array.from(binary, (letter) => letter.charCodeAt(0));
  } catch {
    return undefined;
  }
}
