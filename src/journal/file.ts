/**
 * The journal file: one JSON document in UTF-8, described by `shared/journal.schema.json`. Writing puts rows in order of their ids
 * and fields in a fixed order, a row to a line, so that two copies can be compared line by line; reading takes any JSON
 * that fits, keeps what it does not know, and never throws.
 */
import { nounOf, oneOf } from './labels';
import { FORMAT, migrate, VERSION } from './migrations';
import { emptyJournal } from './journal';
import { tell, type Problem } from './problem';
import { setOwn } from './rebase';
import { TABLES, type Journal, type Records, type TableName } from './records';
import { checkJournal } from './rules';
import { scanJson } from './scan';
import { checkShape, isRecord } from './shape-check';
import { shapeOf, type Shape, type Spec } from './shapes';

/** In UTF-16 units. A lifetime (200,000 entries, 800,000 ties) takes about 120 million; no string is longer than 536 million. */
const LONGEST_FILE = 500_000_000;

type ReadFailure =
  | 'empty-file'
  | 'file-too-large'
  | 'not-json'
  | 'cut-short'
  | 'too-deep'
  | 'too-many-values'
  | 'not-a-journal'
  | 'bad-version'
  | 'newer-version'
  | 'bad-journal'
  | 'bad-row'
  | 'duplicate-id';

type ReadResult =
  | {
      ok: true;
      journal: Journal;
      /** The older version it was read from. */
      migrated?: number;
      /** Faults found and left as they are, and names taken out because they are not safe to hold. */
      problems: Problem[];
    }
  | { ok: false; code: ReadFailure; message: string };
type Failure = Extract<ReadResult, { ok: false }>;

const failure = (code: ReadFailure, message: string): Failure => ({ ok: false, code, message });

/** The field names of the document itself; others are kept in `journal.unknown`. */
const OWN_FIELDS: ReadonlySet<string> = new Set([
  'format',
  'version',
  'id',
  'name',
  'made',
  ...TABLES,
]);

/** The text of a journal file. The same journal always gives the same text, in whatever order its rows and fields came. */
export function writeJournalFile(journal: Journal): string {
  const head: [string, unknown][] = [
    ['format', FORMAT],
    ['version', VERSION],
    ['id', journal.id],
    ['name', journal.name],
    ['made', journal.made],
  ];
  const fields = head.map(([name, value]) => `${JSON.stringify(name)}: ${JSON.stringify(value)}`);
  for (const table of TABLES) fields.push(`"${table}": ${tableText(journal, table)}`);
  for (const name of Object.keys(journal.unknown ?? {}).sort()) {
    const value = inOrder(journal.unknown?.[name]);
    if (OWN_FIELDS.has(name) || name === '__proto__' || value === undefined) continue;
    fields.push(`${JSON.stringify(name)}: ${JSON.stringify(value)}`);
  }
  return `{\n${fields.join(',\n')}\n}\n`;
}

function tableText<T extends TableName>(journal: Journal, table: T): string {
  const rows = [...journal.tables[table].values()] as Records[T][];
  rows.sort((a, b) => (a.id < b.id ? -1 : 1));
  if (rows.length === 0) return '[]';
  const lines = rows.map((row) => {
    const shape = shapeOf(table, row);
    return JSON.stringify(shape ? fieldsInOrder(row, shape) : inOrder(row));
  });
  return `[\n${lines.join(',\n')}\n]`;
}

function fieldsInOrder(row: object, shape: Shape): object {
  const from = row as Record<string, unknown>;
  const result: Record<string, unknown> = {};
  for (const { name, spec } of shape.fields) {
    if (from[name] !== undefined) result[name] = valueInOrder(from[name], spec);
  }
  const unknown = Object.keys(from).filter(
    (name) => !shape.known.has(name) && name !== '__proto__',
  );
  for (const name of unknown.sort()) result[name] = inOrder(from[name]);
  return result;
}

function valueInOrder(value: unknown, spec: Spec): unknown {
  if (spec.is === 'record' && isRecord(value)) return fieldsInOrder(value, spec.shape);
  if (spec.is === 'list' && (spec.of.is === 'record' || spec.of.is === 'list')) {
    return (value as unknown[]).map((member) => valueInOrder(member, spec.of));
  }
  return value;
}

/** A value of no known shape with its fields in alphabetical order. */
function inOrder(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(inOrder);
  if (!isRecord(value)) return value;
  const names = Object.keys(value).filter((name) => name !== '__proto__');
  return Object.fromEntries(names.sort().map((name) => [name, inOrder(value[name])]));
}

/**
 * Reads the text of a journal file, of this version or an older one. What cannot be held (not JSON, cut short, another format, a newer
 * version, a field of the wrong type, one id twice) refuses the file with a code and a sentence. What can be held and is wrong, such
 * as a tie to a heading that is not there, is read as it stands and told in `problems`, as `checkJournal` tells it.
 */
