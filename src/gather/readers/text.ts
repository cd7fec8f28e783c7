import type { ReadWhole } from '../block';
import { BlockList } from './tools/block-list';
import { isTitleLine, LIST_MARK, listMark } from './tools/line-kinds';
import { proseOf, runsOfLines, type Prose, type Run } from './tools/safe-text';
import { wrapWidth, flowsOn } from './tools/wrapping';
import type { Watch } from './tools/watch';

interface Line {
  text: string;
  number: number;
}

const LONGEST_VERSE = 40;
const CAPS_LEVEL = 2;
const TITLE_LEVEL = 3;
const COLON_LEVEL = 4;

/**
 * Reads plain text. Empty lines part paragraphs; lines broken to a width are joined again; lists, lines quoted with `>` and title lines
 * (underlined, in capitals, ending in a colon, or standing alone with every word capital) are told from running text.
 */
export async function readText(text: string, watch: Watch): Promise<ReadWhole> {
  const list = new BlockList();
  const lines = linesOf(text);
  const width = wrapWidth(lines.map((line) => line.text));
  const stretches = stretchesOf(lines);
  for (const [index, stretch] of stretches.entries()) {
    const alone = { followed: index + 1 < stretches.length, first: index === 0 };
    await readStretch(stretch, list, width, alone, watch);
  }
  const title = list.settleTitle();
  const whole: ReadWhole = { ok: true, blocks: list.blocks, notes: list.notes };
  if (title !== undefined) whole.title = title;
  return whole;
}

export function linesOf(text: string): Line[] {
  return text
    .split(/\r\n|[\n\r\u2028\u2029\f\v]/)
    .map((line, index) => ({ text: line, number: index + 1 }));
}

function stretchesOf(lines: readonly Line[]): Line[][] {
  const stretches: Line[][] = [];
  let open: Line[] | undefined;
  for (const line of lines) {
    if (line.text.trim() === '') open = undefined;
    else if (open) open.push(line);
    else stretches.push((open = [line]));
  }
  return stretches;
}

async function readStretch(
  lines: readonly Line[],
  list: BlockList,
  width: number | undefined,
  alone: { followed: boolean; first: boolean },
  watch: Watch,
): Promise<void> {
  let at = 0;
  const level = headingLevel(lines, alone);
  const [head, ruled] = lines;
  if (level !== undefined && head) {
    list.heading(prose(head.text), level, placeOf(head));
    at = ruled && isRule(ruled.text) ? 2 : 1;
  }
  while (at < lines.length) {
    at =
      readQuoted(lines, at, list) ??
      readItem(lines, at, list, width) ??
      readParagraph(lines, at, list, width);
    await watch.rest();
  }
}

function placeOf(line: Line): { line: number; note: string } {
  return { line: line.number, note: `line ${line.number}` };
}

/** What makes the first line of a stretch a heading, and of which level. */
function headingLevel(
  stretch: readonly Line[],
  alone: { followed: boolean; first: boolean },
): number | undefined {
  const [head, next] = stretch;
  if (!head || head.text.length > 100) return undefined;
  const words = head.text.trim();
  if (next && /^\s*={3,}\s*$/.test(next.text)) return 1;
  if (next && /^\s*[-–—~_*]{3,}\s*$/.test(next.text)) return 2;
  if (!alone.followed && stretch.length === 1) return undefined;
  const listed = next !== undefined && LIST_MARK.test(next.text);
  if (/^[\p{Lu}\p{N}][^.!?]{1,70}:$/u.test(words) && !LIST_MARK.test(head.text)) return COLON_LEVEL;
  // One word alone over a list says whose or when it is: "Saturday".
  if (alone.first && stretch.length === 1 && /^\p{Lu}\p{L}{2,20}$/u.test(words)) return 1;
  const kind = isTitleLine(words);
  if (!kind || (stretch.length > 1 && kind === 'words' && !listed)) return undefined;
  if (alone.first && stretch.length === 1 && kind !== 'date') return 1;
  return kind === 'words' ? TITLE_LEVEL : CAPS_LEVEL;
}

function isRule(text: string): boolean {
  return /^\s*(?:={3,}|[-–—~_*]{3,})\s*$/.test(text);
}

/** Lines that begin with `>`, as letters quote letters. Each of these answers where the next block begins. */
function readQuoted(lines: readonly Line[], from: number, list: BlockList): number | undefined {
  let at = from;
  while (/^\s*>/.test(lines[at]?.text ?? '')) at += 1;
  const first = lines[from];
  if (at === from || !first) return undefined;
  const inner = lines.slice(from, at).map(({ text }) => text.replace(/^\s*(?:> ?)+/, ''));
  list.quote(broken(inner), placeOf(first));
  return at;
}

/** An item, and the lines that carry it on: set in further than its mark, or broken at the width of the text. */
function readItem(
  lines: readonly Line[],
  from: number,
  list: BlockList,
  width: number | undefined,
): number | undefined {
  const first = lines[from];
  const mark = first && listMark(first.text);
  if (!first || !mark) return undefined;
  const texts = [mark.rest];
  let at = from + 1;
  for (let last = first.text; at < lines.length; at += 1) {
    const text = lines[at]?.text ?? '';
    const deeper = indentOf(text) > mark.indent && !LIST_MARK.test(text);
    if (LIST_MARK.test(text) || !(deeper || flowsOn(last, text, width))) break;
    texts.push(text.trim());
    last = text;
  }
  list.item(prose(texts.join(' ')), Math.floor(mark.indent / 2) + 1, mark.ordered, placeOf(first));
  return at;
}

