import type { Block, BlockPlace } from '../../block';
import { type BlockList, oneLine, plainProse } from './block-list';
import { atEmptyLines, isBoldHeading, TYPED_BULLET, withoutBullet, withTerm } from './html-runs';
import { bytesOfDataAddress, pictureFrom } from './picture-bytes';
import { proseOf, type Prose, type Run } from './safe-text';
import { TableRows } from './html-table';
import type { Attributes, Marked } from './xml';

interface HtmlOptions {
  pictureAt?: PictureAt;
  /** Of every block, where the page is a part of something. */
  place?: BlockPlace;
}

/** The bytes of a picture by the address a page names it with. */
export type PictureAt = (address: string) => Uint8Array | undefined;

const HEADING = /^h[1-6]$/;
/** What is no text of the page: programs, styles, the parts of a form, ways around a site. */
const SKIPPED = new Set(
  'script style title template noscript nav svg math iframe object embed applet audio video canvas select button datalist map'.split(
    ' ',
  ),
);
/** Elements that begin and end a paragraph of their own. */
const BLOCK = new Set(
  'p div section article main header footer aside address center details summary fieldset form figure figcaption pre blockquote ul ol menu dir li dl dt dd table caption thead tbody tfoot tr td th hr body html h1 h2 h3 h4 h5 h6'.split(
    ' ',
  ),
);
const EM = new Set(['em', 'i', 'cite', 'dfn', 'var']);
const STRONG = new Set(['strong', 'b']);
const LISTS = new Set(['ul', 'ol', 'menu', 'dir']);
/** What leads from a footnote back to the text. */
const BACK_TO_TEXT = /^\s*[↑↩^\ufe0e]+\s*$/;
const BOLD_HEADING_LEVEL = 6;

interface Item {
  depth: number;
  ordered: boolean;
  /** The text of the item so far, once it is set down. */
  block?: Block;
  plain: string;
  /** Something hangs from it already. */
  parent: boolean;
}

interface Open {
  name: string;
  em?: boolean;
  strong?: boolean;
  skip?: boolean;
  quoted?: boolean;
  link?: boolean;
}

/**
 * Turns the tags of a page into blocks. Headings, list items, table rows, quotations and pictures keep what they are; everything else
 * is paragraphs. Hidden parts and programs are passed over; attributes other than a few plain ones are never looked at.
 */
export class HtmlBlocks implements Marked {
  title = '';
  /** What meta elements say, by lower-case name. */
  readonly meta = new Map<string, string>();
  #open: Open[] = [];
  #skip = 0;
  #em = 0;
  #strong = 0;
  #pre = 0;
  #href: string | undefined;
  #runs: Run[] = [];
  #lists: boolean[] = [];
  #items: Item[] = [];
  #quotes: Prose[][] = [];
  #tables: TableRows[] = [];
  #heading: { level: number; title: boolean } | undefined;
  /** A term of a list that waits for what is said of it. */
  #term: Prose | undefined;
  /** Of each open list of terms, how deep the heading of the folder is that it holds; 0 where it has none. */
  #folders: number[] = [];
  #folder = 0;
  #inTitle = false;
  #unseen = 0;
  #figure: Block | undefined;

  constructor(
    readonly list: BlockList,
    private readonly options: HtmlOptions = {},
  ) {}

