/** Sixteen hexadecimal digits that tell contents apart: two 32-bit FNV-1a sums (Fowler, Noll and Vo) over the text’s UTF-16 units. Not against malice. */
export function fingerprint(text: string): string {
  const PRIME = 0x01000193;
  let forwards = 0x811c9dc5;
  let backwards = 0x811c9dc5 ^ text.length;
  for (let at = 0; at < text.length; at++) {
    forwards = Math.imul(forwards ^ text.charCodeAt(at), PRIME);
    backwards = Math.imul(backwards ^ text.charCodeAt(text.length - 1 - at), PRIME);
  }
  const hex = (sum: number): string => (sum >>> 0).toString(16).padStart(8, '0');
  return hex(forwards) + hex(backwards);
}

/** JSON with the fields of every record in order, so that equal values give equal text. */
export function stableText(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(stableText).join(',')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'null';
  const record = value as Record<string, unknown>;
  const names = Object.keys(record).filter((name) => record[name] !== undefined);
  return `{${names
    .sort()
    .map((name) => `${JSON.stringify(name)}:${stableText(record[name])}`)
    .join(',')}}`;
}
