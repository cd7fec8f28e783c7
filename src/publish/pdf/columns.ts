/** Boxes in two columns of even height, with a rule between them. */
import { heightOf, stack, type Box } from './boxes';
import type { Ink } from './ink';

/** `boxes` are as wide as a column: half of `width` less half of `gap`, all in points. A box is cut only where it is higher than a column. */
export function columnsBox(ink: Ink, boxes: readonly Box[], width: number, gap: number): Box {
  const [left, right] = balanced(boxes);
  return drawn(ink, left, right, boxes, width, gap);
}

function drawn(
  ink: Ink,
  left: readonly Box[],
  right: readonly Box[],
  all: readonly Box[],
  width: number,
  gap: number,
): Box {
  const height = Math.max(heightOf(left), heightOf(right));
  return {
    above: 0,
    height,
    draw(x, y) {
      stack(left).draw(x, y);
      const middle = x + width / 2;
      ink.aside(() => ink.rule([middle, y], [middle, y + height], 0.6));
      stack(right).draw(x + (width + gap) / 2, y);
    },
    split(room) {
      const first = filled(all, room);
      if (first.column.length === 0) return undefined;
      const second = filled(first.rest, room);
      const shown = [...first.column, ...second.column];
      return [
        drawn(ink, first.column, second.column, shown, width, gap),
        // A box cut between the columns may leave nothing for overleaf.
        second.rest.length > 0 ? columnsBox(ink, second.rest, width, gap) : stack([]),
      ];
    },
  };
}

/** As many boxes as have room in a column, the last one cut only when the column would else be empty. */
function filled(boxes: readonly Box[], room: number): { column: Box[]; rest: Box[] } {
  const column: Box[] = [];
  let used = 0;
  for (let at = 0; at < boxes.length; at += 1) {
    const box = boxes[at]!;
    const needed = (at > 0 ? box.above : 0) + box.height;
    if (used + needed <= room + 0.01) {
      column.push(box);
      used += needed;
      continue;
    }
    const cut = at === 0 ? box.split?.(room) : undefined;
    if (cut) return { column: [cut[0]], rest: [cut[1], ...boxes.slice(1)] };
    return { column, rest: boxes.slice(at) };
  }
  return { column, rest: [] };
}

/** The division with the least height; of a single box, the box cut in the middle where it can be. */
function balanced(boxes: readonly Box[]): [Box[], Box[]] {
  if (boxes.length === 1) {
    const box = boxes[0]!;
    for (let room = box.height / 2; room < box.height; room += 6) {
      const cut = box.split?.(room);
      if (cut) return [[cut[0]], [cut[1]]];
    }
  }
  let best: [Box[], Box[]] = [[...boxes], []];
  let least = Infinity;
  for (let at = 1; at < boxes.length; at += 1) {
    const halves: [Box[], Box[]] = [boxes.slice(0, at), boxes.slice(at)];
    const height = Math.max(heightOf(halves[0]), heightOf(halves[1]));
    if (height < least) {
      least = height;
      best = halves;
    }
  }
  return best;
}
