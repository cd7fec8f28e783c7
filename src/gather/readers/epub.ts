import type { BookFound, ReadWhole } from '../block';
import { readIsbn } from '../../language/isbn';
import { BlockList, oneLine } from './tools/block-list';
import { decode } from './tools/decode';
import { HtmlBlocks } from './tools/html-blocks';
import { MOST_PICTURE_BYTES, MOST_TEXT_BYTES } from './tools/limits';
import { folderOf, resolvePath } from './tools/paths';
import type { Zip } from './tools/unzip';
import { Unreadable, type Watch } from './tools/watch';
import { localName, walk, type Attributes, type Marked } from './tools/xml';

const CONTAINER = 'META-INF/container.xml';
const PAGE = /x?html|xml/i;

/**
 * Reads an e-book (EPUB 2 and 3) as a source of passages: its parts in reading order, and the book it is. Copies locked by a seller are
 * refused; contents pages are left out, as are the pictures of covers and ornaments too large or too many to keep.
 */
export async function readEpub(zip: Zip, watch: Watch): Promise<ReadWhole> {
  const container = await textOf(zip, CONTAINER);
  const rootPath = /<(?:\w+:)?rootfile\b[^>]*?full-path\s*=\s*["']([^"']{1,500})/.exec(
    container,
  )?.[1];
  if (!rootPath || !zip.has(rootPath)) throw damaged();
  const book = new PackageReader();
  await walk(await textOf(zip, rootPath), book, watch, { xml: true });
  const folder = folderOf(rootPath);
  const locked = await lockedPaths(zip);
  const list = new BlockList();
  let part = 0;
  for (const { href, type } of book.spine()) {
    const path = resolvePath(folder, href);
    if (!path || !zip.has(path) || !PAGE.test(type)) continue;
    if (locked.has(path)) throw lockedBySeller();
    part += 1;
    await readPart(zip, path, part, list, watch);
  }
  const found = book.book();
  if (part === 0) throw damaged();
  const whole: ReadWhole = { ok: true, blocks: list.blocks, notes: list.notes };
  const title = found?.title ?? list.settleTitle();
  if (title) whole.title = title;
  if (found) {
    whole.books = [found];
    whole.passages = true;
  }
  return whole;
}

function damaged(): Unreadable {
  return new Unreadable(
    'damaged',
    'This e-book is damaged: its list of parts is missing or empty. If you have another copy, gather that one.',
  );
}

function lockedBySeller(): Unreadable {
  return new Unreadable(
    'locked',
    'This e-book is locked by its seller and cannot be read here. Copy the passages you want to keep and paste them in.',
  );
}

async function readPart(
  zip: Zip,
  path: string,
  part: number,
  list: BlockList,
  watch: Watch,
): Promise<void> {
  const { text } = decode(await zip.read(path, MOST_TEXT_BYTES));
  const pictures = new Map<string, Uint8Array>();
  for (const match of text.matchAll(/<img\b[^>]{0,2000}?\ssrc\s*=\s*["']([^"']{1,1000})/gi)) {
    const address = match[1] ?? '';
    const at = resolvePath(folderOf(path), address);
    if (at && zip.has(at) && pictures.size < 200)
      pictures.set(address, await zip.read(at, MOST_PICTURE_BYTES));
  }
  const first = list.blocks.length;
  const place = { note: `part ${part}` };
  const page = new HtmlBlocks(list, { pictureAt: (address) => pictures.get(address), place });
  await walk(text, page, watch);
  page.finish();
  const heading = list.blocks.slice(first).find(({ as }) => as === 'heading' || as === 'title');
  if (heading) place.note = `part ${part}, ${oneLine(heading.text).slice(0, 80)}`;
}

async function textOf(zip: Zip, name: string): Promise<string> {
  return zip.has(name) ? decode(await zip.read(name, MOST_TEXT_BYTES)).text : '';
}

/** Parts named in the list of what is encrypted; fonts are often among them and do not matter. */
async function lockedPaths(zip: Zip): Promise<Set<string>> {
  const text = await textOf(zip, 'META-INF/encryption.xml');
  const paths = [...text.matchAll(/CipherReference\b[^>]{0,500}?URI\s*=\s*["']([^"']{1,500})/g)];
  return new Set(paths.map((match) => resolvePath('', match[1] ?? '') ?? ''));
}

interface ManifestItem {
  href: string;
  type: string;
  properties: string;
}

/** The package document: what the book is, what files it has, and in what order they are read. */
class PackageReader implements Marked {
  readonly #items = new Map<string, ManifestItem>();
  readonly #order: string[] = [];
  readonly #said = new Map<string, string[]>();
  readonly #creators: { name: string; role: string }[] = [];
  #open = '';
  #text = '';
  #role = '';

  open(name: string, attributes: Attributes): void {
    const local = localName(name);
    this.#open = local;
    this.#text = '';
    if (local === 'creator') this.#role = attributes['opf:role'] ?? '';
    if (local === 'item') {
      this.#items.set(attributes['id'] ?? '', {
        href: attributes['href'] ?? '',
        type: attributes['media-type'] ?? '',
        properties: attributes['properties'] ?? '',
      });
    } else if (local === 'itemref' && attributes['linear'] !== 'no')
      this.#order.push(attributes['idref'] ?? '');
  }

  text(text: string): void {
    this.#text += text;
  }

  close(name: string): void {
    const local = localName(name);
    const text = oneLine(this.#text);
    if (local === this.#open && text !== '') {
      if (local === 'creator') this.#creators.push({ name: text, role: this.#role });
      else this.#said.set(local, [...(this.#said.get(local) ?? []).slice(0, 20), text]);
    }
    this.#open = '';
  }

  spine(): ManifestItem[] {
    return this.#order
      .map((id) => this.#items.get(id))
      .filter((item) => item !== undefined)
      .filter(({ properties }) => !properties.split(/\s+/).includes('nav'));
  }

  book(): BookFound | undefined {
    const title = this.#said.get('title')?.[0];
    if (!title) return undefined;
    const authors = this.#creators
      .filter(({ role }) => role === '' || role === 'aut')
      .map(({ name }) => name);
    const book: BookFound = { title, authors, place: { note: 'the title page' } };
    const isbn = (this.#said.get('identifier') ?? [])
      .map((text) => readIsbn(text.replace(/^urn:isbn:/i, '')))
      .find((answer) => answer.ok);
    if (isbn?.ok) book.isbn = isbn.isbn13;
    const language = this.#said.get('language')?.[0];
    if (language) book.language = language;
    return book;
  }
}
