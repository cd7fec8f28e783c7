/** The rows of a table whose cells may be quoted, and of one whose quotation marks do not all close. */
import Papa from 'papaparse';
import type { Watch } from './watch';

export interface Marks {
  delimiter: string;
  newline: '\n' | '\r';
}

/** A table with more rows than this whose quotation marks never close quotes no cells at all. */
const MOST_UNCLOSED = 50;
const SAMPLE_LETTERS = 1_000_000;

/** What ends the lines, breaks inside quoted cells not counted in. A line feed stands for one with a carriage return before it as well. */
export function newlineOf(source: string): Marks['newline'] {
  const outside = source.slice(0, SAMPLE_LETTERS).replace(/"[^"]*"/g, '');
  const feeds = outside.match(/\n/g)?.length ?? 0;
  const returns = outside.match(/\r(?!\n)/g)?.length ?? 0;
  return returns > feeds ? '\r' : '\n';
}

type TakeRow = (row: string[], sound: boolean) => void;

/**
 * Hands on every row, empty lines too, and whether the quotation marks in it match. A mark that opens a cell and never closes costs no row but
 * its own: that line is read with its marks as letters, and the next is a row again.
 */
export async function eachRow(
  source: string,
  marks: Marks,
  watch: Watch,
  take: TakeRow,
): Promise<void> {
  let width: number | undefined;
  const taken: TakeRow = (row, sound) => {
    watch.tick();
    width ??= row.length;
    take(row, sound);
  };
  let from = 0;
  for (let unclosed = 0; from < source.length; unclosed += 1) {
    const quoteChar = unclosed < MOST_UNCLOSED ? '"' : '\0';
    from += rowsUntilUnclosed(source.slice(from), { ...marks, quoteChar }, () => width, taken);
    await watch.rest();
  }
}

/** The rows up to one whose mark never closes, and of that the first line; answers how many letters were read. */
function rowsUntilUnclosed(
  source: string,
  marks: Marks & { quoteChar: string },
  width: () => number | undefined,
  take: TakeRow,
): number {
  const { delimiter, newline } = marks;
  let from = 0;
  let end = source.length;
  const step = (
    { data, errors, meta }: Papa.ParseStepResult<string[]>,
    parser: Papa.Parser,
  ): void => {
    const read = source.slice(from, meta.cursor);
    const cut = errors.some(({ code }) => code === 'MissingQuotes');
    if (errors.length > 0 && isSeveralRows(read, marks, width() ?? data.length, cut)) {
      const line = read.slice(0, read.indexOf(newline) + 1 || undefined);
      end = from + line.length;
      parser.abort();
      take(line.replace(/[\r\n]+$/, '').split(delimiter), false);
      return;
    }
    from = meta.cursor;
    const last = data.at(-1);
    if (newline === '\n' && last?.endsWith('\r')) data[data.length - 1] = last.slice(0, -1);
    take(data, errors.length === 0);
  };
  Papa.parse<string[]>(source, { ...marks, skipEmptyLines: false, step });
  return end;
}

/** Whether what was read as one row is rather several: most of its lines have as many cells as a row, were its marks not quoting any. */
function isSeveralRows(
  read: string,
  { delimiter, newline }: Marks,
  width: number,
  cut: boolean,
): boolean {
  const lines = read
    .slice(0, 20_000)
    .split(newline)
    .filter((line) => line.trim() !== '')
    .slice(0, 20);
  if (width < 2 || (lines.length < 2 && !cut)) return false;
  const cells = lines.map((line) => line.replace(/"[^"]*"/g, '').split(delimiter).length);
  return cells.filter((count) => count === width).length > lines.length / 2;
}
