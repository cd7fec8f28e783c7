const NARROWEST = 45;
const WIDEST = 100;

/**
 * The width in letters at which a text was broken into lines, by a typewriter, a mail program or an old editor; undefined where its lines
 * are paragraphs. Such a text has many lines just under one width and none beyond.
 */
export function wrapWidth(lines: readonly string[]): number | undefined {
  const lengths = lines
    .filter((line, index) => line.trim() !== '' && (lines[index + 1] ?? '').trim() !== '')
    .map((line) => line.trimEnd().length);
  if (lengths.length < 3) return undefined;
  const longest = lengths.reduce((most, length) => Math.max(most, length), 0);
  if (longest < NARROWEST || longest > WIDEST) return undefined;
  const full = lengths.filter((length) => length > longest - 14).length;
  return full >= 3 && full >= lengths.length / 4 ? longest : undefined;
}

/** A line that opens something of its own, whatever stands before it. */
const OPENS =
  /^\s*(?:[—–―]|--|(?:pp?|pg|ch|chap)\.? ?\d|page \d|chapter \d|[QA][.:)] ?|[“‘"]\p{Lu})/u;

/**
 * Whether `next` carries on the paragraph `line` ends: it begins small, or the text is broken at `width` and the first word of `next`
 * had no room left in `line`.
 */
export function flowsOn(line: string, next: string, width: number | undefined): boolean {
  const after = next.trimStart();
  const word = /^\S+/.exec(after)?.[0] ?? '';
  if (width !== undefined && line.trimEnd().length + 1 + word.length > width) return true;
  return !OPENS.test(next) && /^\p{Ll}/u.test(after) && !/[.!?:]["”’]?\s*$/.test(line);
}
