/** Pieces both copies are made of: rules, the box of cautions, the foot of the page, writing lines. */
import { DEFERENCE } from '../lists';
import { MARKS, SORTS_BOX, sortsOf, type Mark } from '../glyphs';
import type { Level } from '../../journal/records';
import type { Lines, Paper, Preset } from '../sheet';
import { baselineOf, followed, plainBox, row, stack, textBox, type Box } from './boxes';
import type { Element, Ink } from './ink';
import { MM, typeFor, type Asked, type Role, type TypeStyle } from './type';

/** What everything on a page is drawn with. Widths are in points, between the margins. */
export interface Setting {
  ink: Ink;
  width: number;
  preset: Preset;
  type(asked: Asked, role?: Role): TypeStyle;
  /** Whether emphasis slants. */
  slanting: boolean;
  lines: Lines;
}

/** Points. A4 is 210 by 297 mm (ISO 216), Letter 8.5 by 11 in (ANSI A); Letter is shorter and gives up white at head and foot. */
export const PAPERS: Record<
  Paper,
  { width: number; height: number; side: number; top: number; bottom: number }
> = {
  A4: { width: 210 * MM, height: 297 * MM, side: 18 * MM, top: 18 * MM, bottom: 18 * MM },
  Letter: { width: 612, height: 792, side: 18 * MM, top: 14 * MM, bottom: 16 * MM },
};

export function setting(ink: Ink, paper: Paper, preset: Preset, lines: Lines): Setting {
  return {
    ink,
    width: PAPERS[paper].width - 2 * PAPERS[paper].side,
    preset,
    type: (asked, role) => typeFor(preset, asked, role),
    slanting: preset !== 'dyslexia',
    lines,
  };
}

/** The thick rule with a thin one under it that opens a part. */
export function thickRule({ ink, width }: Setting, above: number): Box {
  return {
    ...plainBox(
      4.2,
      (x, y) =>
        ink.aside(() => {
          ink.rule([x, y + 0.85], [x + width, y + 0.85], 1.7);
          ink.rule([x, y + 3.9], [x + width, y + 3.9], 0.6);
        }),
      above,
    ),
    keep: true,
  };
}

export function thinRule({ ink, width }: Setting, above: number): Box {
  return {
    ...plainBox(
      0.8,
      (x, y) => ink.aside(() => ink.rule([x, y + 0.4], [x + width, y + 0.4], 0.8)),
      above,
    ),
    keep: true,
  };
}

export const white = (height: number): Box => ({ ...plainBox(height), keep: true });

/** The box, leaving a bookmark on the page it is drawn on. */
export function bookmarked(set: Setting, box: Box, title: string): Box {
  return {
    ...box,
    draw(x, y) {
      set.ink.bookmark(title);
      box.draw(x, y);
    },
  };
}

/** A mark told by its name, or where a word stands beside it passed over. */
export function drawMark(
  ink: Ink,
  mark: Mark,
  x: number,
  y: number,
  side: number,
  told?: { parent: Element; name: string },
): void {
  const draw = (): void => ink.mark(MARKS[mark], x, y, side);
  if (!told) ink.aside(draw);
  else {
    const bbox: [number, number, number, number] = [x, y, x + side, y + side];
    ink.inside(ink.element(told.parent, 'Figure', { alt: told.name, bbox }), draw);
  }
}

/** The six sorts of a level in a box of this width. */
export function drawSorts(ink: Ink, level: Level, x: number, y: number, width: number): void {
  const scale = width / SORTS_BOX.width;
  ink.aside(() => {
    for (const one of sortsOf(level))
      ink.bar(x + one.x * scale, y + one.y * scale, one.width * scale, one.height * scale);
  });
}

