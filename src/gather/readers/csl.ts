import { readDate } from '../../language/dates';
import { readIsbn } from '../../language/isbn';
import type { BookFound, ReadWhole } from '../block';
import { oneLine } from './tools/block-list';
import { isRecord, listOf, recordsIn, textOf, type JsonRecord } from './tools/json-values';
import type { Watch } from './tools/watch';

/** Kinds of the Citation Style Language that are a book or stand for one. */
const BOOKS = new Set(['book', 'classic', 'collection', 'graphic', 'manuscript', 'pamphlet']);

/** Whether JSON is a list of works in CSL-JSON (CSL 1.0.2): records of a `type` with a `title` and an author, a date or an id. */
export function isCsl(value: unknown): boolean {
  const rows = recordsIn(isRecord(value) && Array.isArray(value['items']) ? value['items'] : value);
  const [first] = rows;
  return (
    first !== undefined &&
    typeof first['type'] === 'string' &&
    typeof first['title'] === 'string' &&
    ('author' in first || 'issued' in first || 'id' in first)
  );
}

/** Reads the books of a CSL-JSON list. Articles and other parts of works are left out and told. */
export async function readCsl(value: unknown, watch: Watch): Promise<ReadWhole> {
  const rows = recordsIn(isRecord(value) && Array.isArray(value['items']) ? value['items'] : value);
  const books: BookFound[] = [];
  let others = 0;
  for (const [index, row] of rows.entries()) {
    const book = bookOf(row, index + 1);
    if (book) books.push(book);
    else others += 1;
    await watch.rest();
  }
  const notes = others > 0 ? [leftOut(others)] : [];
  return { ok: true, blocks: [], books, notes };
}

export function leftOut(others: number): string {
  return others === 1
    ? 'One work in this list is no book but an article or the like, and was left out.'
    : `${others} works in this list are no books but articles or the like, and were left out.`;
}

function bookOf(row: JsonRecord, number: number): BookFound | undefined {
  const title = textOf(row['title']);
  if (title === undefined || !BOOKS.has(textOf(row['type']) ?? '')) return undefined;
  const book: BookFound = {
    title: oneLine(plain(title)),
    authors: namesOf(row),
    place: { row: number, note: `work ${number}` },
  };
  const isbn = readIsbn((textOf(row['ISBN']) ?? '').split(/[,;]\s*|\s+(?=97[89])/)[0] ?? '');
  if (isbn.ok) book.isbn = isbn.isbn13;
  const published = dateOf(row['original-date']) ?? dateOf(row['issued']);
  if (published) book.published = published;
  const pages = Number(/\d+/.exec(textOf(row['number-of-pages']) ?? '')?.[0] ?? 0);
  if (pages >= 1 && pages <= 99_999) book.pages = pages;
  const language = textOf(row['language']);
  if (language) book.language = language;
  const note = [textOf(row['annote']), textOf(row['note'])].filter(Boolean).join(' ');
  if (note) book.note = oneLine(plain(note));
  return book;
}

/** Titles in CSL-JSON may hold <i>, <b>, <sup>, <sub> and spans of small capitals. */
function plain(text: string): string {
  return text.replace(/<\/?(?:i|b|sup|sub|span)\b[^<>]{0,100}>/gi, '');
}

function namesOf(row: JsonRecord): string[] {
  const people = recordsIn(row['author']).length > 0 ? row['author'] : row['editor'];
  return recordsIn(people)
    .map((name) => {
      const parts = ['given', 'dropping-particle', 'non-dropping-particle', 'family', 'suffix'].map(
        (part) => textOf(name[part]),
      );
      return textOf(name['literal']) ?? oneLine(parts.filter(Boolean).join(' '));
    })
    .filter((name) => name !== '');
}

/** CSL dates are lists of numbers, one or two of them, or a text. */
function dateOf(value: unknown): string | undefined {
  if (!isRecord(value)) return undefined;
  const points = listOf(value['date-parts'])
    .slice(0, 2)
    .map(pointOf)
    .filter((point) => point !== undefined);
  const text =
    points.length > 0 ? points.join('/') : (textOf(value['raw']) ?? textOf(value['literal']) ?? '');
  const edtf = value['circa'] && /^-?\d{4}$/.test(text) ? `${text}~` : text;
  return readDate(edtf).ok ? edtf : undefined;
}

function pointOf(parts: unknown): string | undefined {
  const numbers = listOf(parts).map(Number);
  const [told = Number.NaN, month, day] = numbers;
  if (!Number.isInteger(told) || Math.abs(told) > 9999) return undefined;
  // Processors take -400 as 400 BCE; EDTF counts a year 0, so that it is -0399 there.
  const year = told < 0 ? told + 1 : told;
  const two = (part: number | undefined): string =>
    part && Number.isInteger(part) ? `-${String(part).padStart(2, '0')}` : '';
  const padded = (year < 0 ? '-' : '') + String(Math.abs(year)).padStart(4, '0');
  return padded + two(month) + (month ? two(day) : '');
}
