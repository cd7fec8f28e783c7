/** The leader's copy in PDF: a clock down the left, prompts, cues under them, minutes and level at the right. */
import { KIND_NAMES } from '../html-leader';
import type { DocItem, DocPart, GuideDocument } from '../model';
import { runsOf } from '../rich';
import { baselineOf, followed, padded, plainBox, row, stack, textBox, type Box } from './boxes';
import type { Element } from './ink';
import { columnsOf, cueBoxes, itemBox, promptBoxes } from './leader-item';
import { styled } from './lines';
import { bookmarked, careBoxes, drawMark, thickRule, thinRule, white, type Setting } from './parts';
import { tailBoxes } from './leader-tail';
import { MM, type TypeStyle } from './type';
import { wordsBoxes } from './words';

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
    ...endingBoxes(doc, set),
    ...spareBoxes(doc.spare, set),
    ...tailBoxes(doc, set),
  ];
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
    bookmarked(set, thickRule(set, above), part.name),
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

/** The minutes in hand after the last part, or over. */
function endingBoxes({ ending }: GuideDocument, set: Setting): Box[] {
  if (!ending) return [];
  const { ink, width } = set;
  const words = set.type({ face: 'serif', size: 12, figures: 'lining' });
  const clock = set.type({ face: 'sans', size: 11.5, weight: 700, leading: 1, figures: 'tabular' });
  const { body } = columnsOf(set);
  const element = ink.element(ink.root, 'P');
  const at = textBox(ink, [{ text: ending.clock, style: clock }], clock, body, element);
  const said = textBox(ink, [{ text: ending.text, style: words }], words, width - body, element);
  const down = baselineOf(ink, words) - baselineOf(ink, clock);
  const cells = [
    { x: 0, down, box: at },
    { x: body, box: said },
  ];
  return [thinRule(set, 3 * MM), white(2.2 * MM), row(cells, 1)];
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
    bookmarked(set, thinRule(set, 9 * MM), 'Spare'),
    white(2.2 * MM),
    { ...head, keep: true },
    ...lines,
  ];
}

const softType = (set: Setting): TypeStyle =>
  set.type({ face: 'serif', size: 12.5, leading: 1.3, italic: true });