export function readJournalFile(text: string): ReadResult {
  const parsed = parse(text.charCodeAt(0) === 0xfeff ? text.slice(1) : text);
  if ('failed' in parsed) return parsed.failed;
  const file = parsed.value;
  if (!isRecord(file) || file.format !== FORMAT) {
    return failure('not-a-journal', 'This file is not a Bookweft journal.');
  }
  const { version } = file;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 0) {
    return failure('bad-version', 'This journal file does not say which version it is.');
  }
  if (version > VERSION) {
    const message = `This journal was saved by a newer Bookweft (version ${version} of the file; this one reads up to ${VERSION}). Update Bookweft to open it.`;
    return failure('newer-version', message);
  }
  const problems: Problem[] = [];
  takeOutHostile(file, problems);
  migrate(file, version);
  const journal = journalFrom(file);
  if ('ok' in journal) return journal;
  for (const problem of checkJournal(journal)) tell(problems, problem);
  const result: ReadResult = { ok: true, journal, problems };
  if (version < VERSION) result.migrated = version;
  return result;
}

function parse(text: string): { value: unknown } | { failed: Failure } {
  if (text.length > LONGEST_FILE) {
    return { failed: failure('file-too-large', 'This file is too large to be a journal.') };
  }
  const first = /\S/.exec(text)?.[0];
  if (first === undefined) return { failed: failure('empty-file', 'This file is empty.') };
  const notJson =
    'This file is not a Bookweft journal. One is made with Save a copy; all other files are for Gather.';
  if (first !== '{') return { failed: failure('not-json', notJson) };
  const against = scanJson(text);
  if (against === 'cut-short') {
    const message = 'This journal file is cut short: it ends in the middle. Open an earlier copy.';
    return { failed: failure(against, message) };
  }
  if (against) {
    const what = against === 'too-deep' ? 'is nested too deeply' : 'holds too many values';
    return { failed: failure(against, `This file ${what} to be a journal.`) };
  }
  try {
    return { value: JSON.parse(text) as unknown };
  } catch (error) {
    const at = /position (\d+)/.exec(String(error))?.[1];
    const line =
      at === undefined ? '' : `, at line ${text.slice(0, Number(at)).split('\n').length}`;
    const message = `This journal file is damaged${line}. Open an earlier copy.`;
    return { failed: failure('not-json', message) };
  }
}

/**
 * Takes out fields called `__proto__`, wherever they stand: held as they are, they would change what a record is as soon as some code
 * copied it field by field. Other unusual names are harmless and stay.
 */
function takeOutHostile(file: Record<string, unknown>, problems: Problem[]): void {
  const waiting: unknown[] = [file];
  let found = 0;
  for (let value = waiting.pop(); value !== undefined; value = waiting.pop()) {
    if (Array.isArray(value)) {
      for (const member of value) if (typeof member === 'object' && member) waiting.push(member);
    } else if (isRecord(value)) {
      if (Object.hasOwn(value, '__proto__')) {
        delete value.__proto__;
        found += 1;
      }
      for (const name in value) {
        const member = value[name];
        if (typeof member === 'object' && member) waiting.push(member);
      }
    }
  }
  if (found === 0) return;
  const message = `A field called __proto__ was taken out ${found === 1 ? 'once' : `${found} times`}.`;
  problems.push({ path: '', code: 'hostile-name', message });
}

function journalFrom(file: Record<string, unknown>): Journal | Failure {
  for (const name of ['id', 'name', 'made'] as const) {
    if (typeof file[name] !== 'string' || (name === 'id' && file[name] === '')) {
      return failure(
        'bad-journal',
        `This journal file has no ${name === 'made' ? 'time it was made' : name}.`,
      );
    }
  }
  const { id, name, made } = file as { id: string; name: string; made: string };
  const journal = emptyJournal(id, name, made);
  for (const table of TABLES) {
    const failed = takeRows(journal, table, file[table]);
    if (failed) return failed;
  }
  const unknown = Object.keys(file).filter((field) => !OWN_FIELDS.has(field));
  if (unknown.length > 0) {
    journal.unknown = {};
    for (const field of unknown) setOwn(journal.unknown, field, file[field]);
  }
  return journal;
}

function takeRows<T extends TableName>(
  journal: Journal,
  table: T,
  rows: unknown,
): Failure | undefined {
  if (rows === undefined) return undefined;
  if (!Array.isArray(rows))
    return failure('bad-journal', `In this journal file, ${table} is not a list.`);
  const held = journal.tables[table] as Map<string, Records[T]>;
  for (const [index, row] of (rows as Records[T][]).entries()) {
    const fault = checkShape(table, row, String(index)).find(({ fatal }) => fatal);
    if (fault) {
      const message = `This journal cannot be read: ${fault.message} It is row ${index + 1} there.`;
      return failure('bad-row', message);
    }
    if (held.has(row.id)) {
      return failure(
        'duplicate-id',
        `This journal holds ${oneOf(nounOf(table))} twice under one id (${row.id}).`,
      );
    }
    held.set(row.id, row);
  }
  return undefined;
}
