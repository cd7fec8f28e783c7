/** One item of a leader's copy in PDF: clock, mark, prompt and cues, minutes and level. */
import { capital } from '../clock';
import { KIND_NAMES } from '../html-leader';
import type { Cue, DocItem } from '../model';
import { quoted } from '../quoted';
import { baselineOf, padded, plainBox, row, stack, textBox, type Box } from './boxes';
import type { Element } from './ink';
import { drawMark, drawSorts, type Setting } from './parts';
import { MM, type TypeStyle } from './type';
import { wordsBoxes } from './words';
import { markOf } from '../item-words';

/** Columns of an item in points from the left: clock, mark, words, minutes. */
export interface Columns {
  mark: number;
  body: number;
  side: number;
  bodyWidth: number;
}

/** As drawn at the usual size; wider where larger type asks for it. */
export function columnsOf(set: Setting): Columns {
  const { ink, width } = set;
  const clock = ink.widthOf('12.30', clockType(set)) + 3 * MM;
  const small = sideType(set);
  const widest = ink.widthOf('Understand', small);
  const mark = Math.max(12 * MM, clock);
  const body = mark + Math.max(7 * MM, promptType(set).size * 1.4);
  const sideWidth = Math.max(18 * MM, widest + 1 * MM);
  const side = width - sideWidth;
  return { mark, body, side, bodyWidth: side - body };
}

const clockType = (set: Setting): TypeStyle =>
  set.type({ face: 'sans', size: 11.5, weight: 700, leading: 1, figures: 'tabular' });
const sideType = (set: Setting): TypeStyle =>
  set.type({ face: 'sans', size: 10.2, leading: 1.25, figures: 'tabular' });
const promptType = (set: Setting): TypeStyle =>
  set.type({ face: 'serif', size: 14, leading: 1.29 });
const cueType = (set: Setting): TypeStyle =>
  set.type({ face: 'sans', size: 11, leading: 1.38, figures: 'lining' });

/** An item; the line down to the next stop is drawn as far as the box goes. */
export function itemBox(
  item: DocItem,
  set: Setting,
  columns: Columns,
  list: Element,
  goesOn: boolean,
): Box {
  const { ink } = set;
  const entry = ink.element(list, 'LI');
  const label = ink.element(entry, 'Lbl');
  const body = ink.element(entry, 'LBody');
  const clock = clockType(set);
  const prompt = promptType(set);
  const base = baselineOf(ink, prompt);
  const side = prompt.size * 0.715;
  const cells = [
    {
      x: 0,
      down: base - baselineOf(ink, clock),
      box: textBox(ink, [{ text: item.clock ?? '', style: clock }], clock, columns.mark, label),
    },
    {
      x: columns.mark,
      down: base - side * 0.97,
      box: plainBox(side, (x, y) =>
        drawMark(ink, item.kind, x, y, side, { parent: body, name: KIND_NAMES[item.kind] }),
      ),
    },
    { x: columns.body, box: stack(bodyBoxes(item, set, columns.bodyWidth, body)) },
    { x: columns.side, box: sideBox(item, set, body, base) },
  ];
  const whole = padded(row(cells, 2), 4.4 * MM);
  const line = (box: Box): Box => ({
    ...box,
    draw(x, y, last) {
      box.draw(x, y);
      if (!goesOn) return;
      const middle = x + columns.mark + side / 2;
      const end = y + box.height + (last ? -(box.loose ?? 0) : 1);
      ink.aside(() => ink.rule([middle, y + base + side * 0.38], [middle, end], 0.6));
    },
    split(room) {
      const cut = box.split?.(room);
      return cut && [line(cut[0]), cut[1]];
    },
  });
  return line(whole);
}

function bodyBoxes(item: DocItem, set: Setting, width: number, body: Element): Box[] {
  const { ink } = set;
  const cue = cueType(set);
  const large = set.preset === 'large';
  const cueWidth = width - (large ? 5 : 9) * MM;
  const boxes = promptBoxes(item, promptType(set), set, width - (large ? 5 : 6) * MM, body);
  const add = (more: Box[]): void => {
    const [first, ...rest] = more;
    if (first) boxes.push({ ...first, above: 0.75 * MM }, ...rest);
  };
  for (const one of item.cues) add(cueBoxes(one, cue, set, cueWidth, body));
  if (item.note)
    add([
      textBox(
        ink,
        [
          { text: 'Last time ', style: { ...cue, weight: 700 } },
          { text: item.note, style: cue },
        ],
        cue,
        cueWidth,
        ink.element(body, 'P'),
      ),
    ]);
  if (item.used) add([usedBox(item.used, cue, set, cueWidth, body)]);
  return boxes;
}

function usedBox(used: string, cue: TypeStyle, set: Setting, width: number, body: Element): Box {
  const { ink } = set;
  const side = cue.size * 0.85;
  const told = { parent: body, name: 'Note well' };
  const mark = plainBox(side, (x, y) => drawMark(ink, 'caution', x, y, side, told));
  const text = textBox(
    ink,
    [{ text: used, style: cue }],
    cue,
    width - side * 1.5,
    ink.element(body, 'P'),
  );
  return row(
    [
      { x: 0, down: baselineOf(ink, cue) - side * 0.92, box: mark },
      { x: side * 1.4, box: text },
    ],
    1,
  );
}

export function promptBoxes(
  item: DocItem,
  style: TypeStyle,
  set: Setting,
  width: number,
  body: Element,
): Box[] {
  const { ink } = set;
  const text = item.kind === 'quote' ? quoted(item.text) : item.text;
  const how = { slanting: set.slanting, ...(item.language ? { lang: item.language } : {}) };
  const boxes = wordsBoxes(ink, text, style, width, body, how);
  const name = item.title?.trim();
  if (!name) return boxes;
  const strong = { ...style, weight: 500 as const };
  const first = textBox(
    ink,
    [{ text: name, style: strong }],
    strong,
    width,
    ink.element(body, 'P'),
  );
  return [{ ...first, keep: true }, ...boxes];
}

export function cueBoxes(
  cue: Cue,
  style: TypeStyle,
  set: Setting,
  width: number,
  body: Element,
): Box[] {
  const before = cue.lead
    ? [{ text: `${cue.lead} `, style: { ...style, weight: 700 as const } }]
    : [];
  const how = { slanting: set.slanting, between: 0.3 };
  return wordsBoxes(
    set.ink,
    cue.text,
    style,
    width,
    body,
    before.length > 0 ? { ...how, before } : how,
  );
}

function sideBox(item: DocItem, set: Setting, body: Element, base: number): Box {
  const { ink } = set;
  const { minutes, level } = item;
  const small = sideType(set);
  const strong = set.type({
    face: 'sans',
    size: 10.5,
    weight: 700,
    leading: 1.25,
    figures: 'tabular',
  });
  const width = set.width;
  const line = (text: string, style: TypeStyle): Box =>
    textBox(ink, [{ text, style }], style, width, ink.element(body, 'P'));
  const boxes = [line(`${minutes} min`, strong)];
  if (level) {
    const wide = small.size * 2.06;
    const high = (wide * 11) / 29;
    boxes.push(
      plainBox(high, (x, y) => drawSorts(ink, level, x, y, wide), 0.9 * MM),
      { ...line(capital(level), small), above: 0.6 * MM },
    );
  }
  const mark = markOf(item);
  if (mark) boxes.push(line(mark, small));
  const down = base - baselineOf(ink, strong);
  return row([{ x: 0, down, box: stack(boxes) }], 0);
}
