import { readIsbn } from '../../../language/isbn';
import type { BlockPlace, BookFound, ColumnRole } from '../../block';
import { oneLine } from './block-list';
import { dateOf, orderOfDates, type DayOrder } from './dates-found';
import { readWhen } from './when-read';

type Cells = Readonly<Record<string, string>>;
type Roles = Readonly<Record<string, ColumnRole>>;

/** What the rows of a table say together of how each is meant. */
export interface ColumnsMeant {
  order: DayOrder;
  /** What a rating is out of where its cell does not say. */
  ratedOf: 5 | 10;
}

export function columnsMeant(rows: readonly Cells[], roles: Roles): ColumnsMeant {
  const cellsOf = (...asked: ColumnRole[]): string[] =>
    asked.flatMap((role) => {
      const name = columnOf(roles, role);
      return name === undefined ? [] : rows.map((cells) => cells[name] ?? '');
    });
  const ratings = cellsOf('rating').filter(Boolean).map(plainNumber);
  const most = Math.max(0, ...ratings.filter((rating) => rating !== undefined));
  const saysTen = /\b(?:10|ten)\b/i.test(columnOf(roles, 'rating') ?? '');
  return {
    order: orderOfDates(cellsOf('finished', 'started')),
    ratedOf: saysTen || (most > 5 && most <= 10) ? 10 : 5,
  };
}

function columnOf(roles: Roles, role: ColumnRole): string | undefined {
  return Object.keys(roles).find((each) => roles[each] === role);
}

/** A month and a year in two figures, as spreadsheets write it: read as of our time for a reading, not for the first printing. */
const OF_ANY_CENTURY = /^\p{L}{3,9}[-/ ’']\d\d$/u;

/** A row of a list of books as a book; undefined where it has no title. */
export function bookOfRow(
  cells: Cells,
  roles: Roles,
  { order, ratedOf }: ColumnsMeant,
  place: BlockPlace,
): BookFound | undefined {
  const cell = (role: ColumnRole): string => {
    const name = columnOf(roles, role);
    return name === undefined ? '' : oneLine(cells[name] ?? '');
  };
  const title = cell('title');
  if (title === '') return undefined;
  const book: BookFound = { title, authors: authorsIn(cell('author')), place, cells: { ...cells } };
  const isbn = readIsbn(cell('isbn').replace(/^[="']+|["']+$/g, ''));
  if (isbn.ok) book.isbn = isbn.isbn13;
  const published = OF_ANY_CENTURY.test(cell('published'))
    ? undefined
    : dateOf(cell('published'), order);
  if (published) book.published = published;
  const pages = pagesIn(cell('pages'));
  if (pages !== undefined) book.pages = pages;
  const rating = ratingIn(cell('rating'), ratedOf);
  if (rating !== undefined) book.rating = rating;
  const words: string[] = [];
  for (const role of ['started', 'finished'] as const) {
    const when = readWhen(cell(role), order);
    if (when.date) book[role] = when.date;
    if (when.abandoned && role === 'finished') book.abandoned = true;
    if (when.words) words.push(`${columnOf(roles, role)}: ${when.words}`);
  }
  if (words.length > 0) book.undated = words.join('\n');
  const form = formIn(cell('form'));
  if (form) book.form = form;
  for (const role of ['list', 'language', 'note'] as const) {
    const text = cell(role);
    if (text !== '') book[role] = text;
  }
  return book;
}

/**
 * The authors a cell names, each in the order of the name. "Grahame, Kenneth" is turned round; names are parted by semicolons, "and", "&", or
 * commas between whole names.
 */
export function authorsIn(cell: string): string[] {
  return cell
    .replace(/^(?:by|written by) /i, '')
    .split(/\s*[;|\n]\s*|\s+(?:and|&|with)\s+/i)
    .flatMap((part) => {
      const names = part.split(/\s*,\s*/).filter(Boolean);
      const whole = names.filter((name) => name.includes(' ') || name.includes('.'));
      if (
        names.length > 2 ||
        (names.length === 2 && whole.length === 2 && !/\.$/.test(names[1] ?? ''))
      )
        return names;
      return [inNameOrder(part)];
    })
    .map(oneLine)
    .filter((name) => /\p{L}/u.test(name));
}

const SUFFIX = '(?:jr|sr|i{2,3}|iv)\\.?';
const TURNED = new RegExp(`^([^,]+),\\s*(?:(${SUFFIX}),\\s*)?([^,]+?)(?:,\\s*(${SUFFIX}))?$`, 'i');

/** "Grahame, Kenneth" as "Kenneth Grahame", "King, Jr., Martin Luther" as "Martin Luther King Jr."; other names as they are. */
export function inNameOrder(name: string): string {
  const [, family, suffix, given = '', last] = TURNED.exec(name.trim()) ?? [];
  if (!family || new RegExp(`^${SUFFIX}$`, 'i').test(given)) return name.trim();
  return [given, family, suffix ?? last].filter(Boolean).join(' ');
}

/** 1 to 99,999; of "302 pp." the 302, of "xii + 302" the greater. */
function pagesIn(cell: string): number | undefined {
  const numbers = [...cell.matchAll(/\d{1,3}(?:[,.]\d{3})+|\d+/g)].map(([text]) =>
    Number(text.replace(/[,.]/g, '')),
  );
  const most = Math.max(0, ...numbers);
  return most >= 1 && most <= 99_999 ? most : undefined;
}

/** 0.5 to 5 in half steps: "4", "4.5", "4½", "4/5", "9 out of 10", "★★★★☆", "****"; "9" is out of `ratedOf`. A 0 is no rating. */
function ratingIn(cell: string, ratedOf: number): number | undefined {
  const stars = /^[★✭⭐*]{1,5}(½)?[☆\s]*$/u.exec(cell.trim().replace(/\ufe0f/g, ''));
  if (stars)
    return half(
      [...stars[0]].filter((mark) => /[★✭⭐*]/u.test(mark)).length + (stars[1] ? 0.5 : 0),
      5,
    );
  const parts =
    /^(\d{1,2}(?:[.,]\d+)?)\s*(½)?\s*(?:(?:\/|out of|of)\s*(5|10))?\s*(?:stars?|★)?$/i.exec(
      cell.trim(),
    );
  if (!parts) return undefined;
  const value = Number((parts[1] ?? '').replace(',', '.')) + (parts[2] ? 0.5 : 0);
  return half(value, Number(parts[3] ?? ratedOf));
}

function plainNumber(cell: string): number | undefined {
  return /^\s*\d+(?:[.,]\d+)?\s*$/.test(cell) ? Number(cell.replace(',', '.')) : undefined;
}

function half(value: number, of: number): number | undefined {
  const rating = Math.round((value / of) * 5 * 2) / 2;
  return rating >= 0.5 && rating <= 5 ? rating : undefined;
}

function formIn(cell: string): BookFound['form'] {
  if (/audio|listened|spoken|\bcds?\b/i.test(cell)) return 'audio';
  if (/e-?book|epub|kindle|electronic|digital|e-?reader/i.test(cell)) return 'ebook';
  if (/print|paper|hard|soft|book|cloth/i.test(cell)) return 'print';
  return undefined;
}
