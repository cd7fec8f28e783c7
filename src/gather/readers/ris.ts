import { readIsbn } from '../../language/isbn';
import type { BookFound, ReadWhole } from '../block';
import { leftOut } from './csl';
import { oneLine } from './tools/block-list';
import { inNameOrder } from './tools/book-rows';
import { dateOf } from './tools/dates-found';
import { settleKeywords, type WithKeywords } from './tools/keywords';
import { Unreadable, type Watch } from './tools/watch';

const TAG = /^([A-Z][A-Z0-9]) {1,2}-(?: (.*)|\s*)$/;
const BOOKS = new Set(['BOOK', 'EBOOK', 'EDBOOK', 'CLSWK', 'SER', 'ANCIENT', 'PAMP']);

/**
 * Reads the books of a RIS file: records of `XX  - value` from TY to ER; a line without a tag carries on the one before. Articles and the
 * like are left out and told.
 */
export async function readRis(text: string, watch: Watch): Promise<ReadWhole> {
  const books: WithKeywords[] = [];
  let others = 0;
  let unended = false;
  let record: { type: string; line: number; fields: Map<string, string[]> } | undefined;
  let last: string[] | undefined;
  const end = (): void => {
    const book = record && BOOKS.has(record.type) ? bookOf(record.fields, record.line) : undefined;
    if (book) books.push({ book, keywords: record?.fields.get('KW') ?? [] });
    else if (record) others += 1;
    record = undefined;
    last = undefined;
  };
  for (const [index, line] of text
    .replace(/^\ufeff/, '')
    .split(/\r\n|[\n\r]/)
    .entries()) {
    if (index % 500 === 0) await watch.rest();
    const [, tag, value = ''] = TAG.exec(line) ?? [];
    if (tag === 'TY') {
      end();
      record = { type: value.trim().toUpperCase(), line: index + 1, fields: new Map() };
    } else if (tag === 'ER') end();
    else if (tag && record) {
      last = record.fields.get(tag) ?? [];
      last.push(value.trim());
      record.fields.set(tag, last);
    } else if (last && last.length > 0 && line.trim() !== '')
      last.push(`${last.pop() ?? ''} ${line.trim()}`);
  }
  unended = record !== undefined;
  end();
  if (books.length === 0 && others === 0) {
    throw new Unreadable(
      'damaged',
      'No record of this RIS file could be read; it is damaged or cut short. Save it again where it comes from.',
    );
  }
  const notes = others > 0 ? [leftOut(others)] : [];
  if (unended) notes.push('The file is cut short; its last record may not be whole.');
  return { ok: true, blocks: [], books: settleKeywords(books), notes };
}

function bookOf(fields: ReadonlyMap<string, string[]>, line: number): BookFound | undefined {
  const all = (...tags: string[]): string[] =>
    tags
      .flatMap((tag) => fields.get(tag) ?? [])
      .map(oneLine)
      .filter(Boolean);
  const first = (...tags: string[]): string | undefined => all(...tags)[0];
  const title = first('TI', 'T1', 'BT', 'CT');
  if (title === undefined) return undefined;
  const authors = all('AU', 'A1').length > 0 ? all('AU', 'A1') : all('A2', 'ED');
  const book: BookFound = {
    title,
    authors: authors.map(inNameOrder),
    place: { line, note: `line ${line}` },
  };
  const isbn = readIsbn((first('SN', 'BN') ?? '').replace(/\s*\(.*$/, ''));
  if (isbn.ok) book.isbn = isbn.isbn13;
  // PY and Y1 are written year/month/day/words, any of which may be empty.
  const published = (first('OP') ?? first('PY', 'Y1', 'DA') ?? '').replace(
    /\/+[^/]*$|\/+$/g,
    (rest) => (/\d/.test(rest) ? rest : ''),
  );
  const date = dateOf(published.replace(/\/+$/, '').replace(/^(\d{4})\/(\d{2})$/, '$1-$2'));
  if (date) book.published = date;
  const pages = Number(/^(\d{1,5})\s*(?:pp?\.?|pages)?$/i.exec(first('SP') ?? '')?.[1] ?? 0);
  if (pages >= 1 && !first('EP')) book.pages = pages;
  const language = first('LA');
  if (language) book.language = language;
  const note = all('N1', 'AB', 'N2').join(' ');
  if (note) book.note = note;
  return book;
}
