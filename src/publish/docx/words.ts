/** A reader's CommonMark as Word's paragraphs, lists and tables. */
import {
  BorderStyle,
  ExternalHyperlink,
  Paragraph,
  Table,
  TableCell,
  TableRow,
  TextRun,
  WidthType,
  type ILevelsOptions,
  type INumberingOptions,
  type IParagraphOptions,
  type ParagraphChild,
} from 'docx';
import { blocksOf, type Block, type Run } from '../rich';
import { clean } from '../safe-text';
import { mm, styleId, type StyleId } from './styles';

const DEEPEST = 8;

/** Gives every numbered list its own numbers, and every first number its own kind of list. */
export class Numbering {
  #instances = 0;
  readonly #starts = new Set<number>([1]);

  ordered(start: number, level: number): IParagraphOptions['numbering'] {
    this.#starts.add(start);
    return { reference: `numbers-${start}`, level, instance: this.#instances };
  }

  bullets(level: number): IParagraphOptions['numbering'] {
    return { reference: 'bullets', level };
  }

  /** To be called before a numbered list, which then begins anew. */
  next(): void {
    this.#instances += 1;
  }

  options(): INumberingOptions {
    const levels = (format: 'decimal' | 'bullet', start: number): ILevelsOptions[] =>
      Array.from({ length: DEEPEST + 1 }, (_, level) => ({
        level,
        format,
        text: format === 'decimal' ? `%${level + 1}.` : '•',
        start,
        style: { paragraph: { indent: { left: mm(8 * (level + 1)), hanging: mm(8) } } },
      }));
    return {
      config: [
        { reference: 'bullets', levels: levels('bullet', 1) },
        ...[...this.#starts].map((start) => ({
          reference: `numbers-${start}`,
          levels: levels('decimal', start),
        })),
      ],
    };
  }
}

export interface Writing {
  numbering: Numbering;
  slants: boolean;
}

export interface How {
  style: StyleId;
  before?: ParagraphChild[];
  lang?: string;
  options?: Partial<IParagraphOptions>;
}

/** Letters that XML may hold, with line ends as breaks. */
export function textRun(
  text: string,
  how: { bold?: boolean; italics?: boolean; lang?: string; link?: boolean } = {},
): TextRun[] {
  return clean(text)
    .split('\n')
    .map(
      (line, at) =>
        new TextRun({
          text: line,
          ...(at > 0 ? { break: 1 } : {}),
          ...(how.bold ? { bold: true } : {}),
          ...(how.italics === undefined ? {} : { italics: how.italics }),
          ...(how.lang ? { language: { value: how.lang } } : {}),
          ...(how.link ? { style: 'Hyperlink' } : {}),
        }),
    );
}

export function runs(all: readonly Run[], writing: Writing, lang?: string): ParagraphChild[] {
  return all.flatMap(({ text, bold, italic, link }): ParagraphChild[] => {
    const how = {
      ...(bold ? { bold } : {}),
      ...(italic && writing.slants ? { italics: true } : {}),
      ...(lang ? { lang } : {}),
    };
    if (!link) return textRun(text, how);
    return [new ExternalHyperlink({ link, children: textRun(text, { ...how, link: true }) })];
  });
}

/** The paragraphs, lists and tables of a text. */
export function words(commonMark: string, writing: Writing, how: How): (Paragraph | Table)[] {
  const blocks = blocksOf(commonMark);
  if (how.before && blocks[0]?.is !== 'paragraph') blocks.unshift({ is: 'paragraph', runs: [] });
  return blocks.flatMap((block, at) =>
    blockOf(block, writing, at === 0 ? how : { ...how, before: [] }, 0),
  );
}

function blockOf(block: Block, writing: Writing, how: How, level: number): (Paragraph | Table)[] {
  switch (block.is) {
    case 'paragraph':
      return [
        new Paragraph({
          style: styleId(how.style),
          ...how.options,
          children: [...(how.before ?? []), ...runs(block.runs, writing, how.lang)],
        }),
      ];
    case 'quote':
      return block.blocks.flatMap((one) =>
        blockOf(
          one,
          writing,
          { ...how, options: { ...how.options, indent: { left: mm(12) } } },
          level,
        ),
      );
    case 'list': {
      if (block.ordered && level === 0) writing.numbering.next();
      const deep = Math.min(level, DEEPEST);
      return block.items.flatMap((item) =>
        item.flatMap((one, at) => {
          const numbering = block.ordered
            ? writing.numbering.ordered(block.start, deep)
            : writing.numbering.bullets(deep);
          const options =
            at === 0
              ? { ...how.options, numbering }
              : { ...how.options, indent: { left: mm(8 * (deep + 1)) } };
          return blockOf(one, writing, { ...how, before: [], options }, level + 1);
        }),
      );
    }
    case 'table':
      return [tableOf(block, writing, how)];
    case 'rule':
      return [new Paragraph({ style: styleId(how.style), thematicBreak: true })];
  }
}

const LINE = { style: BorderStyle.SINGLE, size: 6, color: '000000' };
const NONE = { style: BorderStyle.NONE, size: 0, color: 'auto' };

/** A table with a head that is repeated overleaf. `rowHeight` in millimetres makes a grid to write in; `named` leaves the first column unframed. */
export function tableOf(
  table: Extract<Block, { is: 'table' }>,
  writing: Writing,
  how: How,
  grid?: { rowHeight: number; named: boolean },
): Table {
  const columns = Math.max(1, table.head.length);
  const width = Math.floor(100 / columns);
  const cell = (content: readonly Run[], head: boolean, at: number): TableCell => {
    const open = grid && (head || (grid.named && at === 0));
    const side = open ? NONE : LINE;
    return new TableCell({
      width: { size: width, type: WidthType.PERCENTAGE },
      margins: { top: mm(1), bottom: mm(1), left: mm(2), right: mm(2) },
      borders: { top: side, bottom: side, left: side, right: side },
      children: [
        new Paragraph({
          style: styleId(how.style),
          children: runs(head ? content.map((run) => ({ ...run, bold: true })) : content, writing),
        }),
      ],
    });
  };
  const row = (cells: readonly Run[][], head: boolean): TableRow =>
    new TableRow({
      tableHeader: head,
      cantSplit: true,
      ...(grid && !head ? { height: { value: mm(grid.rowHeight), rule: 'atLeast' as const } } : {}),
      children: Array.from({ length: columns }, (_, at) => cell(cells[at] ?? [], head, at)),
    });
  return new Table({
    width: { size: 100, type: WidthType.PERCENTAGE },
    rows: [row(table.head, true), ...table.rows.map((cells) => row(cells, false))],
  });
}
