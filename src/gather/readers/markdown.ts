import type { List, ListItem, PhrasingContent, Root, RootContent, Table } from 'mdast';
import { fromMarkdown } from 'mdast-util-from-markdown';
import { gfmTableFromMarkdown } from 'mdast-util-gfm-table';
import { gfmTable } from 'micromark-extension-gfm-table';
import type { Block, BlockPlace, ReadWhole } from '../block';
import { BlockList, oneLine, plainProse } from './tools/block-list';
import { columnNames } from './tools/columns';
import { dateOf } from './tools/dates-found';
import { HtmlBlocks, type PictureAt } from './tools/html-blocks';
import { pictureFrom } from './tools/picture-bytes';
import { proseOf, runsOfLines, type Prose, type Run } from './tools/safe-text';
import type { Watch } from './tools/watch';
import { flowsOn, wrapWidth } from './tools/wrapping';
import { walk } from './tools/xml';
import { readText } from './text';

/** Longer texts are parsed in parts, so that other work has its turn between them. */
const PART_CHARS = 32 * 1024;
/** A stretch without an empty line longer than this is no Markdown anybody wrote, and is read as plain text. */
const LONGEST_STRETCH = 64 * 1024;
const MOST_MARKS_DEEP = 40;
const MOST_BRACKETS = 2000;

interface Part {
  text: string;
  /** Lines before it. */
  before: number;
}

/** Reads CommonMark with tables. HTML in it is read as a page is: words only. */
export async function readMarkdown(
  text: string,
  watch: Watch,
  pictureAt?: PictureAt,
): Promise<ReadWhole> {
  const list = new BlockList();
  const { body, before, head } = withoutFrontMatter(text);
  const walker = new MarkdownBlocks(list, watch, text, pictureAt);
  for (const part of partsOf(body, before)) {
    if (isTooMuch(part.text)) await takeAsText(part, list, watch);
    else await walker.take(fromMarkdown(part.text, OPTIONS), part.before);
    await watch.rest();
  }
  walker.finish();
  for (const [name, value] of head) {
    if (!/^(?:title|date|created|written)$/i.test(name)) {
      list.paragraph(plainProse(`${name}: ${value}`), { line: 1, note: 'the head of the file' });
    }
  }
  const whole: ReadWhole = { ok: true, blocks: list.blocks, notes: list.notes };
  const title = list.settleTitle() ?? headed(head, /^title$/i);
  if (title) whole.title = title;
  const written = dateOf(headed(head, /^(?:date|written|created)$/i) ?? '');
  if (written) whole.written = written;
  return whole;
}

const OPTIONS = { extensions: [gfmTable()], mdastExtensions: [gfmTableFromMarkdown()] };

function headed(head: readonly (readonly [string, string])[], name: RegExp): string | undefined {
  return head.find(([key]) => name.test(key))?.[1];
}

