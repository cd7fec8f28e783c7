import { readJournalFile } from '../../journal/file';
import type { ReadWhole, UnreadableCode } from '../block';
import { isAnnotations, readAnnotations } from './annotation';
import { isCsl, readCsl } from './csl';
import { readRows } from './table';
import { Unreadable, type Watch } from './tools/watch';

const DEEPEST_JSON = 500;

/**
 * Reads JSON that is a journal of our own, W3C Web Annotations, a CSL-JSON list of books, or a list of flat records, which is a table.
 * Any other JSON is refused: what its fields mean cannot be guessed.
 */
export async function readJson(text: string, watch: Watch): Promise<ReadWhole> {
  if (isJournal(text)) return readOwnJournal(text);
  const value = parse(text);
  if (isAnnotations(value)) return readAnnotations(value, watch);
  if (isCsl(value)) return readCsl(value, watch);
  const table = asTable(value);
  if (table) return readRows(table, watch, { named: true });
  throw new Unreadable(
    'unknown-format',
    'This JSON is neither a Bookweft journal, nor annotations, nor a list of books. Save what it holds as text, HTML or CSV where it comes from.',
  );
}

function isJournal(text: string): boolean {
  return /^\s*\{\s*"format"\s*:\s*"bookweft-journal"/.test(text.slice(0, 500));
}

function readOwnJournal(text: string): ReadWhole {
  const answer = readJournalFile(text);
  if (!answer.ok) throw new Unreadable(journalCode(answer.code), answer.message);
  const { journal, problems, migrated } = answer;
  const notes = problems.slice(0, 20).map(({ message }) => message);
  if (problems.length > 20)
    notes.push(`There are ${problems.length - 20} more faults of the kind in this journal.`);
  if (migrated !== undefined)
    notes.push(
      'This journal was saved by an older Bookweft and was brought up to date while reading.',
    );
  return { ok: true, title: journal.name, blocks: [], journal, notes };
}

function journalCode(code: string): UnreadableCode {
  if (code === 'cut-short' || code === 'not-json') return 'damaged';
  if (code === 'file-too-large' || code === 'too-many-values') return 'too-large';
  if (code === 'too-deep' || code === 'empty-file') return code;
  return 'bad-journal';
}

function parse(text: string): unknown {
  if (isTooDeep(text)) {
    throw new Unreadable(
      'too-deep',
      'This JSON is nested hundreds deep and was not made to be read. Save what it holds in another format.',
    );
  }
  try {
    return JSON.parse(text.replace(/^\ufeff/, ''));
  } catch {
    throw new Unreadable(
      'damaged',
      'This JSON is damaged or cut short. Save it again where it comes from, or open it in an editor and gather its text.',
    );
  }
}

/** Brackets outside strings, counted without making anything of them. */
function isTooDeep(text: string): boolean {
  let depth = 0;
  for (const [mark] of text.matchAll(/"(?:[^"\\]|\\.)*"|[[{\]}]/gs)) {
    if (mark === '[' || mark === '{') depth += 1;
    else if (mark === ']' || mark === '}') depth -= 1;
    if (depth > DEEPEST_JSON) return true;
  }
  return false;
}

/** A list of two records or more whose fields are plain values, as rows under the names of their fields. */
function asTable(value: unknown): string[][] | undefined {
  if (!Array.isArray(value) || value.length === 0) return undefined;
  const names: string[] = [];
  const known = new Set<string>();
  for (const row of value as unknown[]) {
    if (typeof row !== 'object' || row === null || Array.isArray(row)) return undefined;
    for (const [name, cell] of Object.entries(row)) {
      if (typeof cell === 'object' && cell !== null && !isPlainList(cell)) return undefined;
      if (known.size > 200) return undefined;
      if (!known.has(name)) names.push(name);
      known.add(name);
    }
  }
  const rows = (value as Record<string, unknown>[]).map((row) =>
    names.map((name) => cellText(row[name])),
  );
  return [names, ...rows];
}

function isPlainList(cell: object): boolean {
  return (
    Array.isArray(cell) &&
    cell.every((each) => typeof each === 'string' || typeof each === 'number')
  );
}

function cellText(cell: unknown): string {
  if (cell === null || cell === undefined) return '';
  return Array.isArray(cell) ? cell.join('; ') : String(cell);
}