/** A frame round a box, drawn again where the box goes on overleaf. */
function framed(ink: Ink, box: Box, width: number, padX: number, padY: number): Box {
  return {
    above: box.above,
    height: box.height + 2 * padY,
    draw(x, y) {
      ink.aside(() => ink.frame(x + 0.4, y + 0.4, width - 0.8, box.height + 2 * padY - 0.8, 0.8));
      box.draw(x + padX, y + padY);
    },
    split(room) {
      const cut = box.split?.(room - 2 * padY);
      return (
        cut && [framed(ink, cut[0], width, padX, padY), framed(ink, cut[1], width, padX, padY)]
      );
    },
  };
}

/** The usual cautions in a frame, ending with whose word is the last. Nothing where there are none. */
export function careBoxes(set: Setting, texts: readonly string[], below: number): Box[] {
  if (texts.length === 0) return [];
  const { ink, width } = set;
  const padX = 3.5 * MM;
  const inner = width - 2 * padX;
  const section = ink.element(ink.root, 'Sect');
  const head = set.type({ face: 'sans', size: 11, weight: 700, leading: 1.3 });
  const text = set.type({ face: 'sans', size: 10.5, figures: 'lining' });
  const side = head.size;
  const title = textBox(
    ink,
    [{ text: 'Take care', style: head }],
    head,
    inner,
    ink.element(section, 'H2'),
  );
  const list = ink.element(section, 'L');
  const mark = plainBox(side, (x, y) => drawMark(ink, 'caution', x, y, side));
  const lines = [...texts, DEFERENCE].map((said, at) => {
    const style = at === texts.length ? { ...text, weight: 700 as const } : text;
    const body = ink.element(ink.element(list, 'LI'), 'LBody');
    return textBox(ink, [{ text: said, style }], style, inner, body, { above: text.size * 0.25 });
  });
  const headed = row(
    [
      { x: 0, down: baselineOf(ink, head) - side * 0.88, box: mark },
      { x: side * 1.3, box: title },
    ],
    1,
  );
  const all = stack([{ ...headed, keep: true }, ...lines]);
  return followed([framed(ink, all, width, padX, 2.6 * MM)], below);
}

/** Lines to write on, `step` points apart: ruled, dotted, or the white alone. */
export function writingLines(
  { ink, width, lines }: Setting,
  count: number,
  step: number,
  colour = '#555555',
): Box {
  const lined = (many: number): Box => ({
    above: 0,
    height: many * step,
    draw(x, y) {
      if (lines === 'plain') return;
      ink.aside(() => {
        for (let at = 1; at <= many; at += 1) {
          const down = y + at * step - 0.25;
          if (lines === 'ruled') ink.rule([x, down], [x + width, down], 0.5, colour);
          else ink.rule([x, down], [x + width, down], 0.9, '#333333', 2.8);
        }
      });
    },
    split(room) {
      const fits = Math.floor(room / step);
      return fits < 1 || fits >= many ? undefined : [lined(fits), lined(many - fits)];
    },
  });
  return lined(count);
}

/** The foot of a page: what stands left, in the middle and right. It is passed over in reading. */
export function foot(
  set: Setting,
  paper: Paper,
  texts: { left: string; middle: string; right: string },
): void {
  const { ink, width } = set;
  const { height, bottom, side } = PAPERS[paper];
  const clear = set.preset === 'plain' || set.preset === 'dyslexia';
  const style = set.type(
    clear
      ? { face: 'sans', size: 9.5, colour: '#333333' }
      : { face: 'serif', size: 9, italic: true, colour: '#333333' },
    'foot',
  );
  const y = height - bottom + 5.5 * MM + baselineOf(ink, style);
  const spot = { left: 0, middle: 0.5, right: 1 };
  ink.aside(
    () => {
      for (const where of ['left', 'middle', 'right'] as const) {
        const pieces = ink.pieces(texts[where], style);
        const long = pieces.reduce((sum, piece) => sum + piece.width, 0);
        let x = side + (width - long) * spot[where];
        for (const piece of pieces) {
          ink.text(piece, x, y, style);
          x += piece.width;
        }
      }
    },
    { type: 'Pagination', attached: ['Bottom'] },
  );
}
