import { parse } from 'bibtex-parse';
import { readDate } from '../../language/dates';
import { readIsbn } from '../../language/isbn';
import type { BookFound, ReadWhole } from '../block';
import { leftOut } from './csl';
import { oneLine } from './tools/block-list';
import { inNameOrder } from './tools/book-rows';
import { dateOf } from './tools/dates-found';
import { settleKeywords, type WithKeywords } from './tools/keywords';
import { fromTex } from './tools/tex';
import { Unreadable, type Watch } from './tools/watch';

const BOOKS = new Set([
  'book',
  'mvbook',
  'booklet',
  'collection',
  'mvcollection',
  'inbook',
  'ebook',
]);
const MONTHS = 'jan feb mar apr may jun jul aug sep oct nov dec'.split(' ');
/** Longer than any entry written; the parser goes deeper with every brace. */
const LONGEST_ENTRY = 100_000;

/**
 * Reads the books of a BibTeX file, entry by entry, so that a damaged entry costs no other. Names given by @string are filled in, TeX accents
 * become letters. Articles and the like are left out and told.
 */
export async function readBibtex(text: string, watch: Watch): Promise<ReadWhole> {
  const strings = new Map<string, string>();
  const books: WithKeywords[] = [];
  let others = 0;
  const damaged: number[] = [];
  for (const { source, line } of entriesOf(text)) {
    await watch.rest();
    const entry = parseEntry(source, strings);
    if (entry === 'damaged') damaged.push(line);
    else if (entry && !BOOKS.has(entry.type)) others += 1;
    else if (entry) {
      const book = bookOf(entry.fields, line);
      if (book) books.push({ book, keywords: keywordsOf(entry.fields) });
      else damaged.push(line);
    }
  }
  if (books.length === 0 && others === 0) {
    throw new Unreadable(
      'damaged',
      'No entry of this BibTeX file could be read; it is damaged or cut short. Save it again where it comes from.',
    );
  }
  const notes = others > 0 ? [leftOut(others)] : [];
  if (damaged.length > 0) {
    const named = `line${damaged.length > 1 ? 's' : ''} ${damaged.slice(0, 10).join(', ')}`;
    notes.push(
      `${damaged.length === 1 ? 'One entry is' : `${damaged.length} entries are`} damaged and ${damaged.length === 1 ? 'was' : 'were'} left out: see ${named}.`,
    );
  }
  return { ok: true, blocks: [], books: settleKeywords(books), notes };
}

/** Stretches from one `@` at the start of a line to the next. */
function entriesOf(text: string): { source: string; line: number }[] {
  const entries: { source: string; line: number }[] = [];
  let line = 1;
  for (const part of text.split(/^(?=[ \t]*@\w)/m)) {
    if (/^[ \t]*@/.test(part)) entries.push({ source: part, line });
    line += part.split('\n').length - 1;
  }
  return entries;
}

interface Entry {
  type: string;
  fields: Map<string, string>;
}

/** An entry; 'damaged'; or undefined for a comment, a preamble or a string, which is put among `strings`. */
function parseEntry(source: string, strings: Map<string, string>): Entry | 'damaged' | undefined {
  if (/^[ \t]*@(?:comment|preamble)\b/i.test(source)) return undefined;
  if (source.length > LONGEST_ENTRY) return 'damaged';
  let items: ReturnType<typeof parse>;
  try {
    items = parse(upToItsEnd(source));
  } catch {
    return 'damaged';
  }
  for (const item of items) {
    if (item.itemtype === 'string') strings.set(item.name.toLowerCase(), valueOf(item, strings));
    if (item.itemtype !== 'entry') continue;
    const fields = new Map<string, string>();
    for (const field of item.fields) fields.set(field.name.toLowerCase(), valueOf(field, strings));
    return { type: item.type.toLowerCase(), fields };
  }
  return undefined;
}

/** What follows the closing brace of an entry is a comment by the rules of BibTeX. */
function upToItsEnd(source: string): string {
  let depth = 0;
  for (let at = 0; at < source.length; at += 1) {
    const letter = source[at];
    if (letter === '\\') at += 1;
    else if (letter === '{') depth += 1;
    else if (letter === '}') {
      depth -= 1;
      if (depth === 0) return source.slice(0, at + 1);
    }
  }
  return source;
}

interface Value {
  datatype: string;
  value: unknown;
}

function valueOf(field: Value, strings: ReadonlyMap<string, string>): string {
  if (field.datatype === 'concatinate' && Array.isArray(field.value)) {
    return (field.value as Value[]).map((part) => valueOf(part, strings)).join('');
  }
  const text =
    field.value === null || field.value === undefined ? '' : String(field.value as string | number);
  if (field.datatype !== 'identifier') return text;
  const month = MONTHS.indexOf(text.toLowerCase().slice(0, 3));
  return strings.get(text.toLowerCase()) ?? (month >= 0 ? String(month + 1) : text);
}

function bookOf(fields: ReadonlyMap<string, string>, line: number): BookFound | undefined {
  const field = (name: string): string => oneLine(fromTex(fields.get(name) ?? ''));
  const main = field('title') || field('booktitle');
  if (main === '') return undefined;
  const subtitle = field('subtitle');
  const people = fields.get('author') ?? fields.get('editor') ?? '';
  const book: BookFound = {
    title: subtitle ? `${main}: ${subtitle}` : main,
    authors: namesIn(people),
    place: { line, note: `line ${line}` },
  };
  const isbn = readIsbn(field('isbn').split(/[,;]\s*/)[0] ?? '');
  if (isbn.ok) book.isbn = isbn.isbn13;
  // A tilde, which is a space in TeX, says "about" in a date of EDTF.
  const dated = (name: string): string | undefined => {
    const text = (fields.get(name) ?? '').replace(/[{}]/g, '').trim();
    return readDate(text).ok ? text : dateOf(text);
  };
  const published = dated('origdate') ?? dated('date') ?? dated('year');
  if (published) book.published = published;
  const pages = Number(/\d+/.exec(field('pagetotal') || field('numpages'))?.[0] ?? 0);
  if (pages >= 1 && pages <= 99_999) book.pages = pages;
  const language = field('langid') || field('language');
  if (language) book.language = language;
  const note = [field('annotation') || field('annote'), field('note')].filter(Boolean).join(' ');
  if (note) book.note = note;
  return book;
}

function keywordsOf(fields: ReadonlyMap<string, string>): string[] {
  return fromTex(fields.get('keywords') ?? '').split(/[,;]/);
}

/** Names parted by "and" outside braces; {The Brothers Grimm} in braces is one name whole. */
function namesIn(people: string): string[] {
  const names: string[] = [];
  let depth = 0;
  let open = '';
  for (const part of people.split(/(\{|\}|\s+and\s+)/)) {
    if (part === '{') depth += 1;
    if (part === '}') depth -= 1;
    if (depth === 0 && /^\s+and\s+$/.test(part)) {
      names.push(open);
      open = '';
    } else open += part;
  }
  names.push(open);
  return names
    .map((name) =>
      /^\s*\{.*\}\s*$/s.test(name) ? oneLine(fromTex(name)) : inNameOrder(oneLine(fromTex(name))),
    )
    .filter((name) => name !== '' && name.toLowerCase() !== 'others');
}
