import type { ColumnRole, ReadWhole } from '../block';
import { BlockList, oneLine, plainProse } from './tools/block-list';
import { bookOfRow, columnsMeant } from './tools/book-rows';
import {
  columnNames,
  columnRoles,
  columnsLeftOut,
  listsBooks,
  looksLikeColumnNames,
} from './tools/columns';
import { delimiterOf } from './tools/plain-kinds';
import { eachRow, newlineOf } from './tools/quoted-rows';
import { MOST_CELLS } from './tools/limits';
import { Unreadable, type Watch } from './tools/watch';

export interface Table {
  rows: string[][];
  delimiter: string;
  /** Faults of quoting, in sentences. */
  notes: string[];
}

/** Some spreadsheets say in a line of its own, above the table, what parts the cells. */
const SAYS_DELIMITER = /^sep=([,;|:\t])(?:\r\n?|\n)/i;
/**
 * The cells of a table parted by commas, tabs, semicolons or bars (whichever fits, or its first line says), quoted as RFC 4180 says, its lines
 * ended in any way. Throws `Unreadable` beyond `MOST_CELLS`.
 */
export async function tableOf(text: string, watch: Watch): Promise<Table> {
  const rows: string[][] = [];
  const notes: string[] = [];
  const faulty: number[] = [];
  const plain = text.replace(/^\ufeff/, '');
  const says = SAYS_DELIMITER.exec(plain);
  const source = plain.slice(says?.[0].length ?? 0);
  const delimiter = says?.[1] ?? delimiterOf(source);
  let cells = 0;
  await eachRow(source, { delimiter, newline: newlineOf(source) }, watch, (row, sound) => {
    if (!sound) faulty.push(rows.length + 1);
    cells += row.length;
    if (cells > MOST_CELLS) throw tooManyCells();
    rows.push(row);
  });
  if (faulty.length > 0) {
    const named = faulty.slice(0, 5).join(', ');
    notes.push(
      `The quotation marks around cells do not match in row ${named}${faulty.length > 5 ? ' and others' : ''}; look these rows over.`,
    );
  }
  return { rows, delimiter, notes };
}

function tooManyCells(): Unreadable {
  return new Unreadable(
    'too-many',
    `This table has more than ${MOST_CELLS.toLocaleString('en-GB')} cells. Split it into smaller files and gather those.`,
  );
}

/**
 * Reads a table. A first row that names the columns gives the cells their names; a table that plainly lists books gives books. `columns` sets
 * what a column is taken for, by its name.
 */
export async function readTable(
  text: string,
  watch: Watch,
  columns?: Readonly<Record<string, ColumnRole>>,
): Promise<ReadWhole> {
  const { rows, notes } = await tableOf(text, watch);
  const whole = await readRows(rows, watch, { columns });
  whole.notes.unshift(...notes);
  return whole;
}

interface RowsOptions {
  /** What columns are taken for, by their names. */
  columns?: Readonly<Record<string, ColumnRole>>;
  /** The first row is known to name the columns. */
  named?: boolean;
}

/**
 * Rows of cells as blocks, or as books. Row numbers count as a spreadsheet does, from 1 with the names of the columns, or with the title of
 * the table where one stands above them.
 */
export async function readRows(
  rows: readonly (readonly string[])[],
  watch: Watch,
  { columns, named = false }: RowsOptions = {},
): Promise<ReadWhole> {
  const list = new BlockList();
  const width = rows.reduce((most, row) => Math.max(most, row.length), 0);
  const at = named ? 0 : namesAt(rows, width, columns);
  const names = columnNames(at === undefined ? [] : (rows[at] ?? []), width);
  const body = rows
    .map((row, index) => ({ row, number: index + 1 }))
    .slice(at === undefined ? 0 : at + 1)
    .filter(({ row }) => isFilled(row));
  const whole: ReadWhole = { ok: true, blocks: list.blocks, notes: list.notes };
  const above = rows.slice(0, at ?? 0).flatMap((row) => row.map(oneLine).filter(Boolean));
  if (above.length > 0) whole.title = above.join(' · ');
  const cellsOf = (row: readonly string[]): Record<string, string> =>
    Object.fromEntries(row.map((cell, index) => [names[index] ?? '', cell.trim()]));
  const told = body.map(({ row }) => cellsOf(row));
  const roles = columns ?? columnRoles(names, told);
  if (names.length > 1) whole.columns = roles;
  if (listsBooks(roles, told)) {
    const left = columnsLeftOut(roles, told);
    if (left) whole.leftOut = left;
    const meant = columnsMeant(told, roles);
    const books = [];
    const undated: number[] = [];
    for (const { row, number } of body) {
      const book = bookOfRow(cellsOf(row), roles, meant, { row: number, note: `row ${number}` });
      if (book?.undated) undated.push(number);
      if (book) books.push(book);
      else list.row(cellsOf(row), { row: number, note: `row ${number}` });
      await watch.rest();
    }
    whole.books = books;
    if (undated.length > 0) list.note(undatedSaid(undated));
    return whole;
  }
  for (const { row, number } of body) {
    const cells = cellsOf(row);
    const place = { row: number, note: `row ${number}` };
    if (names.length > 1) list.row(cells, place);
    else list.paragraph(plainProse(row[0] ?? ''), place);
    await watch.rest();
  }
  return whole;
}

/** Lines of a title above the names of the columns, empty ones not counted in. */
const MOST_ABOVE = 3;

/** Which row names the columns: the first, or one beneath rows of a single cell; undefined where none does. */
function namesAt(
  rows: readonly (readonly string[])[],
  width: number,
  columns: RowsOptions['columns'],
): number | undefined {
  let above = 0;
  for (const [at, row] of rows.entries()) {
    if (!isFilled(row)) continue;
    if (looksLikeColumnNames(row) || namesToldColumns(row, width, columns)) return at;
    above += 1;
    if (above > MOST_ABOVE || row.filter((cell) => cell.trim() !== '').length > 1) return undefined;
  }
  return undefined;
}

function undatedSaid(rows: readonly number[]): string {
  const one = rows.length === 1;
  const named = rows.slice(0, 5).join(', ') + (rows.length > 5 ? ' and others' : '');
  return `What ${one ? `row ${named} says` : `rows ${named} say`} of when a book was read is no date; ${one ? 'that reading is' : 'those readings are'} kept without one, the words in ${one ? 'its' : 'their'} note.`;
}

function isFilled(row: readonly string[]): boolean {
  return row.some((cell) => cell.trim() !== '');
}

/** Whether the columns that were told go by the names in the first row, and not by their numbers. */
function namesToldColumns(
  first: readonly string[],
  width: number,
  columns: RowsOptions['columns'],
): boolean {
  if (!columns || first.length < 2) return false;
  return columnNames(first, width).some((name) => Object.hasOwn(columns, name));
}
