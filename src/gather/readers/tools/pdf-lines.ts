import type { Watch } from './watch';

/** A stretch of text as pdf.js gives it: `transform` holds its place in points from the lower left, `height` its size. */
export interface PdfText {
  str: string;
  transform: number[];
  width: number;
  height: number;
  hasEOL: boolean;
}

export interface PdfLine {
  text: string;
  /** Points from the left and from the bottom of the page. */
  left: number;
  right: number;
  base: number;
  /** Of the letters, in points: the size most of the line is set in. */
  size: number;
}

export interface PdfPage {
  number: number;
  width: number;
  height: number;
  lines: PdfLine[];
}

interface OpenLine extends PdfLine {
  sizes: Map<number, number>;
}

/**
 * Lines in the order the page draws them, which is the order of reading in nearly every document. A line ends where the text moves
 * down or back. Text set upright or slanted is left out.
 */
export function linesOfPage(texts: readonly PdfText[], watch: Watch): PdfLine[] {
  const lines: OpenLine[] = [];
  let open: OpenLine | undefined;
  for (const { str, transform, width, height } of texts) {
    watch.tick();
    const [a = 1, b = 0, , , left = 0, base = 0] = transform;
    if (str === '' || Math.abs(b) > Math.abs(a) * 0.2) continue;
    const size = height > 0 ? height : Math.abs(a);
    if (
      open &&
      (Math.abs(base - open.base) > Math.max(size, open.size) * 0.6 || left < open.left - size)
    ) {
      open = undefined;
    }
    if (!open) {
      if (str.trim() === '') continue;
      open = { text: '', left, right: left, base, size, sizes: new Map() };
      lines.push(open);
    }
    const gap = left - open.right;
    const parted =
      open.text !== '' && gap > size * 0.15 && !/\s$/.test(open.text) && !/^\s/.test(str);
    open.text += (parted ? ' ' : '') + str;
    open.right = Math.max(open.right, left + width);
    const rounded = Math.round(size * 2) / 2;
    open.sizes.set(rounded, (open.sizes.get(rounded) ?? 0) + str.trim().length);
    open.size = commonest(open.sizes) ?? size;
  }
  return lines
    .map(({ text, left, right, base, size }) => ({
      text: text.replace(/\s+/g, ' ').trim(),
      left,
      right,
      base,
      size,
    }))
    .filter(({ text }) => text !== '');
}

/** The key with the greatest count. */
export function commonest<T>(counts: ReadonlyMap<T, number>): T | undefined {
  let best: T | undefined;
  let most = -1;
  for (const [key, count] of counts) {
    if (count <= most) continue;
    most = count;
    best = key;
  }
  return best;
}
