import type { Entry, EntryId, HeadingId, Journal } from '../journal/records';
import { ENTRY_KINDS } from '../journal/records';
import { readDate } from '../language/dates';
import { IntList } from '../language/int-list';

/** Kinds of entry in the order in which counts are held: {@link ENTRY_KINDS}. */
export const KINDS = ENTRY_KINDS.length;

/** A stretch of time; ISO days, both included. An entry is in it when some day it may have been written on is. */
export interface Span {
  from?: string;
  to?: string;
}

/** How many entries lie where threads cross. Rows and columns as they were asked for; only crossings that hold something are in it. */
export interface Crossings {
  rows: number;
  columns: number;
  /** `rows + 1` offsets into `at`: the knots of row `r` are `starts[r]` to `starts[r + 1]`, exclusive. */
  starts: Int32Array;
  /** The column of each knot, rising within a row. */
  at: Int32Array;
  /** Five counts a knot, by kind in the order of {@link ENTRY_KINDS}. */
  counts: Uint32Array;
  /** Entries of each row and column by kind, five each, whether or not they lie at a crossing. */
  rowCounts: Uint32Array;
  columnCounts: Uint32Array;
}

/** Bounds of an entry without a date: in no span but the whole of time. */
const UNDATED = [1, 0] as const;
const OPEN_START = -100_000_000;
const OPEN_END = 100_000_000;
/** A table of crossings is filled directly up to this many; past it only knots are held. */
const DIRECT = 4_000_000;

/** An ISO day as a whole number, 20140314. */
const dayNumber = (iso: string): number => {
  const [, sign, year, month, day] = /^(-?)(\d+)-(\d\d)-(\d\d)/.exec(iso) ?? [];
  const number = Number(year) * 10_000 + Number(month) * 100 + Number(day);
  return sign ? -number : number;
};

function boundsOf(written: string | undefined): readonly [number, number] {
  if (written === undefined) return UNDATED;
  const plain = /^(\d{4})(?:-(0[1-9]|1[0-2])(?:-(\d\d))?)?$/.exec(written);
  if (plain) {
    const [, year, month, day] = plain;
    const base = Number(year) * 10_000;
    if (!month) return [base + 101, base + 1231];
    const at = base + Number(month) * 100;
    return day ? [at + Number(day), at + Number(day)] : [at + 1, at + 31];
  }
  const read = readDate(written);
  if (!read.ok) return UNDATED;
  const { earliest, latest } = read.date;
  if (earliest === undefined && latest === undefined) return UNDATED;
  return [
    earliest === undefined ? OPEN_START : dayNumber(earliest),
    latest === undefined ? OPEN_END : dayNumber(latest),
  ];
}

/**
 * What the cloth is counted from: each entry's kind, when it was written, and the headings it is tied to, as numbers. It follows single
 * edits; a count is one pass over all entries.
 */
export class ClothTable {
  #slots = new Map<EntryId, number>();
  #headings = new Map<HeadingId, number>();
  #kinds: number[] = [];
  #from: number[] = [];
  #to: number[] = [];
  #starts: number[] = [];
  #lengths: number[] = [];
  #ties = new IntList();
  #standing = 0;

  static of(journal: Journal): ClothTable {
    const table = new ClothTable();
    for (const entry of journal.tables.entries.values()) table.put(entry);
    return table;
  }

