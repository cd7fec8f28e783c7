/**
 * A reader's CommonMark as a small tree of blocks and runs, for printings that are not web pages.
 * The same grammar as the web page has: raw HTML stays visible as text, links keep harmless
 * protocols only, a picture becomes its description, a heading a strong line.
 */
import type { PhrasingContent, RootContent } from 'mdast';
import { fromMarkdown } from 'mdast-util-from-markdown';
import { gfmTableFromMarkdown } from 'mdast-util-gfm-table';
import { gfmTable } from 'micromark-extension-gfm-table';
import { SPOKEN } from '../language/markdown';
import { clean } from './safe-text';

/** Letters set alike. A `\n` in the text is a line end that stays. */
export interface Run {
  text: string;
  bold?: boolean;
  italic?: boolean;
  /** http, https or mailto. */
  link?: string;
}

export type Block =
  | { is: 'paragraph'; runs: Run[] }
  | { is: 'list'; ordered: boolean; start: number; items: Block[][] }
  | { is: 'quote'; blocks: Block[] }
  | { is: 'table'; head: Run[][]; rows: Run[][][] }
  | { is: 'rule' };

const SAFE_LINK = /^(?:https?|mailto):/i;

/** The blocks of a CommonMark text (with tables). Never throws; an empty text has no blocks. */
export function blocksOf(commonMark: string): Block[] {
  const tree = fromMarkdown(clean(commonMark), {
    extensions: [gfmTable(), SPOKEN, { disable: { null: ['codeIndented'] } }],
    mdastExtensions: [gfmTableFromMarkdown()],
  });
  return tree.children.flatMap(blockOf);
}

/** The runs of a text that is meant to be one line or paragraph; further blocks follow after a line end. */
export function runsOf(commonMark: string): Run[] {
  const runs: Run[] = [];
  for (const block of blocksOf(commonMark)) {
    if (runs.length > 0) runs.push({ text: '\n' });
    runs.push(...flatRuns(block));
  }
  return runs;
}

/** Every run of a block in reading order. */
export function flatRuns(block: Block): Run[] {
  const joined = (parts: Run[][]): Run[] =>
    parts.flatMap((part, at) => (at > 0 ? [{ text: '\n' }, ...part] : part));
  switch (block.is) {
    case 'paragraph':
      return block.runs;
    case 'list':
      return joined(block.items.map((item) => joined(item.map(flatRuns))));
    case 'quote':
      return joined(block.blocks.map(flatRuns));
    case 'table':
      return joined([block.head, ...block.rows].flat());
    case 'rule':
      return [];
  }
}

function blockOf(node: RootContent): Block[] {
  switch (node.type) {
    case 'paragraph':
      return [{ is: 'paragraph', runs: inline(node.children, {}) }];
    case 'heading':
      return [{ is: 'paragraph', runs: inline(node.children, { bold: true }) }];
    case 'blockquote':
      return [{ is: 'quote', blocks: node.children.flatMap(blockOf) }];
    case 'list':
      return [
        {
          is: 'list',
          ordered: node.ordered === true,
          start: node.start ?? 1,
          items: node.children.map((item) => item.children.flatMap(blockOf)),
        },
      ];
    case 'table': {
      const rows = node.children.map((row) =>
        row.children.map((cell) => inline(cell.children, {})),
      );
      return [{ is: 'table', head: rows[0] ?? [], rows: rows.slice(1) }];
    }
    case 'code':
    case 'html':
      return [{ is: 'paragraph', runs: [{ text: node.value }] }];
    case 'thematicBreak':
      return [{ is: 'rule' }];
    default:
      return [];
  }
}

function inline(nodes: readonly PhrasingContent[], how: Omit<Run, 'text'>): Run[] {
  return nodes.flatMap((node): Run[] => {
    switch (node.type) {
      case 'text':
        return [{ ...how, text: node.value.replace(/\s*\n\s*/g, ' ') }];
      case 'inlineCode':
      case 'html':
        return [{ ...how, text: node.value.replace(/\n/g, ' ') }];
      case 'break':
        return [{ ...how, text: '\n' }];
      case 'emphasis':
        return inline(node.children, { ...how, italic: true });
      case 'strong':
        return inline(node.children, { ...how, bold: true });
      case 'link':
        return inline(node.children, linked(how, node.url));
      case 'image':
        return node.alt ? [{ ...how, text: node.alt }] : [];
      default:
        return [];
    }
  });
}

const linked = (how: Omit<Run, 'text'>, url: string): Omit<Run, 'text'> =>
  SAFE_LINK.test(url) ? { ...how, link: url } : how;
