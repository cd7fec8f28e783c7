/** The end of a leader's copy: room for what was worth keeping, minutes by level, the key, the works used. */
import type { EntryKind, Level } from '../../journal/records';
import { capital } from '../clock';
import { KIND_NAMES } from '../html-leader';
import type { GuideDocument } from '../model';
import { runsOf, type Run } from '../rich';
import { baselineOf, plainBox, row, stack, textBox, type Box } from './boxes';
import type { Element } from './ink';
import { styled } from './lines';
import { drawMark, drawSorts, thinRule, white, writingLines, type Setting } from './parts';
import { MM, type TypeStyle } from './type';

const KEEP_LINES = 6;

export function tailBoxes(doc: GuideDocument, set: Setting): Box[] {
  const { ink, width } = set;
  const soft = set.type({ face: 'serif', size: 12.5, leading: 1.3, italic: true });
  const small = set.type({ face: 'sans', size: 10.2, leading: 1.3, figures: 'tabular' });
  const section = ink.element(ink.root, 'Sect');
  const head = (text: string): Box => ({
    ...textBox(ink, [{ text, style: soft }], soft, width, ink.element(section, 'H2')),
    keep: true,
  });
  const keeping = `Worth keeping from ${doc.evening ? 'tonight' : 'this meeting'}`;
  const boxes: Box[] = [
    thinRule(set, 7.5 * MM),
    white(2.2 * MM),
    head(keeping),
    white(2.5 * MM),
    writingLines(
      { ...set, lines: set.lines === 'plain' ? 'ruled' : set.lines },
      KEEP_LINES,
      8.4 * MM,
      '#444444',
    ),
    thinRule(set, 7.5 * MM),
    white(2.2 * MM),
    head('Minutes by level'),
    white(1.2 * MM),
    { ...barsBox(doc.levels, set, small, section), keep: true },
    { ...keyBox(doc, set, small, section), keep: doc.sources.length > 0 },
  ];
  if (doc.sources.length > 0 && doc.sourcesHead !== 'Sources')
    boxes.push(...worksBoxes({ head: doc.sourcesHead, list: doc.sources }, set));
  else if (doc.sources.length > 0) {
    const style = set.type({ face: 'serif', size: 10.5 });
    const said: Run[] = [{ text: 'Sources: ' }];
    doc.sources.forEach((source, at) =>
      said.push(...(at > 0 ? [{ text: '; ' }] : []), ...runsOf(source)),
    );
    said.push({ text: '.' });
    const runs = styled(said, style, set.slanting);
    boxes.push(textBox(ink, runs, style, width, ink.element(section, 'P'), { above: 3.5 * MM }));
  }
  return boxes;
}

/** Works that short citations stand for, each with its first line hanging out. */
export function worksBoxes(
  { head, list }: { head: string; list: readonly string[] },
  set: Setting,
): Box[] {
  if (list.length === 0) return [];
  const { ink, width } = set;
  const soft = set.type({ face: 'serif', size: 12.5, leading: 1.3, italic: true });
  const style = set.type({ face: 'serif', size: 11 });
  const section = ink.element(ink.root, 'Sect');
  const title = ink.element(section, 'H2');
  const items = ink.element(section, 'L');
  const indent = 8 * MM;
  const lines = list.map((work) => {
    const body = ink.element(ink.element(items, 'LI'), 'LBody');
    const runs = styled(runsOf(work), style, set.slanting);
    const how = { above: 1 * MM, hang: indent };
    return textBox(ink, runs, style, width, body, how);
  });
  return [
    {
      ...textBox(ink, [{ text: head, style: soft }], soft, width, title, { above: 5 * MM }),
      keep: true,
    },
    ...lines,
  ];
}

