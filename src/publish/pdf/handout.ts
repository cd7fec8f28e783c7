/** The handout in PDF: passages set large, questions to talk about, space to write, and what to read next. */
import { linesFor } from '../handout-space';
import type { Activity, Handout, Passage } from '../model';
import { quoted } from '../quoted';
import { blocksOf, runsOf, type Block, type Run } from '../rich';
import { baselineOf, followed, plainBox, present, row, stack, textBox, type Box } from './boxes';
import { columnsBox } from './columns';
import { styled } from './lines';
import {
  careBoxes,
  drawMark,
  thickRule,
  thinRule,
  white,
  writingLines,
  type Setting,
} from './parts';
import { worksBoxes } from './leader-tail';
import { MM, type TypeStyle } from './type';
import { blocksBoxes, wordsBoxes } from './words';

export function handoutBoxes(handout: Handout, set: Setting): Box[] {
  const toWrite = handout.activities.filter(({ space }) => space === 'lines');
  const onFront = handout.activities.filter(({ space }) => space !== 'lines');
  const each = linesFor(toWrite.length);
  return [
    ...headBoxes(handout, set),
    ...passageBoxes(handout.passages, set),
    ...questionBoxes(handout.questions, set),
    ...onFront.flatMap((one) => activityBoxes(one, 0, set)),
    ...careBoxes(set, handout.cautions, 8.6 * MM),
    ...followed(worksBoxes(handout.works, set), 8.6 * MM),
    ...toWrite.flatMap((one) => activityBoxes(one, each, set)),
    ...untilBoxes(handout.until, set),
    knotBox(set),
  ];
}

/** The ornament at the end. */
function knotBox({ ink, width }: Setting): Box {
  const side = 7 * MM;
  const draw = (x: number, y: number): void =>
    drawMark(ink, 'knot', x + (width - side) / 2, y, side);
  return { ...plainBox(side, draw, 9 * MM), ornament: true };
}

function headBoxes(handout: Handout, set: Setting): Box[] {
  const { ink, width } = set;
  const h1 = set.type({ face: 'serif', size: 35.5, weight: 500, leading: 1.08 });
  h1.tracking = -0.012 * h1.size;
  const title = textBox(
    ink,
    [{ text: handout.title, style: h1 }],
    h1,
    width,
    ink.element(ink.root, 'H1'),
    { balanced: true },
  );
  const boxes = [{ ...title, keep: true }];
  if (handout.subtitle) {
    const sub = set.type({ face: 'serif', size: 15, leading: 1.32 });
    const runs = styled(runsOf(handout.subtitle), sub, set.slanting);
    const room = Math.min(140 * MM, width);
    const how = { above: 3 * MM, balanced: true };
    boxes.push({ ...textBox(ink, runs, sub, room, ink.element(ink.root, 'P'), how), keep: true });
  }
  return [...boxes, white(7.5 * MM)];
}

function passageBoxes(all: readonly Passage[], set: Setting): Box[] {
  if (all.length === 0) return [];
  const { ink, width } = set;
  const gap = 16 * MM;
  const two = all.length > 1 && set.preset !== 'large';
  const room = two ? (width - gap) / 2 : width;
  const section = ink.element(ink.root, 'Sect');
  const text = set.type({ face: 'serif', size: 17, leading: 1.37 });
  const small = set.type({ face: 'serif', size: 10.8 });
  const passages = all.map((one) => {
    const quote = ink.element(section, 'BlockQuote');
    const how = { slanting: set.slanting, ...(one.language ? { lang: one.language } : {}) };
    const boxes = [white(4.2 * MM), ...wordsBoxes(ink, quoted(one.text), text, room, quote, how)];
    if (one.cite) {
      boxes[boxes.length - 1] = { ...boxes.at(-1)!, keep: true };
      const runs = styled(runsOf(one.cite), small, set.slanting);
      boxes.push(
        textBox(ink, runs, small, room, ink.element(section, 'Caption'), { above: 4 * MM }),
      );
    }
    return stack([...boxes, plainBox(1.2 * MM)]);
  });
  const body = two ? [columnsBox(ink, passages, width, gap)] : passages;
  return [thickRule(set, 0), ...followed(body, 9 * MM)];
}

const headType = (set: Setting): TypeStyle =>
  set.type({ face: 'serif', size: 18.5, weight: 500, leading: 1.2 });

function questionBoxes(all: readonly string[], set: Setting): Box[] {
  if (all.length === 0) return [];
  const { ink, width } = set;
  const section = ink.element(ink.root, 'Sect');
  const head = headType(set);
  const text = set.type({ face: 'serif', size: 15, leading: 1.32 });
  const number = { ...text, weight: 700 as const, figures: 'tabular' as const };
  const list = ink.element(section, 'L');
  const indent = Math.max(9 * MM, ink.widthOf(`${all.length}`, number) + 3 * MM);
  const items = all.map((question, at) => {
    const item = ink.element(list, 'LI');
    const label = textBox(
      ink,
      [{ text: `${at + 1}`, style: number }],
      number,
      indent,
      ink.element(item, 'Lbl'),
    );
    const body = ink.element(item, 'LBody');
    const room = width - indent - (set.preset === 'large' ? 0 : 10 * MM);
    const words = stack(wordsBoxes(ink, question, text, room, body, { slanting: set.slanting }));
    return row(
      [
        { x: 0, box: label },
        { x: indent, box: words },
      ],
      1,
      2.7 * MM,
    );
  });
  return [
    thinRule(set, 0),
    white(2.6 * MM),
    {
      ...textBox(
        ink,
        [{ text: 'To talk about', style: head }],
        head,
        width,
        ink.element(section, 'H2'),
      ),
      keep: true,
    },
    ...followed(items, 7.4 * MM),
  ];
}

