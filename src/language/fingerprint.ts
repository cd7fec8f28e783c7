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

/**
 * A whole number below 2^53 that tells some texts, in this order, from others: one FNV-1a sum and 21 bits of one with another multiplier. Cheaper
 * than {@link fingerprint}, for what is compared by thousands.
 */
export function printOfTexts(texts: readonly (string | undefined)[]): number {
  let one = 0x811c9dc5;
  let other = 0x9e3779b9;
  for (const text of texts) {
    if (text !== undefined)
      for (let at = 0; at < text.length; at++) {
        const unit = text.charCodeAt(at);
        one = Math.imul(one ^ unit, 0x01000193);
        other = Math.imul(other + unit, 0x85ebca6b);
      }
    // No unit of a text is as large as what stands between two, and none is left out unnoticed.
    one = Math.imul(one ^ (text === undefined ? 0x10000 : 0x10001), 0x01000193);
    other = Math.imul(other + 0x10000, 0x85ebca6b);
  }
  return (one >>> 0) * 2 ** 21 + (other >>> 11);
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
