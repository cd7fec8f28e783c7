import Papa from 'papaparse';
import type { ColumnRole, ReadWhole } from '../block';
import { BlockList, plainProse } from './tools/block-list';
import { bookOfRow } from './tools/book-rows';
import { columnNames, columnRoles, listsBooks, looksLikeColumnNames } from './tools/columns';
import { orderOfDates } from './tools/dates-found';
import { delimiterOf } from './tools/plain-kinds';
import { MOST_CELLS } from './tools/limits';
import { Unreadable, type Watch } from './tools/watch';

export interface Table {
  rows: string[][];
  delimiter: string;
  /** Faults of quoting, in sentences. */
  notes: string[];
}

/**
 * The cells of a table parted by commas, tabs, semicolons or bars (whichever fits), quoted as RFC 4180 says. Empty lines are left out. Throws
 * `Unreadable` beyond `MOST_CELLS`.
 */
export async function tableOf(text: string, watch: Watch): Promise<Table> {
  const rows: string[][] = [];
  const notes: string[] = [];
  const faulty = new Set<number>();
  const source = text.startsWith('\ufeff') ? text.slice(1) : text;
  const delimiter = delimiterOf(source);
  let cells = 0;
  let row = 0;
  const step = ({ data, errors }: Papa.ParseStepResult<string[]>): void => {
    watch.tick();
    row += 1;
    if (errors.length > 0) faulty.add(row);
    cells += data.length;
    if (cells > MOST_CELLS) throw tooManyCells();
    rows.push(data);
  };
  Papa.parse<string[]>(source, { delimiter, skipEmptyLines: false, step });
  await watch.rest();
  if (faulty.size > 0) {
    const named = [...faulty].slice(0, 5).join(', ');
    notes.push(
      `The quotation marks around cells do not match in row ${named}${faulty.size > 5 ? ' and others' : ''}; look these rows over.`,
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
  const whole = await readRows(rows, watch, columns);
  whole.notes.unshift(...notes);
  return whole;
}

/** Rows of cells as blocks, or as books. Row numbers count as a spreadsheet does, from 1 with the names of the columns. */
export async function readRows(
  rows: readonly (readonly string[])[],
  watch: Watch,
  columns?: Readonly<Record<string, ColumnRole>>,
): Promise<ReadWhole> {
  const list = new BlockList();
  const at = rows.findIndex((row) => row.some((cell) => cell.trim() !== ''));
  const first = rows[at] ?? [];
  const width = rows.reduce((most, row) => Math.max(most, row.length), 0);
  const named = looksLikeColumnNames(first) || namesToldColumns(first, width, columns);
  const names = columnNames(named ? first : [], width);
  const roles = columns ?? columnRoles(names);
  const body = rows
    .map((row, index) => ({ row, number: index + 1 }))
    .slice(Math.max(at, 0) + (named ? 1 : 0))
    .filter(({ row }) => row.some((cell) => cell.trim() !== ''));
  const whole: ReadWhole = { ok: true, blocks: list.blocks, notes: list.notes };
  if (names.length > 1) whole.columns = roles;
  const cellsOf = (row: readonly string[]): Record<string, string> =>
    Object.fromEntries(row.map((cell, index) => [names[index] ?? '', cell.trim()]));
  if (listsBooks(roles)) {
    const dates = Object.entries(roles).filter(
      ([, role]) => role === 'finished' || role === 'started',
    );
    const order = orderOfDates(
      body.flatMap(({ row }) => dates.map(([name]) => cellsOf(row)[name] ?? '')),
    );
    const books = [];
    for (const { row, number } of body) {
      const book = bookOfRow(cellsOf(row), roles, order, { row: number, note: `row ${number}` });
      if (book) books.push(book);
      else list.row(cellsOf(row), { row: number, note: `row ${number}` });
      await watch.rest();
    }
    whole.books = books;
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

/** Whether the columns that were told go by the names in the first row, and not by their numbers. */
function namesToldColumns(
  first: readonly string[],
  width: number,
  columns: Readonly<Record<string, ColumnRole>> | undefined,
): boolean {
  if (!columns || first.length < 2) return false;
  return columnNames(first, width).some((name) => Object.hasOwn(columns, name));
}
