/** What a page is filled with: boxes of a known height that draw themselves, and can sometimes be cut to go on overleaf. */
import type { Element, Ink } from './ink';
import { linesOf, type Line, type StyledRun } from './lines';
import type { TypeStyle } from './type';

/** Lengths in points. */
export interface Box {
  /** White above it, left out at the head of a page. */
  above: number;
  height: number;
  /** Stays on the page of the box after it. */
  keep?: boolean;
  /** White at its foot that may fall off the page. */
  loose?: number;
  /** What its page is found by; of a box that is cut, the first part has it. */
  at?: string;
  /** Left out rather than put on a page of its own. */
  ornament?: boolean;
  /** `last` tells that nothing follows on this page. */
  draw(x: number, y: number, last?: boolean): void;
  /** Cut so that the first part is no higher than `room`; undefined where that cannot be. */
  split?(room: number): [Box, Box] | undefined;
}

/** Fewest lines of a paragraph at the foot or head of a page. */
const TOGETHER = 2;

/** A paragraph of lines already broken, told as `element`. */
function linesBox(
  ink: Ink,
  lines: readonly Line[],
  style: TypeStyle,
  element: Element,
  how: {
    above?: number;
    align?: { width: number; to: 'right' | 'centre' };
    /** Points that lines after the first stand in; `begun` where the first is overleaf. */
    hang?: number;
    begun?: boolean;
  } = {},
): Box {
  const step = style.size * style.leading;
  const baseline = baselineOf(ink, style);
  const { align } = how;
  return {
    above: how.above ?? 0,
    height: lines.length * step,
    draw(x, y) {
      lines.forEach((line, at) => {
        const free = align ? align.width - line.width : 0;
        const inset = at > 0 || how.begun ? (how.hang ?? 0) : 0;
        const left = x + inset + (align?.to === 'right' ? free : align ? free / 2 : 0);
        drawLine(ink, line, left, y + at * step + baseline, element);
      });
    },
    split(room) {
      const fits = Math.min(Math.floor((room + 0.01) / step), lines.length - TOGETHER);
      if (fits < TOGETHER) return undefined;
      return [
        linesBox(ink, lines.slice(0, fits), style, element, how),
        linesBox(ink, lines.slice(fits), style, element, { ...how, above: 0, begun: true }),
      ];
    },
  };
}

function drawLine(ink: Ink, { placed }: Line, x: number, y: number, element: Element): void {
  for (let at = 0; at < placed.length;) {
    const link = placed[at]?.link;
    let end = at;
    while (end < placed.length && placed[end]?.link === link) end += 1;
    const along = placed.slice(at, end);
    ink.inside(link ? ink.element(element, 'Link') : element, () => {
      for (const one of along) ink.text(one.piece, x + one.x, y, one.style, link);
    });
    at = end;
  }
}

export function textBox(
  ink: Ink,
  runs: readonly StyledRun[],
  style: TypeStyle,
  width: number,
  element: Element,
  how: { above?: number; balanced?: boolean; align?: 'right' | 'centre'; hang?: number } = {},
): Box {
  const lines = linesOf(ink, runs, width, how.balanced, how.hang);
  return linesBox(ink, lines, style, element, {
    above: how.above ?? 0,
    ...(how.align ? { align: { width, to: how.align } } : {}),
    ...(how.hang ? { hang: how.hang } : {}),
  });
}

/** The box with its element in the structure even where it holds nothing: an empty cell is still a cell. */
export function present(element: Element, box: Box): Box {
  return {
    ...box,
    draw(x, y) {
      element();
      box.draw(x, y);
    },
  };
}

/** Something drawn that is not read: a rule, or white. */
export function plainBox(
  height: number,
  draw: (x: number, y: number) => void = () => undefined,
  above = 0,
): Box {
  return { above, height, draw };
}

export const heightOf = (boxes: readonly Box[]): number =>
  boxes.reduce((sum, box, at) => sum + box.height + (at > 0 ? box.above : 0), 0);

/** Boxes one under another as one box. It is cut between them where it must be, or within one. */
export function stack(boxes: readonly Box[], above = 0): Box {
  return {
    above,
    height: heightOf(boxes),
    draw(x, y) {
      let down = y;
      boxes.forEach((box, at) => {
        if (at > 0) down += box.above;
        box.draw(x, down);
        down += box.height;
      });
    },
    split(room) {
      let used = 0;
      for (let at = 0; at < boxes.length; at += 1) {
        const box = boxes[at]!;
        const white = at > 0 ? box.above : 0;
        if (used + white + box.height <= room + 0.01) {
          used += white + box.height;
          continue;
        }
        const cut = box.split?.(room - used - white);
        if (cut)
          return [
            stack([...boxes.slice(0, at), cut[0]], above),
            stack([cut[1], ...boxes.slice(at + 1)]),
          ];
        let last = at;
        while (last > 0 && boxes[last - 1]?.keep) last -= 1;
        if (last === 0) return undefined;
        return [stack(boxes.slice(0, last), above), stack(boxes.slice(last))];
      }
      return undefined;
    },
  };
}

/** The box moved right, with its width lessened by whoever made it. */
export function shifted(box: Box, by: number): Box {
  return {
    ...box,
    draw: (x, y) => box.draw(x + by, y),
    split(room) {
      const cut = box.split?.(room);
      return cut && [shifted(cut[0], by), shifted(cut[1], by)];
    },
  };
}

/** Boxes side by side, each at its place, some set lower. What is cut is the box at `flows`; the others stay with the first part. */
export function row(
  cells: readonly { x: number; down?: number; box: Box }[],
  flows: number,
  above = 0,
): Box {
  return {
    above,
    height: Math.max(0, ...cells.map(({ box, down = 0 }) => box.height + down)),
    draw: (x, y) => cells.forEach((cell) => cell.box.draw(x + cell.x, y + (cell.down ?? 0))),
    split(room) {
      const cell = cells[flows];
      const cut = cell?.box.split?.(room - (cell.down ?? 0));
      if (!cell || !cut) return undefined;
      const first = cells.map((one, at) => (at === flows ? { ...one, box: cut[0] } : one));
      return [row(first, flows, above), shifted(cut[1], cell.x)];
    },
  };
}

/** How far the first baseline of a style stands below the head of its box. */
export function baselineOf(ink: Ink, style: TypeStyle): number {
  const { ascent, descent } = ink.extent(style);
  return (style.size * style.leading - ascent - descent) / 2 + ascent;
}

/** White under a box, that falls away where the page ends. */
export function padded(box: Box, below: number): Box {
  return {
    ...box,
    height: box.height + below,
    loose: below,
    split(room) {
      const cut = box.split?.(room);
      return cut && [cut[0], padded(cut[1], below)];
    },
  };
}

/** Boxes with white under the last. */
export function followed(boxes: readonly Box[], below: number): Box[] {
  const last = boxes.at(-1);
  return last ? [...boxes.slice(0, -1), padded(last, below)] : [];
}
