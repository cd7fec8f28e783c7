/** A reader's CommonMark as boxes: paragraphs, lists, quotations and plain tables in one style. */
import { blocksOf, type Block, type Run } from '../rich';
import { plainBox, present, row, shifted, stack, textBox, type Box } from './boxes';
import type { Element, Ink } from './ink';
import { styled, type StyledRun } from './lines';
import type { TypeStyle } from './type';

interface WordsHow {
  /** White between blocks, as a part of the size. */
  between?: number;
  /** Whether emphasis may slant; not where italics are refused. */
  slanting: boolean;
  /** Runs set before the first paragraph, in line with it: the name of a cue. */
  before?: StyledRun[];
  /** BCP 47. */
  lang?: string;
}

/** Plain text as one run. */
export const plain = (text: string): Run[] => [{ text }];

/** The text in boxes of `width` points; told as paragraphs and lists under `parent`. */
export function wordsBoxes(
  ink: Ink,
  commonMark: string,
  style: TypeStyle,
  width: number,
  parent: Element,
  how: WordsHow,
): Box[] {
  const blocks = blocksOf(commonMark);
  const first = blocks[0];
  if (how.before && first?.is !== 'paragraph') blocks.unshift({ is: 'paragraph', runs: [] });
  return blocksBoxes(ink, blocks, style, width, parent, how);
}

/** The same for blocks already read. */
export function blocksBoxes(
  ink: Ink,
  blocks: readonly Block[],
  style: TypeStyle,
  width: number,
  parent: Element,
  how: WordsHow,
): Box[] {
  const white = style.size * (how.between ?? 0.5);
  return blocks.map((block, at) => {
    const lead = at === 0 ? how.before : undefined;
    const box = blockBox(ink, block, style, width, parent, { ...how, before: lead });
    return at === 0 ? box : { ...box, above: white };
  });
}

function blockBox(
  ink: Ink,
  block: Block,
  style: TypeStyle,
  width: number,
  parent: Element,
  how: WordsHow,
): Box {
  switch (block.is) {
    case 'paragraph': {
      const element = ink.element(parent, 'P', how.lang ? { lang: how.lang } : {});
      const runs = [...(how.before ?? []), ...styled(block.runs, style, how.slanting)];
      return textBox(ink, runs, style, width, element);
    }
    case 'list':
      return listBox(ink, block, style, width, parent, how);
    case 'quote': {
      const indent = style.size;
      const element = ink.element(parent, 'BlockQuote');
      const inner = blocksBoxes(ink, block.blocks, style, width - indent, element, how);
      return shifted(stack(inner), indent);
    }
    case 'table':
      return tableBox(ink, block, style, width, parent, how);
    case 'rule':
      return plainBox(style.size, (x, y) =>
        ink.aside(() => {
          const middle = y + style.size / 2;
          ink.rule([x, middle], [x + width / 4, middle], 0.5);
        }),
      );
  }
}

function listBox(
  ink: Ink,
  list: Extract<Block, { is: 'list' }>,
  style: TypeStyle,
  width: number,
  parent: Element,
  how: WordsHow,
): Box {
  const element = ink.element(parent, 'L');
  const labels = list.items.map((_, at) => (list.ordered ? `${list.start + at}.` : '•'));
  const widest = Math.max(0, ...labels.map((label) => ink.widthOf(label, style)));
  const indent = Math.max(style.size * 1.2, widest + style.size * 0.35);
  const items = list.items.map((blocks, at) => {
    const item = ink.element(element, 'LI');
    const label = textBox(
      ink,
      [{ text: labels[at]!, style }],
      style,
      indent,
      ink.element(item, 'Lbl'),
    );
    const body = ink.element(item, 'LBody');
    const inner = stack(blocksBoxes(ink, blocks, style, width - indent, body, how));
    return row(
      [
        { x: 0, box: label },
        { x: indent, box: inner },
      ],
      1,
      at > 0 ? style.size * 0.2 : 0,
    );
  });
  return stack(items);
}

function tableBox(
  ink: Ink,
  table: Extract<Block, { is: 'table' }>,
  style: TypeStyle,
  width: number,
  parent: Element,
  how: WordsHow,
): Box {
  const element = ink.element(parent, 'Table');
  const columns = Math.max(1, table.head.length);
  const each = width / columns;
  const line = (cells: readonly Run[][], head: boolean): Box => {
    const tr = ink.element(element, 'TR');
    const boxes = Array.from({ length: columns }, (_, at) => {
      const cell = ink.element(tr, head ? 'TH' : 'TD', head ? { scope: 'Column' } : {});
      const bold = (cells[at] ?? []).map((run) => (head ? { ...run, bold: true } : run));
      const runs = styled(bold, style, how.slanting);
      const words = textBox(ink, runs, style, each - style.size * 0.5, cell);
      return { x: at * each, box: present(cell, words) };
    });
    const inner = row(boxes, 0);
    const height = Math.max(inner.height, style.size * style.leading) + 4;
    return plainBox(height, (x, y) => {
      inner.draw(x, y + 1.5);
      ink.aside(() => ink.rule([x, y + height], [x + width, y + height], 0.5, '#777777'));
    });
  };
  return stack([line(table.head, true), ...table.rows.map((cells) => line(cells, false))]);
}
