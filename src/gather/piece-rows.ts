/** A row of a table into pieces: a quotation, a question, a note, each with the book, the author and the place its row names. */
import { ENTRY_KINDS, type EntryKind, type Place } from '../journal/records';
import { fold } from '../language/tokens';
import type { Block, ColumnRole } from './block';
import { plainOf } from './plain';
import type { RawPiece } from './raw-piece';
import { safeText } from './readers/tools/safe-text';
import { dateOf } from './readers/tools/dates-found';

const TEXT_COLUMNS: readonly [ColumnRole, EntryKind | undefined][] = [
  ['quote', 'quote'],
  ['question', 'question'],
  ['note', undefined],
];

type Row = Partial<RawPiece> & { text: string };

/** The pieces of a row by its columns; none where no column holds words of a piece, and the row is then kept as it stands. */
export function readRow(block: Block, columns: Readonly<Record<string, ColumnRole>>): Row[] {
  const cells = new Map<ColumnRole, string>();
  for (const [name, cell] of Object.entries(block.cells ?? {})) {
    const role = Object.hasOwn(columns, name) ? columns[name] : undefined;
    if (role && cell.trim() !== '' && !cells.has(role)) cells.set(role, cell.trim());
  }
  const kind = kindNamed(cells.get('kind'));
  const place: Place = {};
  if (cells.has('page')) place.page = (cells.get('page') ?? '').replace(/^pp?\.?\s*/iu, '');
  if (cells.has('chapter'))
    place.chapter = (cells.get('chapter') ?? '').replace(/^ch(?:apter|\.)?\s*/iu, '');
  const named: NonNullable<RawPiece['named']> = [];
  for (const role of ['title', 'author'] as const) {
    const text = cells.get(role);
    if (text)
      named.push({
        role,
        text,
        ...(role === 'title' && Object.keys(place).length > 0 ? { place } : {}),
      });
  }
  for (const text of (cells.get('theme') ?? '').split(/[;,/|]/u)) {
    if (text.trim()) named.push({ role: 'theme', text: text.trim() });
  }
  const written = cells.has('written') ? dateOf(cells.get('written') ?? '') : undefined;
  const rows: Row[] = [];
  for (const [role, own] of TEXT_COLUMNS) {
    const cell = cells.get(role);
    if (!cell) continue;
    const row: Row = { text: safeText(cell) };
    const [first] = rows;
    const column = first ? own : (kind ?? own);
    if (column) row.column = column;
    if (first && role === 'note') {
      // Beside a quotation or a question stands a remark on it, which says little alone.
      if (!cell.endsWith('?')) row.column = 'note';
      row.title = remarkOn(plainOf(first.text));
    }
    if (named.length > 0) row.named = named;
    if (written) row.written = written;
    const answer = cells.get('answer');
    if (role === 'question' && answer) row.answer = safeText(answer);
    rows.push(row);
  }
  return rows;
}

/** The title of a remark, by the first words of what it is on. */
export function remarkOn(plain: string): string {
  const line = plain
    .replace(/^[“"‘']|[”"’']$/gu, '')
    .replace(/\s+/gu, ' ')
    .trim();
  const cut = line.slice(0, 60).replace(/\s\S*$/u, '');
  return `On “${line.length > 60 ? `${cut}…` : line}”`;
}

function kindNamed(cell: string | undefined): EntryKind | undefined {
  if (!cell) return undefined;
  const word = fold(cell)
    .replace(/\s*ideas?$/u, '')
    .replace(/s$/u, '');
  if (word === 'quotation') return 'quote';
  if (word === 'homework') return 'assignment';
  return ENTRY_KINDS.find((kind) => kind === word);
}