/** Lines of `name: value` between two rules at the very top are about the file, not of it. */
function withoutFrontMatter(text: string): {
  body: string;
  before: number;
  head: (readonly [string, string])[];
} {
  const block = /^---\r?\n((?:[^\n]{0,500}\n){0,60}?)---[ \t]*\r?(?:\n|$)/.exec(text);
  const inner = block?.[1] ?? '';
  // A value given as a list of lines with dashes stands on one line as well.
  const lines = inner
    .replace(/\r?\n[ \t]*- +/g, ', ')
    .split(/\r?\n/)
    .filter(Boolean);
  const pairs = lines.map((line) => /^([\w -]{1,40}):[\s,]*(.*)$/.exec(line));
  if (!block || lines.length === 0 || pairs.some((pair) => !pair)) {
    return { body: text, before: 0, head: [] };
  }
  const head = pairs.map(
    (pair) => [pair?.[1] ?? '', (pair?.[2] ?? '').replace(/^["'](.*)["']$/, '$1')] as const,
  );
  return {
    body: text.slice(block[0].length),
    before: block[0].split('\n').length - 1,
    head: head.filter(([, value]) => value !== ''),
  };
}

/** Parts at empty lines before unindented text, outside fenced code. */
function partsOf(text: string, before: number): Part[] {
  if (text.length <= PART_CHARS) return [{ text, before }];
  const parts: Part[] = [];
  const lines = text.split(/(?<=\n)/);
  let open: string[] = [];
  let size = 0;
  let began = before;
  let fence: string | undefined;
  for (const [index, line] of lines.entries()) {
    const mark = /^ {0,3}(`{3,}|~{3,})/.exec(line)?.[1];
    if (mark && fence === undefined) fence = mark;
    else if (mark && fence !== undefined && mark.startsWith(fence)) fence = undefined;
    const fresh = /^[^\s>|]/.test(line) && (lines[index - 1] ?? '').trim() === '';
    if (size > PART_CHARS && ((fresh && fence === undefined) || size > LONGEST_STRETCH)) {
      parts.push({ text: open.join(''), before: began });
      began = before + index;
      open = [];
      size = 0;
      fence = undefined;
    }
    open.push(line);
    size += line.length;
  }
  parts.push({ text: open.join(''), before: began });
  return parts;
}

/** Marks nested or repeated beyond anything written by hand, at which a parser of Markdown takes very long. */
function isTooMuch(text: string): boolean {
  if (text.length > LONGEST_STRETCH * 2) return true;
  const deep = new RegExp(
    `^(?:[ \\t]*(?:>|[-+*](?=\\s)|\\d{1,9}[.)](?=\\s))){${MOST_MARKS_DEEP},}`,
    'm',
  );
  if (deep.test(text)) return true;
  for (const stretch of text.split(/\n[ \t]*\r?\n/)) {
    if (stretch.length < MOST_BRACKETS) continue;
    if ((stretch.match(/[[\]*_`<]/g)?.length ?? 0) > MOST_BRACKETS) return true;
  }
  return false;
}

async function takeAsText(part: Part, list: BlockList, watch: Watch): Promise<void> {
  const { blocks } = await readText(part.text, watch);
  for (const block of blocks) {
    const line = (block.place.line ?? 1) + part.before;
    list.paragraph(
      { text: block.text, italics: block.italics ?? [], plain: block.text },
      placeAt(line),
    );
  }
}

function placeAt(line: number): BlockPlace {
  return { line, note: `line ${line}` };
}

class MarkdownBlocks {
  #before = 0;
  readonly #lines: string[];
  readonly #width: number | undefined;
  #unseen = 0;

  constructor(
    private readonly list: BlockList,
    private readonly watch: Watch,
    text: string,
    private readonly pictureAt?: PictureAt,
  ) {
    this.#lines = text.split(/\r\n|[\n\r]/);
    this.#width = wrapWidth(this.#lines);
  }

  async take(root: Root, before: number): Promise<void> {
    this.#before = before;
    for (const node of root.children) await this.#block(node, 0);
  }

  finish(): void {
    if (this.#unseen > 0) {
      const many = this.#unseen > 1;
      this.list.note(
        `${many ? `${this.#unseen} pictures are` : 'One picture is'} named here but not in the file, and ${many ? 'were' : 'was'} left out.`,
      );
    }
  }

  async #block(node: RootContent, depth: number): Promise<void> {
    this.watch.tick();
    const place = placeAt((node.position?.start.line ?? 1) + this.#before);
    switch (node.type) {
      case 'heading':
        this.list.heading(this.#prose(node.children, place), node.depth, place);
        return;
      case 'paragraph':
        this.list.paragraph(this.#prose(node.children, place), place);
        return;
      case 'blockquote':
        await this.#quote(node.children, place, depth);
        return;
      case 'list':
        await this.#items(node, depth + 1);
        return;
      case 'code':
        this.list.paragraph(proseOf(runsOfLines(node.value)), place);
        return;
      case 'html':
        await this.#html(node.value, place);
        return;
      case 'table':
        this.#table(node);
        return;
      default:
        return; // rules and the addresses of links show nothing
    }
  }

  async #quote(children: readonly RootContent[], place: BlockPlace, depth: number): Promise<void> {
    let open: Block | undefined;
    for (const child of children) {
      if (child.type === 'paragraph') {
        const prose = this.#prose(child.children, place);
        if (open && this.list.blocks.at(-1) === open) this.list.extend(open, prose);
        else open = this.list.quote(prose, place);
      } else if (child.type === 'blockquote') await this.#quote(child.children, place, depth);
      else await this.#block(child, depth);
    }
  }

  async #items(list: List, depth: number): Promise<void> {
    for (const item of list.children) await this.#item(item, depth, list.ordered === true);
  }

  async #item(item: ListItem, depth: number, ordered: boolean): Promise<void> {
    const place = placeAt((item.position?.start.line ?? 1) + this.#before);
    let open: Block | undefined;
    let plain = '';
    let parent = false;
    for (const child of item.children) {
      if (child.type === 'paragraph') {
        const prose = this.#prose(child.children, place);
        if (!open) {
          open = this.list.item(prose, depth, ordered, place);
          plain = prose.plain;
        } else if (this.list.blocks.at(-1) === open) this.list.extend(open, prose);
        else this.list.paragraph(prose, place);
      } else {
        if (child.type === 'list' && !parent) {
          parent = true;
          this.list.openParent(plain);
        }
        await this.#block(child, depth);
      }
    }
    if (parent) this.list.closeParent();
  }

  async #html(html: string, place: BlockPlace): Promise<void> {
    const page = new HtmlBlocks(this.list, { pictureAt: this.pictureAt, place });
    await walk(html, page, this.watch);
    page.finish();
  }