function readParagraph(
  lines: readonly Line[],
  from: number,
  list: BlockList,
  width: number | undefined,
): number {
  const first = lines[from];
  if (!first) return from + 1;
  const verse = verseLength(lines, from);
  if (verse > 1) {
    const texts = lines.slice(from, from + verse).map(({ text }) => text);
    list.paragraph(broken(texts), placeOf(first));
    return from + verse;
  }
  const listed = width === undefined && from === 0 && isListOfLines(lines);
  if (listed) {
    list.paragraph(broken(lines.map(({ text }) => text.trim())), placeOf(first));
    return lines.length;
  }
  const texts = [first.text.trim()];
  let at = from + 1;
  for (let last = first.text; at < lines.length; at += 1) {
    const next = lines[at]?.text ?? '';
    if (LIST_MARK.test(next) || /^\s*>/.test(next) || !flowsOn(last, next, width)) break;
    texts.push(next.trim());
    last = next;
  }
  const text = joinLines(texts);
  const signed = lines[at];
  if (signed && signsOff(text, signed.text)) {
    list.paragraph(broken([text, signed.text.trim()]), placeOf(first));
    return at + 1;
  }
  list.paragraph(prose(text), placeOf(first));
  return at;
}

/** Short lines of uneven length without stops, a thing to a line: "eggs", "2 pints milk", "ask Ruth about Saturday". */
function isListOfLines(lines: readonly Line[]): boolean {
  if (lines.length < 3 || lines.length > 60) return false;
  const texts = lines.map(({ text }) => text.trim());
  const short = texts.filter((text) => text.length <= 18).length;
  return (
    short >= texts.length / 3 &&
    texts.every((text) => text.length <= 45 && !/[,;:—–-]$|[.?]\s/.test(text)) &&
    texts.every((text, at) => !LIST_MARK.test(lines[at]?.text ?? '') && !/^\s*>/.test(text))
  );
}

/** A word parted at the end of a line by a soft hyphen is one word again; a plain hyphen is left, for it may be part of the word. */
function joinLines(lines: readonly string[]): string {
  return lines.join(' ').replace(/\u00ad /g, '');
}

/** A line under a quotation that names whose words they are: “— Kenneth Grahame”. */
function signsOff(before: string, line: string): boolean {
  return (
    /[”’"']$/.test(before) &&
    /^\s*(?:[—–―]|--?)\s*\p{Lu}(?:[^.?!]|(?<=\b(?:chs?|chap|pp?|vol|bk|[MD]rs?|St|\p{Lu}))\.){1,60}\.?$/u.test(
      line,
    )
  );
}

/**
 * Verse or another text whose lines are its own: quoted from the start of the first line to the end of a later one, all lines short; or
 * every line set in alike. The number of lines.
 */
function verseLength(lines: readonly Line[], from: number): number {
  const texts = lines.slice(from, from + LONGEST_VERSE).map(({ text }) => text);
  if (/^\s*[“‘"]/.test(texts[0] ?? '') && !/[”’"]\s*$/.test(texts[0] ?? '')) {
    const end = texts.findIndex((text) => /[”’"][.,;]?\s*$/.test(text));
    const verse = texts.slice(0, end + 1);
    const short = verse.every((text) => text.length <= 55 && /^\s*[“‘"]?\p{Lu}/u.test(text));
    if (verse.length > 1 && short) return verse.length;
  }
  if (from > 0 || lines.length > LONGEST_VERSE) return 0;
  const setIn = texts.every(
    (text) => indentOf(text) >= 2 && text.trim().length <= 60 && !LIST_MARK.test(text),
  );
  return setIn ? texts.length : 0;
}

export function indentOf(text: string): number {
  let columns = 0;
  for (const letter of text) {
    if (letter === '\t') columns += 4;
    else if (letter === ' ' || letter === '\u00a0') columns += 1;
    else break;
  }
  return columns;
}

function prose(text: string): Prose {
  return proseOf(emphasised(text));
}

function broken(lines: readonly string[]): Prose {
  return proseOf(
    runsOfLines(lines.join('\n')).flatMap((run) => (run.lineBreak ? [run] : emphasised(run.text))),
  );
}

const TYPED_EMPHASIS =
  /(?<![\p{L}\p{N}*_])([*_]{1,2})(?=[^\s*_])([^*_\n]{1,200}?)(?<=[^\s*_])\1(?![\p{L}\p{N}*_])/gu;

/** _Words_ and *words* set off by hand as in letters are emphasis; marks of any other kind are left as letters. */
function emphasised(text: string): Run[] {
  const runs: Run[] = [];
  let at = 0;
  for (const match of text.matchAll(TYPED_EMPHASIS)) {
    runs.push({ text: text.slice(at, match.index) });
    const words = match[2] ?? '';
    runs.push(match[1]?.length === 2 ? { text: words, strong: true } : { text: words, em: true });
    at = match.index + match[0].length;
  }
  runs.push({ text: text.slice(at) });
  return runs;
}
