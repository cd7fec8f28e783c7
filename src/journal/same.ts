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

/** Whether two rows say the same, whenever they came to say it. */
export const saysSame = (a: object | undefined, b: object | undefined): boolean =>
  same(a && untimed(a), b && untimed(b));

/** A row but for the time at which it came to be so. */
export function untimed<R extends { changed?: string }>(row: R): Omit<R, 'changed'> {
  const { changed: _changed, ...said } = row;
  return said;
}

/** A field of a record itself, never one inherited from the prototype. */
export const ownValue = (row: object, key: string): unknown =>
  Object.hasOwn(row, key) ? (row as Record<string, unknown>)[key] : undefined;