/** One activity; `lines` of writing space under it. What fits on one page is not parted. */
function activityBoxes(one: Activity, lines: number, set: Setting): Box[] {
  const { ink, width } = set;
  const section = ink.element(ink.root, 'Sect');
  const writing = one.space === 'lines';
  const head = writing
    ? set.type({ face: 'serif', size: 23, weight: 500, leading: 1.2 })
    : headType(set);
  const text = set.type({ face: 'serif', size: 14, leading: 1.36 });
  const boxes: Box[] = [
    ...(writing ? [thickRule(set, 0), white(5 * MM - 2.5)] : [thinRule(set, 0), white(2.6 * MM)]),
    {
      ...textBox(ink, [{ text: one.title, style: head }], head, width, ink.element(section, 'H2')),
      keep: true,
    },
    white(2 * MM),
  ];
  const inner = blocksOf(one.text).flatMap((block) =>
    one.space === 'grid' && block.is === 'table'
      ? gridBox(block, set, section)
      : blocksBoxes(ink, [block], text, width, section, { slanting: set.slanting }),
  );
  inner.forEach((box, at) => boxes.push(at === 0 ? box : { ...box, above: text.size / 2 }));
  if (lines > 0) boxes.push(plainBox(3 * MM), writingLines(set, lines, 14.4 * MM));
  return followed([stack(boxes)], (writing ? 8.6 : 7.4) * MM);
}

/** A grid to be filled in: framed cells high enough to write in, the first column named and unframed where its head is empty. */
function gridBox(
  table: Extract<Block, { is: 'table' }>,
  set: Setting,
  section: () => ReturnType<Setting['ink']['root']>,
): Box {
  const { ink, width } = set;
  const named = (table.head[0] ?? []).every(({ text }) => !text.trim());
  const style = set.type({ face: 'serif', size: 13, leading: 1.3 });
  const head = { ...style, italic: set.slanting && style.face === 'serif' };
  const columns = table.head.length;
  const first = named && columns > 1 ? 33 * MM : width / columns;
  const other = columns > 1 ? (width - first) / (columns - 1) : 0;
  const left = (at: number): number => (at === 0 ? 0 : first + (at - 1) * other);
  const wide = (at: number): number => (at === 0 ? first : other);
  const padX = 3 * MM;
  const element = ink.element(section, 'Table');
  const high = (table.rows.length > 2 ? 17 : 22.5) * MM;
  const cellsOf = (cells: readonly Run[][], heads: boolean): { x: number; box: Box }[] => {
    const tr = ink.element(element, 'TR');
    return table.head.map((_, at) => {
      const flush = named && at === 0;
      const role = heads ? { scope: 'Column' as const } : flush ? { scope: 'Row' as const } : {};
      const cell = ink.element(tr, heads || flush ? 'TH' : 'TD', role);
      const cellStyle = heads ? head : flush ? { ...style, weight: 500 as const } : style;
      const runs = styled(cells[at] ?? [], cellStyle, set.slanting);
      const room = wide(at) - (flush ? padX : 2 * padX);
      return {
        x: left(at) + (flush ? 0 : padX),
        box: present(cell, textBox(ink, runs, cellStyle, room, cell)),
      };
    });
  };
  const rows = table.rows.map((cells): Box => {
    const inner = row(cellsOf(cells, false), 0);
    const height = Math.max(high, inner.height + 4 * MM);
    return plainBox(height, (x, y) => {
      ink.aside(() =>
        table.head.forEach((_, at) => {
          if (!(named && at === 0)) ink.frame(x + left(at), y, wide(at), height, 0.7);
        }),
      );
      inner.draw(x, y + 2 * MM);
    });
  });
  const heads = { ...row(cellsOf(table.head, true), 0), keep: true };
  return stack([heads, white(1.4 * MM), ...rows]);
}

function untilBoxes(all: readonly string[], set: Setting): Box[] {
  if (all.length === 0) return [];
  const { ink, width } = set;
  const section = ink.element(ink.root, 'Sect');
  const head = set.type({ face: 'serif', size: 18.5, weight: 500, leading: 1.15 });
  const text = set.type({ face: 'serif', size: 13.2, leading: 1.36 });
  const beside = set.preset !== 'large';
  const indent = beside ? 40 * MM : 0;
  const words = all.flatMap((one, at) => {
    const boxes = wordsBoxes(ink, one, text, width - indent, section, { slanting: set.slanting });
    return boxes.map((box, n) => (at > 0 && n === 0 ? { ...box, above: 1.6 * MM } : box));
  });
  const title = textBox(
    ink,
    [{ text: 'Until we meet again', style: head }],
    head,
    beside ? 36 * MM : width,
    ink.element(section, 'H2'),
  );
  const down = Math.max(0, baselineOf(ink, head) - baselineOf(ink, text) - 1);
  const body = beside
    ? row(
        [
          { x: 0, box: title },
          { x: indent, down, box: stack(words) },
        ],
        1,
      )
    : stack([{ ...title, keep: true }, ...words]);
  return [thinRule(set, 0), white(3 * MM), body];
}