  open(name: string, attributes: Attributes): void {
    const entry: Open = { name };
    this.#open.push(entry);
    if (name === 'title' && this.#svgFree()) this.#inTitle = true;
    if (name === 'meta') this.#takeMeta(attributes);
    if (SKIPPED.has(name) || isHidden(attributes) || this.#marksNote(name, attributes)) {
      entry.skip = true;
      this.#skip += 1;
    }
    if (this.#skip > 0) return;
    if (BLOCK.has(name)) this.#openBlock(name, attributes);
    else this.#openInline(name, attributes, entry);
  }

  text(text: string): void {
    if (this.#inTitle) this.title += text;
    if (this.#skip > 0 || (this.#href?.startsWith('#') && BACK_TO_TEXT.test(text))) return;
    if (this.#pre > 0 && /[\r\n]/.test(text)) {
      for (const [index, line] of text.split(/\r\n?|\n/).entries()) {
        if (index > 0) this.#runs.push({ text: '', lineBreak: true });
        this.#push(line);
      }
    } else this.#push(text);
  }

  close(name: string): void {
    const entry = this.#open.pop();
    if (name === 'title') this.#inTitle = false;
    if (this.#skip > 0) {
      if (entry?.skip) this.#skip -= 1;
      return;
    }
    if (entry?.em) this.#em -= 1;
    if (entry?.strong) this.#strong -= 1;
    if (entry?.quoted) this.#push('”');
    if (entry?.link) this.#href = undefined;
    if (BLOCK.has(name)) this.#closeBlock(name);
  }

  /** To be called once at the end of the page. */
  finish(): void {
    this.#flush();
    this.#setDownTerm();
    while (this.#tables.length > 0) this.#closeTable();
    if (this.#unseen > 0) {
      const many = this.#unseen > 1;
      this.list.note(
        `${many ? `${this.#unseen} pictures are` : 'One picture is'} named here but not in the file, and ${many ? 'were' : 'was'} left out.`,
      );
    }
  }

  /** The number of a footnote, raised and linked to it. */
  #marksNote(name: string, attributes: Attributes): boolean {
    if (name === 'sup') return this.#href?.startsWith('#') ?? false;
    return name === 'a' && (attributes['href'] ?? '').startsWith('#') && this.#isIn('sup');
  }

  #isIn(name: string): boolean {
    return this.#open.some((entry) => entry.name === name && !entry.skip);
  }

  #svgFree(): boolean {
    return !this.#open.some(({ name }) => name === 'svg');
  }

  #push(text: string): void {
    if (text === '') return;
    const run: Run = { text };
    if (this.#em > 0) run.em = true;
    if (this.#strong > 0) run.strong = true;
    if (this.#href !== undefined) run.href = this.#href;
    this.#runs.push(run);
  }

  #takeMeta(attributes: Attributes): void {
    const name = attributes['name'] ?? attributes['property'] ?? attributes['itemprop'];
    const content = attributes['content'];
    if (name && content && this.meta.size < 200) this.meta.set(name.toLowerCase(), content);
  }

  #openInline(name: string, attributes: Attributes, entry: Open): void {
    if (EM.has(name)) {
      entry.em = true;
      this.#em += 1;
    } else if (STRONG.has(name)) {
      entry.strong = true;
      this.#strong += 1;
    } else if (name === 'q') {
      entry.quoted = true;
      this.#push('“');
    } else if (name === 'br') this.#runs.push({ text: '', lineBreak: true });
    else if (name === 'img') this.#picture(attributes);
    else if (name === 'a' && attributes['href'] && this.#href === undefined) {
      entry.link = true;
      this.#href = attributes['href'];
    } else if (name === 'span') {
      const style = attributes['style'] ?? '';
      if (/font-style\s*:\s*italic/i.test(style)) {
        entry.em = true;
        this.#em += 1;
      }
      if (/font-weight\s*:\s*(?:bold|[6-9]00)/i.test(style)) {
        entry.strong = true;
        this.#strong += 1;
      }
    }
  }

  #openBlock(name: string, attributes: Attributes): void {
    this.#flush();
    if (HEADING.test(name)) {
      const title = (attributes['class'] ?? '').split(/\s+/).includes('file-title');
      // A folder of bookmarks is a heading inside a term, of one level however deep it lies.
      const folder = this.#termOr() === 'dt';
      const level = Number(name[1]) + (folder ? this.#folders.length - 1 : 0);
      if (folder) this.#folder = level;
      this.#heading = { level, title };
    } else if (LISTS.has(name)) {
      this.#hangFromItem();
      this.#lists.push(name === 'ol');
    } else if (name === 'li') {
      const depth = Math.max(this.#lists.length, 1);
      this.#items.push({ depth, ordered: this.#lists.at(-1) ?? false, plain: '', parent: false });
    } else if (name === 'blockquote') this.#quotes.push([]);
    else if (name === 'pre') this.#pre += 1;
    else if (name === 'table') this.#tables.push(new TableRows());
    else if (name === 'tr') this.#tables.at(-1)?.openRow();
    else if (name === 'td' || name === 'th')
      this.#tables.at(-1)?.openCell(name === 'th', attributes);
    else if (name === 'dt') this.#setDownTerm();
    else if (name === 'dl') {
      this.#folders.push(this.#folder);
      this.#folder = 0;
    }
  }

  #closeBlock(name: string): void {
    this.#flush(name);
    if (HEADING.test(name)) this.#heading = undefined;
    else if (LISTS.has(name)) this.#lists.pop();
    else if (name === 'li') {
      if (this.#items.pop()?.parent) this.list.closeParent();
    } else if (name === 'blockquote') this.#closeQuote();
    else if (name === 'pre') this.#pre = Math.max(0, this.#pre - 1);
    else if (name === 'table') this.#closeTable();
    else if (name === 'td' || name === 'th') this.#tables.at(-1)?.closeCell();
    else if (name === 'figure') this.#figure = undefined;
    else if (name === 'dl') this.#closeTerms();
  }

  #closeTerms(): void {
    this.#setDownTerm();
    const folder = this.#folders.pop();
    if (folder) this.list.endHeading(folder);
  }

  /** A term of which nothing is said stands alone. */
  #setDownTerm(): void {
    if (this.#term) this.list.item(this.#term, 1, false, this.options.place);
    this.#term = undefined;
  }

  /** Whether words stand in a term or in what is said of one, by the innermost. */
  #termOr(closing?: string): 'dt' | 'dd' | undefined {
    const name =
      closing === 'dt' || closing === 'dd'
        ? closing
        : this.#open.findLast((entry) => /^d[ltd]$/.test(entry.name))?.name;
    return name === 'dt' || name === 'dd' ? name : undefined;
  }

  /** The first list inside an item hangs from the words of the item. */
  #hangFromItem(): void {
    const item = this.#items.at(-1);
    if (!item || item.parent) return;
    item.parent = true;
    this.list.openParent(item.plain);
  }

  #flush(closing?: string): void {
    if (this.#runs.length === 0) return;
    const runs = this.#runs;
    this.#runs = [];
    for (const part of atEmptyLines(runs)) this.#settle(part, closing);
  }

  /** Sets down one paragraph's runs as what the open elements make of them. */
  #settle(runs: readonly Run[], closing: string | undefined): void {
    const prose = proseOf(runs);
    if (prose.plain.trim() === '') return;
    const table = this.#tables.at(-1);
    if (table?.inCell) {
      table.add(prose);
      return;
    }
    if (this.#heading) {
      this.#setDownTerm();
      const { level, title } = this.#heading;
      const words = runs.map(({ text, em, lineBreak }) => ({ text: lineBreak ? ' ' : text, em }));
      this.list.heading(proseOf(words), level, this.options.place, title);
      return;
    }
    const quote = this.#quotes.at(-1);
    if (quote) {
      quote.push(prose);
      return;
    }
    if (closing === 'figcaption' && this.#figure?.picture?.alt === '') {
      this.#figure.picture.alt = oneLine(prose.plain);
      this.#figure.text = prose.text;
      return;
    }
    const item = this.#items.at(-1);
    if (item) this.#settleItem(item, prose);
    else if (this.#termOr(closing) === 'dt') {
      this.#setDownTerm();
      this.#term = prose;
    } else if (this.#term) {
      this.list.item(this.#termed(prose), 1, false, this.options.place);
    } else if (isBoldHeading(runs, prose)) {
      this.list.heading(plainProse(oneLine(prose.plain)), BOLD_HEADING_LEVEL, this.options.place);
    } else if (TYPED_BULLET.test(prose.plain)) {
      this.list.item(proseOf(withoutBullet(runs)), 1, false, this.options.place);
    } else this.list.paragraph(prose, this.options.place);
  }

  /** The words with the term that waited for them. */
  #termed(prose: Prose): Prose {
    const term = this.#term;
    this.#term = undefined;
    return term ? withTerm(term, prose) : prose;
  }