/** Bars of one length unit, in rows of as many as have room: the longest falls just short of its line. */
function barsBox(
  levels: readonly { level: Level; minutes: number }[],
  set: Setting,
  small: TypeStyle,
  section: Element,
): Box {
  const { ink, width } = set;
  const most = Math.max(1, ...levels.map(({ minutes }) => minutes)) * 1.06;
  const gap = 4 * MM;
  const needed = ink.widthOf('Understand  00', small) + gap;
  const across = Math.max(1, Math.min(levels.length, Math.floor(width / needed)));
  const columns = across >= 6 ? 6 : across >= 3 ? 3 : across;
  const each = (width - gap * (columns - 1)) / columns;
  const list = ink.element(section, 'L');
  const strong = { ...small, weight: 700 as const };
  const cells = levels.map(({ level, minutes }, at) => {
    const item = ink.element(list, 'LI');
    const name = textBox(
      ink,
      [{ text: `${capital(level)} `, style: small }],
      small,
      each,
      ink.element(item, 'Lbl'),
    );
    const count = textBox(
      ink,
      [{ text: String(minutes), style: strong }],
      strong,
      each,
      ink.element(item, 'LBody'),
      { align: 'right' },
    );
    const bar = plainBox(1.5 * MM, (x, y) =>
      ink.aside(() => {
        const middle = y + 0.75 * MM;
        ink.rule([x, middle], [x + each, middle], 1.1);
        if (minutes > 0) ink.bar(x, y, (each * minutes) / most, 1.5 * MM);
      }),
    );
    const text = row(
      [
        { x: 0, box: name },
        { x: 0, box: count },
      ],
      0,
      1 * MM,
    );
    return { x: (at % columns) * (each + gap), box: stack([bar, text]) };
  });
  const rows: Box[] = [];
  for (let at = 0; at < cells.length; at += columns)
    rows.push(row(cells.slice(at, at + columns), 0, 2 * MM));
  return stack(rows);
}

/** The kinds by their marks, in lines of as many as have room, spread to the width where one line holds all. */
function keyBox(doc: GuideDocument, set: Setting, small: TypeStyle, section: Element): Box {
  const { ink, width } = set;
  const used = [...doc.parts.flatMap(({ items }) => items), ...doc.spare];
  const kinds = (Object.keys(KIND_NAMES) as (EntryKind | 'free')[]).filter(
    (kind) => kind !== 'free' || used.some((item) => item.kind === 'free'),
  );
  const list = ink.element(section, 'L');
  const side = small.size * 0.98;
  const one = (
    text: string,
    before: number,
    draw: (x: number, y: number) => void,
  ): { wide: number; box: Box } => {
    const wide = ink.widthOf(text, small) + 1;
    const item = ink.element(ink.element(list, 'LI'), 'LBody');
    const words = textBox(ink, [{ text, style: small }], small, wide, item);
    const mark = plainBox(side, draw);
    const down = baselineOf(ink, small) - side * 0.9;
    return {
      wide: before + wide,
      box: row(
        [
          { x: 0, down, box: mark },
          { x: before, box: words },
        ],
        1,
      ),
    };
  };
  const sorts = small.size * 2.06;
  const cells = [
    ...kinds.map((kind) =>
      one(KIND_NAMES[kind], side + 1.6 * MM, (x, y) => drawMark(ink, kind, x, y, side)),
    ),
    one('level, first to sixth', sorts + 1.6 * MM, (x, y) =>
      drawSorts(ink, 'analyse', x, y + side * 0.12, sorts),
    ),
  ];
  const total = cells.reduce((sum, cell) => sum + cell.wide, 0);
  const spread = (width - total) / (cells.length - 1);
  const gap = spread >= 4 * MM ? spread : 5 * MM;
  const rows: Box[] = [];
  let line: { x: number; box: Box }[] = [];
  let x = 0;
  for (const cell of cells) {
    if (x > 0 && x + cell.wide > width + 1) {
      rows.push(row(line, 0, 1 * MM));
      line = [];
      x = 0;
    }
    line.push({ x, box: cell.box });
    x += cell.wide + gap;
  }
  rows.push(row(line, 0, 1 * MM));
  return stack(rows, 4 * MM);
}
