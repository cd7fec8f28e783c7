/** Checks one row against its shape: what is of the wrong type, and what is of the right type but out of bounds. */
import { readDate } from '../language/dates';
import { MOST_PROBLEMS, tell, type Problem } from './problem';
import type { Records, TableName } from './records';
import { LONGEST_ID, LONGEST_TEXT, shapeOf, type Shape, type Spec } from './shapes';
import { ownValue } from './same';

/** `fatal` faults leave a row that the rest of the program could not hold; the others can be read and mended. */
interface Fault extends Problem {
  fatal: boolean;
}

interface Checking {
  trail: (string | number)[];
  faults: Fault[];
}

const TIME =
  /^\d{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01])T(?:[01]\d|2[0-3]):[0-5]\d:(?:[0-5]\d|60)(?:\.\d+)?Z$/;
const CLOCK = /^(?:[01]\d|2[0-3]):[0-5]\d$/;
const LOCAL = /^(\d{4}-\d\d-\d\d)T(?:[01]\d|2[0-3]):[0-5]\d(?::[0-5]\d)?$/;
const PLAIN_DATE = /^(\d{4})(?:-(0[1-9]|1[0-2])(?:-(\d\d))?)?$/;

/** Checks a row's own shape; `path` begins at the table, "entries/<id>/text". An empty answer is a sound row. */
export function checkShape<T extends TableName>(table: T, row: Records[T], at: string): Fault[] {
  const checking: Checking = { trail: [table, at], faults: [] };
  if (!isRecord(row)) {
    note(checking, 'bad-type', 'is not a record', true);
    return checking.faults;
  }
  const shape = shapeOf(table, row);
  if (shape) checkRecord(row, shape, checking);
  else {
    checking.trail.push('kind');
    note(checking, 'bad-value', 'is not a book, a theme or a person', true);
  }
  return checking.faults;
}

export const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

function note(checking: Checking, code: string, what: string, fatal: boolean): void {
  const { trail, faults } = checking;
  const [table, , ...field] = trail;
  const name = field.length === 0 ? 'The row' : `The field ${field.join('/')}`;
  const fault = {
    path: trail.join('/'),
    code,
    message: `${name} in ${String(table)} ${what}.`,
    fatal,
  };
  // A fatal fault is told however many others there are: it decides what becomes of the row.
  if (fatal && faults.length >= MOST_PROBLEMS) faults[MOST_PROBLEMS - 1] = fault;
  else tell(faults, fault);
}

function checkRecord(row: object, shape: Shape, checking: Checking): void {
  for (const { name, spec, must } of shape.fields) {
    const value = ownValue(row, name);
    if (value === undefined) {
      if (!must) continue;
      checking.trail.push(name);
      note(checking, 'missing-field', 'is missing', true);
      checking.trail.pop();
      continue;
    }
    checking.trail.push(name);
    check(value, spec, checking);
    checking.trail.pop();
  }
}

function check(value: unknown, spec: Spec, checking: Checking): void {
  switch (spec.is) {
    case 'list':
      if (!Array.isArray(value)) return note(checking, 'bad-type', 'is not a list', true);
      for (let index = 0; index < value.length; index++) {
        checking.trail.push(index);
        check(value[index], spec.of, checking);
        checking.trail.pop();
      }
      return;
    case 'record':
      if (!isRecord(value)) return note(checking, 'bad-type', 'is not a record', true);
      return checkRecord(value, spec.shape, checking);
    case 'yes-no':
      if (typeof value !== 'boolean') note(checking, 'bad-type', 'is neither true nor false', true);
      return;
    case 'number':
      return checkNumber(value, spec, checking);
    case 'count-or-any':
      if (value === 'any') return;
      return checkNumber(value, { is: 'number', least: 1, whole: true }, checking);
    default:
      return checkText(value, spec, checking);
  }
}

function checkNumber(
  value: unknown,
  { least, most = Infinity, whole, step }: Extract<Spec, { is: 'number' }>,
  checking: Checking,
): void {
  if (typeof value !== 'number' || !Number.isFinite(value)) {
    return note(checking, 'bad-type', 'is not a number', true);
  }
  if (value < least || value > most) {
    const range = most === Infinity ? `at least ${least}` : `from ${least} to ${most}`;
    note(checking, 'out-of-range', `should be ${range}, and is ${value}`, false);
  } else if ((whole && !Number.isInteger(value)) || (step && !Number.isInteger(value / step))) {
    note(checking, 'out-of-range', `should go in steps of ${step ?? 1}, and is ${value}`, false);
  }
}

function checkText(value: unknown, spec: Spec, checking: Checking): void {
  if (typeof value !== 'string') return note(checking, 'bad-type', 'is not text', true);
  const longest = spec.is === 'own-id' || spec.is === 'ref' ? LONGEST_ID : LONGEST_TEXT;
  if (value.length > longest && spec.is !== 'envelope') {
    return note(
      checking,
      'too-long',
      `is longer than ${longest.toLocaleString('en-GB')} characters`,
      true,
    );
  }
  switch (spec.is) {
    case 'own-id':
      if (value === '') note(checking, 'bad-value', 'is empty', true);
      return;
    case 'one-of':
      if (!spec.of.includes(value)) {
        note(
          checking,
          'bad-value',
          `is ${said(value)}, which is none of ${spec.of.join(', ')}`,
          true,
        );
      }
      return;
    case 'edtf':
      if (!isDate(value))
        note(checking, 'bad-date', `is ${said(value)}, which is no EDTF date`, false);
      return;
    case 'day':
      if (value.length !== 10 || !isPlainDate(value)) {
        note(checking, 'bad-date', `is ${said(value)}, which is no day such as 2024-03-14`, false);
      }
      return;
    case 'when':
      if (!isTime(value) && !isDate(value)) {
        note(checking, 'bad-date', `is ${said(value)}, which is neither a time nor a date`, false);
      }
      return;
    case 'time':
      if (!isTime(value))
        note(checking, 'bad-time', `is ${said(value)}, which is no ISO 8601 time in UTC`, false);
      return;
    case 'clock':
      if (!CLOCK.test(value))
        note(checking, 'bad-time', `is ${said(value)}, which is no time such as 19:00`, false);
      return;
    case 'local': {
      const day = LOCAL.exec(value)?.[1];
      if (!day || !isPlainDate(day)) {
        note(
          checking,
          'bad-time',
          `is ${said(value)}, which is no local time such as 2026-12-03T19:00`,
          false,
        );
      }
      return;
    }
    default:
      return;
  }
}

/** A value quoted in a sentence, short enough to read. */
const said = (value: string): string =>
  JSON.stringify(value.length > 40 ? `${value.slice(0, 40)}…` : value);

const isTime = (value: string): boolean => TIME.test(value) && isPlainDate(value.slice(0, 10));

/** The common forms are told here; the full grammar is many times slower. */
const isDate = (value: string): boolean =>
  isPlainDate(value) || (value.length <= 100 && readDate(value).ok);

function isPlainDate(value: string): boolean {
  const found = PLAIN_DATE.exec(value);
  if (!found) return false;
  const [, year, month, day] = found;
  if (day === undefined) return true;
  const length = new Date(Date.UTC(Number(year) + 2000, Number(month), 0)).getUTCDate();
  return Number(day) >= 1 && Number(day) <= length;
}
