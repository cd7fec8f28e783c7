import { join, latin, quadLow, wordLow } from './bytes';
import type { CleanPicture } from './clean-picture';

/** A GIF (GIF89a specification) without comments and without the extensions of programs, other than the one that makes it repeat. */
export function cleanGif(bytes: Uint8Array): CleanPicture | undefined {
  const width = wordLow(bytes, 6);
  const height = wordLow(bytes, 8);
  if (bytes.length < 13 || width === 0 || height === 0) return undefined;
  let at = 13 + colourTable(bytes[10] ?? 0);
  const parts: Uint8Array[] = [bytes.subarray(0, at)];
  let whole = false;
  while (at < bytes.length) {
    const from = at;
    const kind = bytes[at];
    if (kind === 0x3b) {
      whole = true;
      break;
    }
    let keep = true;
    if (kind === 0x2c) at = afterSubBlocks(bytes, at + 11 + colourTable(bytes[at + 9] ?? 0));
    else if (kind === 0x21) {
      const label = bytes[at + 1];
      const program = latin(bytes.subarray(at + 3, at + 14));
      keep = label === 0xf9 || label === 0x01 || (label === 0xff && program === 'NETSCAPE2.0');
      at = afterSubBlocks(bytes, at + 2);
    } else break;
    if (keep) parts.push(bytes.subarray(from, at));
  }
  parts.push(Uint8Array.of(0x3b));
  return { bytes: join(parts), type: 'image/gif', width, height, whole };
}

function colourTable(flags: number): number {
  return flags & 0x80 ? 3 * 2 ** ((flags & 7) + 1) : 0;
}

function afterSubBlocks(bytes: Uint8Array, from: number): number {
  let at = from;
  while (at < bytes.length && bytes[at] !== 0) at += 1 + (bytes[at] ?? 0);
  return Math.min(at + 1, bytes.length);
}

/** A WebP (RFC 9649) without its Exif and XMP chunks. */
export function cleanWebp(bytes: Uint8Array): CleanPicture | undefined {
  const parts: Uint8Array[] = [];
  let size: { width: number; height: number } | undefined;
  let at = 12;
  while (at + 8 <= bytes.length) {
    const name = latin(bytes.subarray(at, at + 4));
    const length = quadLow(bytes, at + 4);
    const end = at + 8 + length + (length & 1);
    const chunk = bytes.slice(at, Math.min(end, bytes.length));
    if (name === 'VP8X') {
      chunk[8] = (chunk[8] ?? 0) & ~0x0c;
      size = {
        width: 1 + (quadLow(chunk, 12) & 0xffffff),
        height: 1 + (quadLow(chunk, 15) & 0xffffff),
      };
    } else if (name === 'VP8 ')
      size ??= { width: wordLow(chunk, 14) & 0x3fff, height: wordLow(chunk, 16) & 0x3fff };
    else if (name === 'VP8L') {
      const packed = quadLow(chunk, 9);
      size ??= { width: 1 + (packed & 0x3fff), height: 1 + ((packed >>> 14) & 0x3fff) };
    }
    if (name !== 'EXIF' && name !== 'XMP ') parts.push(chunk);
    at = end;
  }
  if (!size || size.width === 0 || size.height === 0) return undefined;
  const body = join(parts);
  const head = bytes.slice(0, 12);
  new DataView(head.buffer).setUint32(4, body.length + 4, true);
  const whole = quadLow(bytes, 4) + 8 <= bytes.length && at >= quadLow(bytes, 4) + 8;
  return { bytes: join([head, body]), type: 'image/webp', ...size, whole };
}
