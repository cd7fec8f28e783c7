import { type BlockList, oneLine } from './block-list';
import { columnNames, looksLikeColumnNames } from './columns';
import { MOST_CELLS } from './limits';
import type { Prose } from './safe-text';
import type { Attributes } from './xml';

interface Cell {
  prose: Prose[];
  head: boolean;
}

/** The rows of one table of a page, and what they become: rows by column name, or plain paragraphs where it only lays text out. */
export class TableRows {
  readonly rows: Cell[][] = [];
  #cell: Cell | undefined;
  #cells = 0;
  #dropped = false;

  get inCell(): boolean {
    return this.#cell !== undefined;
  }

  openRow(): void {
    this.#cell = undefined;
    this.rows.push([]);
  }

  openCell(head: boolean, attributes: Attributes): void {
    if (this.rows.length === 0) this.rows.push([]);
    this.#cell = { prose: [], head };
    const span = Math.min(Math.max(Number.parseInt(attributes['colspan'] ?? '1', 10) || 1, 1), 50);
    this.#cells += span;
    if (this.#cells > MOST_CELLS) {
      this.#dropped = true;
      return;
    }
    this.rows.at(-1)?.push(this.#cell);
    // A cell over several columns keeps the ones after it under their own names.
    for (let more = 1; more < span; more += 1) this.rows.at(-1)?.push({ prose: [], head });
  }

  closeCell(): void {
    this.#cell = undefined;
  }

  add(prose: Prose): void {
    this.#cell?.prose.push(prose);
  }

  /** A table inside a cell gives its words to the cell. */
  take(inner: TableRows): void {
    for (const cell of inner.rows.flat()) for (const prose of cell.prose) this.add(prose);
  }

  setDown(list: BlockList): void {
    if (this.#dropped) {
      const most = MOST_CELLS.toLocaleString('en-GB');
      list.note(`A table here has more than ${most} cells; what comes after them was left out.`);
    }
    const rows = this.rows.filter((row) => row.some(({ prose }) => prose.length > 0));
    const width = Math.max(0, ...rows.map((row) => row.length));
    const [first] = rows;
    if (!first) return;
    if (width < 2) {
      for (const cell of rows.flat()) for (const prose of cell.prose) list.paragraph(prose);
      return;
    }
    const texts = rows.map((row) => row.map(plainOf));
    const named = first.every(({ head }) => head) || looksLikeColumnNames(texts[0] ?? []);
    if (!named && !rows.some((row) => row.some(({ head }) => head)) && laysOut(texts)) {
      for (const cell of rows.flat()) for (const prose of cell.prose) list.paragraph(prose);
      return;
    }
    const names = columnNames(named ? (texts[0] ?? []) : [], width);
    for (const [index, row] of texts.entries()) {
      if (named && index === 0) continue;
      const cells = Object.fromEntries(row.map((text, at) => [names[at] ?? '', text]));
      list.row(cells, { row: index + 1, note: `row ${index + 1} of a table` });
    }
  }
}

function plainOf(cell: Cell): string {
  return oneLine(cell.prose.map(({ plain }) => plain).join(' '));
}

/** A table without column names whose cells hold whole paragraphs only lays out a page. */
function laysOut(rows: readonly string[][]): boolean {
  const filled = rows.flat().filter(Boolean);
  return (
    filled.some((text) => text.length > 300) || rows.every((row) => row.filter(Boolean).length < 2)
  );
}
