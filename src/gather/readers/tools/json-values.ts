/** Looking into JSON of unknown shape: what is not as expected is absent. */
export type JsonRecord = Readonly<Record<string, unknown>>;

export function isRecord(value: unknown): value is JsonRecord {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

export function listOf(value: unknown): readonly unknown[] {
  if (value === undefined || value === null) return [];
  return Array.isArray(value) ? value : [value];
}

export function recordsIn(value: unknown): JsonRecord[] {
  return listOf(value).filter(isRecord);
}

/** The text of a field, a number as its figures; the first of several. */
export function textOf(value: unknown): string | undefined {
  const [first] = listOf(value);
  if (typeof first === 'number' && Number.isFinite(first)) return String(first);
  return typeof first === 'string' && first.trim() !== '' ? first.trim() : undefined;
}
