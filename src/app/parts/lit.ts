/** Cuts plain text into runs, lit where an offset pair says so. Text stays text: nothing is made into markup. */
export interface Run {
  text: string;
  lit: boolean;
}

export function runs(text: string, marks: readonly [number, number][]): Run[] {
  const out: Run[] = [];
  let at = 0;
  for (const [start, end] of [...marks].sort((a, b) => a[0] - b[0])) {
    if (start < at || end <= start || end > text.length) continue;
    if (start > at) out.push({ text: text.slice(at, start), lit: false });
    out.push({ text: text.slice(start, end), lit: true });
    at = end;
  }
  if (at < text.length) out.push({ text: text.slice(at), lit: false });
  return out;
}

/**
 * A stretch of at most `length` characters around the first mark, with the marks moved to fit.
 * Cut at spaces, with an ellipsis where something is left out.
 */
export function snippet(
  text: string,
  marks: readonly [number, number][],
  length = 240,
): { text: string; marks: [number, number][] } {
  const flat = text.replace(/\s/gu, ' ');
  if (flat.length <= length) return { text: flat, marks: [...marks] };
  const first = marks[0]?.[0] ?? 0;
  let start = first > length * 0.7 ? Math.max(0, first - Math.floor(length / 3)) : 0;
  if (start > 0) {
    // At a space where one comes before what is lit: not all writing has them.
    const space = flat.indexOf(' ', start);
    start = space >= 0 && space < first ? space + 1 : whole(flat, start);
  }
  let end = Math.min(flat.length, start + length);
  if (end < flat.length) end = Math.max(flat.lastIndexOf(' ', end), start + length / 2);
  end = whole(flat, Math.round(end));
  const head = start > 0 ? '…' : '';
  const moved = marks
    .filter(([from, to]) => from >= start && to <= end)
    .map(([from, to]): [number, number] => [from - start + head.length, to - start + head.length]);
  return { text: `${head}${flat.slice(start, end)}${end < flat.length ? '…' : ''}`, marks: moved };
}

/** The place, or the one before it where a character of two halves would be cut. */
const whole = (text: string, at: number): number =>
  at > 0 && /^[\ud800-\udbff][\udc00-\udfff]$/.test(text.slice(at - 1, at + 1)) ? at - 1 : at;
