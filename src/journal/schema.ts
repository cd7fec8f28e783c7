/** The full check against the published JSON Schema, for `check` and for tests; opening a journal does without it. */
import type { ErrorObject, ValidateFunction } from 'ajv/dist/2020';
import { MOST_PROBLEMS, type Problem } from './problem';

let compiled: Promise<ValidateFunction> | undefined;

/** The validator is loaded and compiled when first asked for, because it is large and seldom needed. */
async function compile(): Promise<ValidateFunction> {
  const [{ Ajv2020 }, formats, { default: schema }] = await Promise.all([
    import('ajv/dist/2020'),
    import('ajv-formats'),
    import('../../shared/journal.schema.json'),
  ]);
  const ajv = new Ajv2020({ allErrors: true, strict: true, strictRequired: false });
  formats.default.default(ajv, ['date', 'date-time']);
  return ajv.compile(schema);
}

/**
 * What a parsed journal file breaks of `shared/journal.schema.json`, at most {@link MOST_PROBLEMS} things; empty when it fits. Paths are
 * JSON Pointers without the first slash; each code is `schema-` and the keyword of JSON Schema that was broken.
 */
export async function checkAgainstSchema(json: unknown): Promise<Problem[]> {
  const validate = await (compiled ??= compile());
  if (validate(json)) return [];
  const errors = (validate.errors ?? []).filter(({ keyword }) => keyword !== 'if');
  return errors.slice(0, MOST_PROBLEMS).map(problemOf);
}

function problemOf({ instancePath, keyword, message, params }: ErrorObject): Problem {
  const path = instancePath.slice(1);
  const allowed = (params as { allowedValues?: unknown[] }).allowedValues;
  const choices = allowed ? ` (${allowed.join(', ')})` : '';
  const where = path === '' ? 'The file' : `The value at ${path}`;
  return {
    path,
    code: `schema-${keyword}`,
    message: `${where} ${message ?? 'does not fit'}${choices}.`,
  };
}