  #settleItem(item: Item, own: Prose): void {
    const prose = this.#termed(own);
    if (!item.block) {
      const block = this.list.item(prose, item.depth, item.ordered, this.options.place);
      if (block) item.block = block;
      item.plain = prose.plain;
    } else if (this.list.blocks.at(-1) === item.block) this.list.extend(item.block, prose);
    else this.list.paragraph(prose, this.options.place);
  }

  #closeQuote(): void {
    const parts = this.#quotes.pop();
    if (!parts || parts.length === 0) return;
    const outer = this.#quotes.at(-1);
    if (outer) {
      outer.push(...parts);
      return;
    }
    const [first, ...others] = parts;
    this.#setDownTerm();
    const block = first && this.list.quote(first, this.options.place);
    if (block) for (const prose of others) this.list.extend(block, prose);
  }

  #closeTable(): void {
    const table = this.#tables.pop();
    if (!table) return;
    const outer = this.#tables.at(-1);
    if (outer?.inCell) {
      outer.take(table);
      return;
    }
    this.#setDownTerm();
    table.setDown(this.list);
  }

  #picture(attributes: Attributes): void {
    const source = attributes['src'] ?? '';
    const alt = oneLine(attributes['alt'] ?? '');
    const bytes = bytesOfDataAddress(source) ?? this.options.pictureAt?.(source);
    if (!bytes) {
      if (alt !== '' || !/^(?:https?:)?\/\//i.test(source)) this.#unseen += 1;
      return;
    }
    const picture = pictureFrom(bytes, alt);
    if (!picture) {
      this.#unseen += 1;
      return;
    }
    if (isMarkOnly(picture.width, picture.height)) return;
    this.#flush();
    this.#setDownTerm();
    const block = this.list.picture(picture, this.options.place);
    if (this.#isIn('figure')) this.#figure = block;
  }
}

/** Pictures of a few points across are spacers and bullets. */
function isMarkOnly(width: number | undefined, height: number | undefined): boolean {
  return width !== undefined && height !== undefined && (width < 8 || height < 8);
}

function isHidden(attributes: Attributes): boolean {
  return (
    'hidden' in attributes ||
    attributes['aria-hidden'] === 'true' ||
    /display\s*:\s*none|visibility\s*:\s*hidden/i.test(attributes['style'] ?? '')
  );
}