  put(entry: Entry): void {
    let slot = this.#slots.get(entry.id);
    if (slot === undefined) {
      slot = this.#kinds.push(0) - 1;
      this.#slots.set(entry.id, slot);
      this.#lengths.push(0);
    }
    const headings = new Set(entry.ties.map(({ heading }) => this.#number(heading)));
    const [from, to] = boundsOf(entry.written);
    this.#kinds[slot] = ENTRY_KINDS.indexOf(entry.kind);
    this.#from[slot] = from;
    this.#to[slot] = to;
    this.#standing += headings.size - (this.#lengths[slot] ?? 0);
    this.#starts[slot] = this.#ties.length;
    this.#lengths[slot] = headings.size;
    for (const heading of headings) this.#ties.push(heading);
    if (this.#ties.length > 2 * this.#standing + 10_000) this.#clear();
  }

  remove(id: EntryId): void {
    const slot = this.#slots.get(id);
    if (slot === undefined) return;
    this.#slots.delete(id);
    this.#standing -= this.#lengths[slot] ?? 0;
    this.#kinds[slot] = -1;
    this.#lengths[slot] = 0;
  }

  /**
   * Counts entries at every crossing of row and column. `rowOf` and `columnOf` tell where a heading lies, if anywhere; several headings may lie
   * in one row or column, and an entry tied to two of them counts there once.
   */
  count(
    size: { rows: number; columns: number },
    rowOf: (heading: HeadingId) => number | undefined,
    columnOf: (heading: HeadingId) => number | undefined,
    span: Span = {},
  ): Crossings {
    const inRow = new Int32Array(this.#headings.size).fill(-1);
    const inColumn = new Int32Array(this.#headings.size).fill(-1);
    for (const [id, number] of this.#headings) {
      inRow[number] = rowOf(id) ?? -1;
      inColumn[number] = columnOf(id) ?? -1;
    }
    const count = new Count(size.rows, size.columns);
    const within = this.#within(span);
    for (let slot = 0; slot < this.#kinds.length; slot++) {
      const kind = this.#kinds[slot]!;
      if (kind < 0 || !within(slot)) continue;
      const start = this.#starts[slot]!;
      count.begin(kind);
      for (let at = start; at < start + this.#lengths[slot]!; at++) {
        const heading = this.#ties.at(at);
        count.lies(inRow[heading]!, inColumn[heading]!);
      }
      count.end();
    }
    return count.told();
  }

  /** Entries that may have been written in each stretch of time, by where the middle of their date lies; undated ones are in none. */
  history(stretchOf: (day: number) => number, stretches: number): Uint32Array {
    const counts = new Uint32Array(stretches);
    for (let slot = 0; slot < this.#kinds.length; slot++) {
      if (this.#kinds[slot]! < 0) continue;
      const [from, to] = [this.#from[slot]!, this.#to[slot]!];
      if (from > to || from === OPEN_START || to === OPEN_END) continue;
      const stretch = stretchOf(Math.floor((from + to) / 2));
      if (stretch >= 0 && stretch < stretches) counts[stretch]! += 1;
    }
    return counts;
  }

  /** The first and last day (20140314) any entry is bounded by, or undefined where none has a date. */
  days(): { first: number; last: number } | undefined {
    let [first, last] = [Infinity, -Infinity];
    for (let slot = 0; slot < this.#kinds.length; slot++) {
      const [from, to] = [this.#from[slot]!, this.#to[slot]!];
      if (this.#kinds[slot]! < 0 || from > to) continue;
      if (from !== OPEN_START) first = Math.min(first, from);
      if (to !== OPEN_END) last = Math.max(last, to);
    }
    return first <= last ? { first, last } : undefined;
  }

  /** Whether an entry lies in a span: the test {@link count} makes, for lists that must agree with the cloth. */
  holds(id: EntryId, span: Span): boolean {
    const slot = this.#slots.get(id);
    return slot !== undefined && this.#within(span)(slot);
  }

  #within({ from, to }: Span): (slot: number) => boolean {
    if (from === undefined && to === undefined) return () => true;
    const low = from === undefined ? OPEN_START : dayNumber(from);
    const high = to === undefined ? OPEN_END : dayNumber(to);
    return (slot) => {
      const [first, last] = [this.#from[slot]!, this.#to[slot]!];
      return first <= last && last >= low && first <= high;
    };
  }

  #number(heading: HeadingId): number {
    let number = this.#headings.get(heading);
    if (number === undefined) this.#headings.set(heading, (number = this.#headings.size));
    return number;
  }

  #clear(): void {
    const ties = new IntList();
    for (let slot = 0; slot < this.#kinds.length; slot++) {
      const start = this.#starts[slot]!;
      this.#starts[slot] = ties.length;
      for (let at = start; at < start + this.#lengths[slot]!; at++) ties.push(this.#ties.at(at));
    }
    this.#ties = ties;
  }
}

/** One pass of counting: an entry's rows and columns are gathered, then every crossing of them gets one more. */
class Count {
  readonly #direct: Int32Array | undefined;
  readonly #sparse = new Map<number, number>();
  readonly #keys: number[] = [];
  #counts = new Uint32Array(256 * KINDS);
  readonly #rowCounts: Uint32Array;
  readonly #columnCounts: Uint32Array;
  #kind = 0;
  #inRows: number[] = [];
  #inColumns: number[] = [];

  constructor(
    readonly rows: number,
    readonly columns: number,
  ) {
    if (rows * columns <= DIRECT) this.#direct = new Int32Array(rows * columns);
    this.#rowCounts = new Uint32Array(rows * KINDS);
    this.#columnCounts = new Uint32Array(columns * KINDS);
  }

  begin(kind: number): void {
    this.#kind = kind;
    this.#inRows.length = 0;
    this.#inColumns.length = 0;
  }

  lies(row: number, column: number): void {
    if (row >= 0 && !this.#inRows.includes(row)) this.#inRows.push(row);
    if (column >= 0 && !this.#inColumns.includes(column)) this.#inColumns.push(column);
  }

  end(): void {
    for (const row of this.#inRows) {
      this.#rowCounts[row * KINDS + this.#kind]! += 1;
      for (const column of this.#inColumns) this.#knot(row * this.columns + column);
    }
    for (const column of this.#inColumns) this.#columnCounts[column * KINDS + this.#kind]! += 1;
  }

  #knot(key: number): void {
    // Places are held one higher than they are, so that 0 is none.
    let place = this.#direct ? this.#direct[key]! : (this.#sparse.get(key) ?? 0);
    if (place === 0) {
      place = this.#keys.push(key);
      if (this.#direct) this.#direct[key] = place;
      else this.#sparse.set(key, place);
      if (place * KINDS > this.#counts.length) {
        const grown = new Uint32Array(this.#counts.length * 2);
        grown.set(this.#counts);
        this.#counts = grown;
      }
    }
    this.#counts[(place - 1) * KINDS + this.#kind]! += 1;
  }

  told(): Crossings {
    const order = Float64Array.from(this.#keys).sort();
    const place = (key: number): number =>
      (this.#direct ? this.#direct[key]! : this.#sparse.get(key)!) - 1;
    const starts = new Int32Array(this.rows + 1);
    const at = new Int32Array(order.length);
    const counts = new Uint32Array(order.length * KINDS);
    order.forEach((key, knot) => {
      const row = Math.floor(key / this.columns);
      starts[row + 1]! += 1;
      at[knot] = key - row * this.columns;
      const from = place(key) * KINDS;
      for (let kind = 0; kind < KINDS; kind++)
        counts[knot * KINDS + kind] = this.#counts[from + kind]!;
    });
    for (let row = 0; row < this.rows; row++) starts[row + 1]! += starts[row]!;
    return {
      rows: this.rows,
      columns: this.columns,
      starts,
      at,
      counts,
      rowCounts: this.#rowCounts,
      columnCounts: this.#columnCounts,
    };
  }
}

/** Entries of one knot, whatever their kind. */
export function knotSize(counts: Uint32Array, knot: number): number {
  let sum = 0;
  for (let kind = 0; kind < KINDS; kind++) sum += counts[knot * KINDS + kind]!;
  return sum;
}
