/** The leader's copy in PDF: a clock down the left, prompts, cues under them, minutes and level at the right. */
import { capital } from '../clock';
import { KIND_NAMES } from '../html-leader';
import type { Cue, DocItem, DocPart, GuideDocument } from '../model';
import { quoted } from '../quoted';
import { runsOf } from '../rich';
import { baselineOf, followed, padded, plainBox, row, stack, textBox, type Box } from './boxes';
import type { Element } from './ink';
import { styled } from './lines';
import { careBoxes, drawMark, drawSorts, thickRule, thinRule, white, type Setting } from './parts';
import { tailBoxes } from './leader-tail';
import { MM, type TypeStyle } from './type';
import { wordsBoxes } from './words';

/** Columns of an item in points from the left: clock, mark, words, minutes. */
interface Columns {
  mark: number;
  body: number;
  side: number;
  bodyWidth: number;
}

/** As drawn at the usual size; wider where larger type asks for it. */
function columnsOf(set: Setting): Columns {
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

/** Every box of the copy in order, and what to bookmark where. */
export function leaderBoxes(doc: GuideDocument, set: Setting): Box[] {
  return [
    ...headBoxes(doc, set),
    ...goalBoxes(doc, set),
    ...careBoxes(
      set,
      doc.cautions.map(({ text }) => text),
      6 * MM,
    ),
    ...doc.parts.flatMap((part, at) => partBoxes(part, set, at > 0 ? 4.6 * MM : 0)),
    ...spareBoxes(doc.spare, set),
    ...tailBoxes(doc, set),
  ];
}

/** A box that leaves a bookmark on the page it is drawn on. */
function marked(set: Setting, box: Box, title: string): Box {
  return {
    ...box,
    draw(x, y) {
      set.ink.bookmark(title);
      box.draw(x, y);
    },
  };
}

function headBoxes(doc: GuideDocument, set: Setting): Box[] {
  const { ink, width } = set;
  const narrow = set.preset === 'large';
  const aside = asideBoxes(doc, set, narrow ? width : 52 * MM);
  const room = aside.length === 0 || narrow ? width : width - 61 * MM;
  const h1 = set.type({ face: 'serif', size: 31, weight: 500, leading: 1.08 });
  h1.tracking = -0.012 * h1.size;
  const sub = set.type({ face: 'serif', size: 13.7, leading: 1.3 });
  const when = set.type({ face: 'serif', size: 11.5, colour: '#222222' });
  const left: Box[] = [
    textBox(ink, [{ text: doc.title, style: h1 }], h1, room, ink.element(ink.root, 'H1'), {
      balanced: true,
    }),
  ];
  if (doc.subtitle) {
    const runs = styled(runsOf(doc.subtitle), sub, set.slanting);
    left.push(
      textBox(ink, runs, sub, room, ink.element(ink.root, 'P'), {
        above: 2.2 * MM,
        balanced: true,
      }),
    );
  }
  if (doc.when)
    left.push(
      textBox(ink, [{ text: doc.when, style: when }], when, room, ink.element(ink.root, 'P'), {
        above: 2.4 * MM,
      }),
    );
  const below = white(8.5 * MM);
  if (aside.length === 0) return [stack(left), below];
  if (narrow) return [stack(left), { ...stack(aside), above: 4 * MM }, below];
  return [
    row(
      [
        { x: 0, box: stack(left) },
        { x: width - 52 * MM, down: 1 * MM, box: stack(aside) },
      ],
      0,
    ),
    below,
  ];
}

function asideBoxes({ haveReady, ifLate }: GuideDocument, set: Setting, width: number): Box[] {
  const { ink } = set;
  const head = set.type({ face: 'serif', size: 12, leading: 1.25, italic: true });
  const text = set.type({ face: 'sans', size: 10.5, leading: 1.42, figures: 'lining' });
  const said = (name: string, words: string, above: number): Box[] => {
    if (!words) return [];
    const section = ink.element(ink.root, 'Sect');
    return [
      {
        ...textBox(ink, [{ text: name, style: head }], head, width, ink.element(section, 'H2'), {
          above,
        }),
        keep: true,
      },
      textBox(ink, [{ text: words, style: text }], text, width, ink.element(section, 'P')),
    ];
  };
  const ready = said('Have ready', haveReady.join(', '), 0);
  return [...ready, ...said('If running late', ifLate.join('; '), ready.length > 0 ? 1.6 * MM : 0)];
}

function goalBoxes({ objective, note }: GuideDocument, set: Setting): Box[] {
  const { ink } = set;
  const width = Math.min(145 * MM, set.width);
  const text = set.type({ face: 'serif', size: 12 });
  const name = set.type({ face: 'sans', size: 10.5, weight: 700 });
  const boxes: Box[] = [];
  if (objective) {
    const runs = [
      { text: 'Aim ', style: name },
      { text: objective, style: text },
    ];
    boxes.push(padded(textBox(ink, runs, text, width, ink.element(ink.root, 'P')), 5 * MM));
  }
  if (note?.trim()) {
    const how = { slanting: set.slanting };
    boxes.push(...followed(wordsBoxes(ink, note, text, width, ink.root, how), 5 * MM));
  }
  return boxes;
}

function partBoxes(part: DocPart, set: Setting, above: number): Box[] {
  const { ink } = set;
  const section = ink.element(ink.root, 'Sect');
  const list = ink.element(section, 'L');
  const columns = columnsOf(set);
  const items = part.items.map((item, at) =>
    itemBox(item, set, columns, list, at < part.items.length - 1),
  );
  return [
    marked(set, thickRule(set, above), part.name),
    white(3.1 * MM - 2.5),
    { ...partHead(part, set, section), keep: items.length > 0 },
    { ...white(2.2 * MM), keep: items.length > 0 },
    ...items,
  ];
}

function partHead(part: DocPart, set: Setting, section: Element): Box {
  const { ink, width } = set;
  const name = set.type({ face: 'serif', size: 19.2, weight: 500, leading: 1.15 });
  const aim = set.type({ face: 'serif', size: 12.2, leading: 1.3, italic: true });
  const span = set.type({
    face: 'sans',
    size: 10.5,
    weight: 500,
    leading: 1.3,
    figures: 'tabular',
  });
  const time = `${part.from} to ${part.to}`;
  const gap = 4 * MM;
  const timeWidth = ink.widthOf(time, span) + 1;
  const nameWidth = Math.min(ink.widthOf(part.name, name) + 1, width - timeWidth - gap);
  const base = baselineOf(ink, name);
  const timeBox = textBox(
    ink,
    [{ text: time, style: span }],
    span,
    timeWidth,
    ink.element(section, 'P'),
    { align: 'right' },
  );
  const nameBox = textBox(
    ink,
    [{ text: part.name, style: name }],
    name,
    nameWidth,
    ink.element(section, 'H2'),
  );
  const right = { x: width - timeWidth, down: base - baselineOf(ink, span), box: timeBox };
  if (!part.aim) return row([{ x: 0, box: nameBox }, right], 0);
  const runs = styled(runsOf(part.aim), aim, set.slanting);
  const element = ink.element(section, 'P');
  const room = width - nameWidth - timeWidth - 2 * gap;
  if (room < width / 4 || set.preset === 'large') {
    const under = textBox(ink, runs, aim, width, element);
    const down = nameBox.height + 1 * MM;
    return row([{ x: 0, box: nameBox }, { x: 0, down, box: under }, right], 0);
  }
  const beside = {
    x: nameWidth + gap,
    down: base - baselineOf(ink, aim),
    box: textBox(ink, runs, aim, room, element),
  };
  return row([{ x: 0, box: nameBox }, beside, right], 0);
}

/** An item; the line down to the next stop is drawn as far as the box goes. */
function itemBox(
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

function promptBoxes(
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

function cueBoxes(cue: Cue, style: TypeStyle, set: Setting, width: number, body: Element): Box[] {
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

function sideBox(
  { minutes, level, must }: DocItem,
  set: Setting,
  body: Element,
  base: number,
): Box {
  const { ink } = set;
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
  if (must) boxes.push(line('must stay', small));
  const down = base - baselineOf(ink, strong);
  return row([{ x: 0, down, box: stack(boxes) }], 0);
}

function spareBoxes(items: readonly DocItem[], set: Setting): Box[] {
  if (items.length === 0) return [];
  const { ink } = set;
  const soft = softType(set);
  const section = ink.element(ink.root, 'Sect');
  const list = ink.element(section, 'L');
  const columns = columnsOf(set);
  const text = set.type({ face: 'serif', size: 11.5 });
  const cue = set.type({ face: 'sans', size: 10, leading: 1.38, figures: 'lining' });
  const strong = set.type({
    face: 'sans',
    size: 10.5,
    weight: 700,
    leading: 1.25,
    figures: 'tabular',
  });
  const base = baselineOf(ink, text);
  const side = text.size * 0.83;
  const lines = items.map((item): Box => {
    const body = ink.element(ink.element(list, 'LI'), 'LBody');
    const width = columns.side - side * 2 - 2 * MM;
    const inner = promptBoxes(item, text, set, width, body);
    for (const one of item.cues) inner.push(...cueBoxes(one, cue, set, width, body));
    const mark = plainBox(side, (x, y) =>
      drawMark(ink, item.kind, x, y, side, { parent: body, name: KIND_NAMES[item.kind] }),
    );
    const minutes = textBox(
      ink,
      [{ text: `${item.minutes} min`, style: strong }],
      strong,
      set.width,
      ink.element(body, 'P'),
    );
    return row(
      [
        { x: 0, down: base - side * 0.95, box: mark },
        { x: side * 2, box: stack(inner) },
        { x: columns.side, down: base - baselineOf(ink, strong), box: minutes },
      ],
      1,
      1.8 * MM,
    );
  });
  const head = textBox(
    ink,
    [{ text: 'Spare, if there is time', style: soft }],
    soft,
    set.width,
    ink.element(section, 'H2'),
  );
  return [
    marked(set, thinRule(set, 9 * MM), 'Spare'),
    white(2.2 * MM),
    { ...head, keep: true },
    ...lines,
  ];
}

export const softType = (set: Setting): TypeStyle =>
  set.type({ face: 'serif', size: 12.5, leading: 1.3, italic: true });
