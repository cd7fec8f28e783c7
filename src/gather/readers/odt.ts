import type { ReadWhole } from '../block';
import { BlockList, oneLine } from './tools/block-list';
import { dateOfMetadata } from './tools/dates-found';
import { HtmlBlocks } from './tools/html-blocks';
import { MOST_PICTURE_BYTES, MOST_TEXT_BYTES } from './tools/limits';
import type { Zip } from './tools/unzip';
import { Unreadable, type Watch } from './tools/watch';
import { escapeHtml, walk, type Attributes, type Marked } from './tools/xml';

/**
 * Reads an OpenDocument text (ISO/IEC 26300): its content is rewritten as simple HTML and goes the way of any page. Deleted text kept for
 * reviewing is left out; notes and margin comments follow the paragraph they belong to.
 */
export async function readOdt(zip: Zip, watch: Watch): Promise<ReadWhole> {
  if (/<manifest:encryption-data/.test(await textOf(zip, 'META-INF/manifest.xml'))) {
    throw new Unreadable(
      'locked',
      'This document is locked with a password. Open it where you made it, save it without one, and gather it again.',
    );
  }
  const content = await textOf(zip, 'content.xml');
  if (content === '') {
    throw new Unreadable(
      'damaged',
      'This OpenDocument file has no text part; it is damaged. If you have another copy, gather that one.',
    );
  }
  const pictures = new Map<string, Uint8Array>();
  for (const name of zip.names.filter((each) => each.startsWith('Pictures/'))) {
    pictures.set(name, await zip.read(name, MOST_PICTURE_BYTES));
  }
  const styles = new OdtStyles();
  await walk(await textOf(zip, 'styles.xml'), styles, watch, { xml: true });
  await walk(content, styles, watch, { xml: true });
  const html = new OdtToHtml(styles);
  await walk(content, html, watch, { xml: true });
  const list = new BlockList();
  const pictureAt = (address: string): Uint8Array | undefined =>
    pictures.get(address.replace(/^\.\//, ''));
  const page = new HtmlBlocks(list, { pictureAt });
  await walk(html.done(), page, watch);
  page.finish();
  const meta = new MetaReader();
  await walk(await textOf(zip, 'meta.xml'), meta, watch, { xml: true });
  const whole: ReadWhole = { ok: true, blocks: list.blocks, notes: list.notes };
  const title = list.settleTitle() ?? oneLine(meta.found.get('dc:title') ?? '');
  if (title) whole.title = title;
  const written =
    dateOfMetadata(meta.found.get('meta:creation-date')) ??
    dateOfMetadata(meta.found.get('dc:date'));
  if (written) whole.written = written;
  return whole;
}

async function textOf(zip: Zip, name: string): Promise<string> {
  return zip.has(name) ? new TextDecoder().decode(await zip.read(name, MOST_TEXT_BYTES)) : '';
}

class MetaReader implements Marked {
  readonly found = new Map<string, string>();
  #open = '';
  open(name: string): void {
    this.#open = name;
  }
  text(text: string): void {
    if (this.#open) this.found.set(this.#open, (this.found.get(this.#open) ?? '') + text);
  }
  close(): void {
    this.#open = '';
  }
}

interface Style {
  parent: string;
  italic?: boolean;
  bold?: boolean;
}

/** The styles of a document by name: which are italic or bold, and which paragraph style each comes down from. */
class OdtStyles implements Marked {
  readonly #styles = new Map<string, Style>();
  readonly #numbered = new Set<string>();
  #style: Style | undefined;
  #listStyle = '';

  open(name: string, attributes: Attributes): void {
    if (name === 'style:style') {
      this.#style = { parent: attributes['style:parent-style-name'] ?? '' };
      this.#styles.set(attributes['style:name'] ?? '', this.#style);
    } else if (name === 'style:text-properties' && this.#style) {
      const slant = attributes['fo:font-style'];
      const weight = attributes['fo:font-weight'];
      if (slant) this.#style.italic = slant === 'italic' || slant === 'oblique';
      if (weight) this.#style.bold = weight === 'bold' || Number(weight) >= 600;
    } else if (name === 'text:list-style') this.#listStyle = attributes['style:name'] ?? '';
    else if (name === 'text:list-level-style-number' && attributes['text:level'] === '1') {
      this.#numbered.add(this.#listStyle);
    }
  }

  text(): void {}

  close(name: string): void {
    if (name === 'style:style') this.#style = undefined;
  }

  isNumbered(listStyle: string): boolean {
    return this.#numbered.has(listStyle);
  }

  is(name: string, what: 'italic' | 'bold'): boolean {
    for (const each of this.#line(name)) {
      const said = this.#styles.get(each)?.[what];
      if (said !== undefined) return said;
    }
    return false;
  }

  /** Whether a style is, or comes down from, one whose name fits. */
  comesFrom(name: string, pattern: RegExp): boolean {
    return this.#line(name).some((each) => pattern.test(each));
  }

  #line(name: string): string[] {
    const line: string[] = [];
    for (let at = name; at !== '' && line.length < 20; at = this.#styles.get(at)?.parent ?? '')
      line.push(at);
    return line;
  }
}

const QUOTATION = /^(?:Quotations|Quote|Intense_20_Quote)$/;
const TITLE = /^Title$/;

/** Rewrites the body of an OpenDocument text as HTML of the plainest kind. */
class OdtToHtml implements Marked {
  readonly #out: string[] = [];
  readonly #closers: string[] = [];
  readonly #lists: boolean[] = [];
  #inBody = false;
  #skip = 0;
  /** Notes that are open, and those that wait for the end of their paragraph. */
  #notes: string[][] = [];
  #waiting: string[] = [];

  constructor(private readonly styles: OdtStyles) {}

  done(): string {
    // Quotations of several paragraphs are one.
    return this.#out.join('').replace(/<\/blockquote><blockquote>/g, '');
  }

  open(name: string, attributes: Attributes): void {
    if (name === 'office:body') this.#inBody = true;
    let closer = '';
    if (!this.#inBody) closer = '';
    else if (this.#skip > 0 || isLeftOut(name)) {
      this.#skip += 1;
      closer = '-';
    } else closer = this.#openKept(name, attributes);
    this.#closers.push(closer);
  }

  text(text: string): void {
    if (this.#inBody && this.#skip === 0) this.#write(escapeHtml(text));
  }

  close(name: string): void {
    const closer = this.#closers.pop() ?? '';
    if (name === 'office:body') this.#inBody = false;
    if (closer === '-') this.#skip -= 1;
    else if (name === 'text:note' || name === 'office:annotation') this.#closeNote();
    else if (closer !== '') this.#write(closer);
    if (name === 'text:list') this.#lists.pop();
    if ((name === 'text:p' || name === 'text:h') && this.#notes.length === 0) this.#writeWaiting();
  }

  #write(html: string): void {
    (this.#notes.at(-1) ?? this.#out).push(html);
  }

  /** A note stands inside a paragraph and is set down after it. */
  #closeNote(): void {
    const note = this.#notes.pop();
    if (note) this.#waiting.push(note.join(''));
  }

  #writeWaiting(): void {
    this.#out.push(...this.#waiting);
    this.#waiting = [];
  }

  /** Writes the opening and answers the closing. */
  #openKept(name: string, attributes: Attributes): string {
    const style = attributes['text:style-name'] ?? '';
    switch (name) {
      case 'text:h':
        return this.#tag(
          `h${Math.min(Math.max(Number(attributes['text:outline-level'] ?? 1) || 1, 1), 6)}`,
        );
      case 'text:p':
        return this.#paragraph(style);
      case 'text:span':
        return this.#setting(style);
      case 'text:a':
        return this.#tag('a', ` href="${escapeHtml(attributes['xlink:href'] ?? '')}"`);
      case 'text:list': {
        const numbered =
          style === '' ? (this.#lists.at(-1) ?? false) : this.styles.isNumbered(style);
        this.#lists.push(numbered);
        return this.#tag(numbered ? 'ol' : 'ul');
      }
      case 'text:list-item':
      case 'text:list-header':
        return this.#tag('li');
      case 'table:table':
        return this.#tag('table');
      case 'table:table-row':
        return this.#tag('tr');
      case 'table:table-cell':
        return this.#tag('td', ` colspan="${columnsOf(attributes)}"`);
      case 'draw:image':
        return this.#tag('img', ` src="${escapeHtml(attributes['xlink:href'] ?? '')}"`, true);
      case 'text:s':
      case 'text:tab':
        this.#write(' ');
        return '';
      case 'text:line-break':
        this.#write('<br>');
        return '';
      case 'text:note':
      case 'office:annotation':
        this.#notes.push([]);
        return '';
      default:
        return '';
    }
  }

  #paragraph(style: string): string {
    if (this.styles.comesFrom(style, TITLE)) return this.#tag('h1', ' class="file-title"');
    const quoted = this.styles.comesFrom(style, QUOTATION);
    const italic = !quoted && this.styles.is(style, 'italic');
    const bold = this.styles.is(style, 'bold');
    const tags = ['p', ...(italic ? ['em'] : []), ...(bold ? ['strong'] : [])];
    if (quoted) tags.unshift('blockquote');
    return tags
      .map((tag) => this.#tag(tag))
      .reverse()
      .join('');
  }

  #setting(style: string): string {
    const italic = this.styles.is(style, 'italic') ? this.#tag('em') : '';
    const bold = this.styles.is(style, 'bold') ? this.#tag('strong') : '';
    return bold + italic;
  }

  #tag(name: string, attributes = '', alone = false): string {
    this.#write(`<${name}${attributes}>`);
    return alone ? '' : `</${name}>`;
  }
}

function columnsOf(attributes: Attributes): number {
  const spanned = Number(attributes['table:number-columns-spanned'] ?? 1) || 1;
  return Math.max(spanned, Number(attributes['table:number-columns-repeated'] ?? 1) || 1);
}

/** Deleted text kept for reviewing, indexes made from headings, the marks of notes and who made a comment. */
function isLeftOut(name: string): boolean {
  return /^(?:text:tracked-changes|text:table-of-content|text:note-citation|text:sequence-decls|office:forms|dc:creator|dc:date|meta:creator-initials|svg:title|svg:desc)$/.test(
    name,
  );
}
