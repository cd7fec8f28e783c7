/** Whether two values of plain data are the same; a field holding undefined is the same as no field. */
export function same(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) || Array.isArray(b)) {
    if (!Array.isArray(a) || !Array.isArray(b) || a.length !== b.length) return false;
    return a.every((member, index) => same(member, (b as unknown[])[index]));
  }
  const left = a as Record<string, unknown>;
  const right = b as Record<string, unknown>;
  for (const key of Object.keys(left)) if (!same(left[key], ownValue(right, key))) return false;
  for (const key of Object.keys(right)) {
    if (right[key] !== undefined && !Object.hasOwn(left, key)) return false;
  }
  return true;
}

/** A field of a record itself, never one inherited from the prototype. */
export const ownValue = (row: object, key: string): unknown =>
  Object.hasOwn(row, key) ? (row as Record<string, unknown>)[key] : undefined;