  #table(table: Table): void {
    const [head, ...rows] = table.children;
    if (!head) return;
    const textOf = (cells: (typeof head)['children']): string[] =>
      cells.map((cell) => oneLine(proseOf(this.#runs(cell.children, {})).plain));
    const width = Math.max(...table.children.map((row) => row.children.length));
    const names = columnNames(textOf(head.children), width);
    for (const [index, row] of rows.entries()) {
      const cells = textOf(row.children).map((text, at): [string, string] => [
        names[at] ?? '',
        text,
      ]);
      const line = (row.position?.start.line ?? 1) + this.#before;
      this.list.row(Object.fromEntries(cells), { line, row: index + 2, note: `line ${line}` });
    }
  }

  #prose(children: readonly PhrasingContent[], place: BlockPlace): Prose {
    return proseOf(this.#runs(children, {}, place));
  }

  #runs(children: readonly PhrasingContent[], setting: Partial<Run>, place?: BlockPlace): Run[] {
    return children.flatMap((child): Run[] => {
      this.watch.tick();
      switch (child.type) {
        case 'text':
          return this.#textRuns(child.value, child.position?.start.line, setting);
        case 'inlineCode':
          return [{ ...setting, text: child.value }];
        case 'emphasis':
          return this.#runs(child.children, { ...setting, em: true }, place);
        case 'strong':
          return this.#runs(child.children, { ...setting, strong: true }, place);
        case 'link':
          return this.#runs(child.children, { ...setting, href: child.url }, place);
        case 'linkReference':
          return this.#runs(child.children, setting, place);
        case 'break':
          return [{ text: '', lineBreak: true }];
        case 'html':
          return /^<br\s*\/?>$/i.test(child.value) ? [{ text: '', lineBreak: true }] : [];
        case 'imageReference':
          this.#unseen += 1;
          return [];
        case 'image':
          this.#picture(child.url, child.alt ?? '', place);
          return [];
        default:
          return [];
      }
    });
  }

  /** A line that ends short of the width of the text was meant to end there, though CommonMark would run it on. */
  #textRuns(value: string, from: number | undefined, setting: Partial<Run>): Run[] {
    return value.split('\n').flatMap((text, index) => {
      if (index === 0) return [{ ...setting, text }];
      const at = (from ?? 1) + this.#before + index - 1;
      const next = (this.#lines[at] ?? '').replace(/^[\s>]+/, '');
      const runsOn = flowsOn((this.#lines[at - 1] ?? '').trimEnd(), next, this.#width);
      const parted: Run = runsOn ? { ...setting, text: ' ' } : { text: '', lineBreak: true };
      return [parted, { ...setting, text }];
    });
  }

  #picture(address: string, alt: string, place: BlockPlace | undefined): void {
    const bytes = this.pictureAt?.(address);
    const picture = bytes && pictureFrom(bytes, oneLine(alt));
    if (picture) this.list.picture(picture, place);
    else this.#unseen += 1;
  }
}
