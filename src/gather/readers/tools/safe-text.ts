/** A stretch of text in one setting. A line feed in `text` counts as a space; a break of the line is a run of its own. */
export interface Run {
  text: string;
  em?: boolean;
  strong?: boolean;
  /** Where a link leads. */
  href?: string;
  lineBreak?: boolean;
}

export interface Prose {
  /** CommonMark, as `Block.text`. */
  text: string;
  /** Offsets into `text` of what is set in italics. */
  italics: [number, number][];
  /** The words alone, lines parted by line feeds. */
  plain: string;
}

const WEB_ADDRESS = /^(?:https?:\/\/|mailto:)[^\s\x00-\x1f]+$/i;
const PUNCTUATION = /[\p{P}\p{S}]/u;
/** Underscores in a row beyond which a run is looked at in part only, so that a page of them costs no more than a page. */
const LONGEST_BLANK = 200;
const LETTER_OR_DIGIT = /[\p{L}\p{N}]/u;

/** Spaces of all kinds made one, marks that do not show taken out. */
/** In scripts that join their letters, and between the parts of a picture, a joiner or its want is part of the spelling. */
const JOINS =
  '(?:(?![\\p{scx=Latin}\\p{scx=Greek}\\p{scx=Cyrillic}])[\\p{L}\\p{M}]|\\p{Extended_Pictographic}|[\\u{1f3fb}-\\u{1f3ff}\\ufe0f])';
const IDLE_JOINER = new RegExp(`(?<!${JOINS})[\\u200c\\u200d]|[\\u200c\\u200d](?!${JOINS})`, 'gu');

function tidySpaces(text: string): string {
  return text
    .replace(IDLE_JOINER, '')
    .replace(/[\u00ad\u200b\u200e\u200f\u202a-\u202e\u2060-\u2069\ufeff]/g, '')
    .replace(/[\x00-\x08\x0e-\x1f\x7f-\x9f\ufff9-\ufffb]/g, '')
    .replace(/[\s\u00a0\u2028\u2029]+/g, ' ');
}

/** Plain text as CommonMark that shows exactly it; line feeds stay breaks of the line. */
export function safeText(plain: string): string {
  return proseOf(runsOfLines(plain)).text;
}

/** Lines of plain text as runs with breaks between them. */
export function runsOfLines(plain: string): Run[] {
  return plain
    .split(/\r\n|[\n\r\u2028\u2029]/)
    .flatMap((line, index) =>
      index === 0 ? [{ text: line }] : [{ text: '', lineBreak: true }, { text: line }],
    );
}

/** Runs as CommonMark, with spaces made even, empty lines dropped, and marks only where CommonMark will read them as such. */
export function proseOf(runs: readonly Run[]): Prose {
  const italics: [number, number][] = [];
  let text = '';
  let plain = '';
  for (const line of linesOf(runs)) {
    if (text !== '') {
      text += '  \n';
      plain += '\n';
    }
    const first = text === '';
    const words = line.map((run) => run.text).join('');
    plain += words;
    text = writeLine(text, line, words, first, italics);
  }
  return { text, italics, plain };
}

/** Each line as runs of even spacing: none at the ends, marks never around spaces alone, like neighbours joined. */
function linesOf(runs: readonly Run[]): Run[][] {
  const lines: Run[][] = [[]];
  for (const run of runs) {
    if (run.lineBreak) lines.push([]);
    else lines.at(-1)?.push(run);
  }
  return lines.map(evenLine).filter((line) => line.length > 0);
}

function evenLine(line: readonly Run[]): Run[] {
  const even: Run[] = [];
  let endsInSpace = true;
  for (const run of line) {
    let text = tidySpaces(run.text);
    if (endsInSpace) text = text.replace(/^ +/, '');
    if (text === '') continue;
    endsInSpace = text.endsWith(' ');
    const core = text.trim();
    if (core !== '' && text.startsWith(' ')) push(even, { text: ' ' });
    if (core !== '') push(even, { ...run, text: core });
    if (endsInSpace) push(even, { text: ' ' });
  }
  const last = even.at(-1);
  if (last?.text.endsWith(' ')) {
    last.text = last.text.slice(0, -1);
    if (last.text === '') even.pop();
  }
  return even;
}

function push(line: Run[], run: Run): void {
  const last = line.at(-1);
  if (last && !last.em === !run.em && !last.strong === !run.strong && last.href === run.href) {
    last.text += run.text;
    return;
  }
  // *one* *two* with a space between is one stretch of emphasis.
  const before = line.at(-2);
  if (last?.text === ' ' && before && (run.em || run.strong) && !run.href && !before.href) {
    if (!before.em === !run.em && !before.strong === !run.strong) {
      line.pop();
      before.text += ` ${run.text}`;
      return;
    }
  }
  line.push({ ...run });
}

function writeLine(
  before: string,
  line: readonly Run[],
  words: string,
  first: boolean,
  italics: [number, number][],
): string {
  const barred = lineStartMark(words, first);
  const linked = words.includes('](') || /^\[[^\]]*\]:/.test(words) || line.some((run) => run.href);
  let text = before;
  let at = 0;
  let lastMarked = false;
  for (const [index, run] of line.entries()) {
    const safe = escapeWithin(words, at, at + run.text.length, barred, linked);
    at += run.text.length;
    const mark = marksOf(run);
    const next = line[index + 1]?.text ?? '';
    const wraps: boolean =
      mark !== '' &&
      !lastMarked &&
      canWrap(text.at(-1) ?? '', safe, nextShown(next, line[index + 1]));
    const open = wraps ? mark : '';
    const link = run.href !== undefined ? linkAround(run.href, run.text) : undefined;
    text += link ? link.before : open;
    const start = text.length;
    text += link?.instead ?? safe;
    if (run.em) italics.push([start, text.length]);
    text += link ? link.after : [...open].reverse().join('');
    lastMarked = wraps;
  }
  return text;
}

function marksOf(run: Run): string {
  if (run.href !== undefined && WEB_ADDRESS.test(run.href)) return '';
  return (run.strong ? '**' : '') + (run.em ? '*' : '');
}

/** The character that will follow: a link or a mark begins with punctuation. */
function nextShown(next: string, run: Run | undefined): string {
  if (!run) return '';
  return run.href !== undefined || run.em || run.strong ? '[' : (next[0] ?? '');
}

/** Whether marks around `inner` will be read as opening and closing emphasis (CommonMark: left- and right-flanking runs). */
function canWrap(before: string, inner: string, after: string): boolean {
  const letters = [...inner];
  const opens = !PUNCTUATION.test(letters[0] ?? '') || isEdge(before);
  const closes = !PUNCTUATION.test(letters.at(-1) ?? '') || isEdge(after);
  return opens && closes;
}

function isEdge(letter: string): boolean {
  return letter === '' || /\s/.test(letter) || PUNCTUATION.test(letter);
}

interface LinkText {
  before: string;
  instead?: string;
  after: string;
}

function linkAround(href: string, words: string): LinkText | undefined {
  const address = href.trim();
  if (!WEB_ADDRESS.test(address) || address.length > 2000) return undefined;
  const safe = address.replace(
    /[<>()\\"'`[\]]/g,
    (mark) => `%${mark.charCodeAt(0).toString(16).toUpperCase()}`,
  );
  if (words.trim() === address || words.trim() === address.replace(/^mailto:/i, '')) {
    return { before: '<', instead: safe, after: '>' };
  }
  return { before: '[', after: `](${safe})` };
}

/** Where a line begins with what CommonMark or a GFM table would take for a mark: the offset of the character to escape. */
function lineStartMark(line: string, first: boolean): number {
  if (/^(?:#{1,6}(?:\s|$)|>|[-+*](?:\s|$)|~~~|\||[-_*](?:\s*[-_*]){2,}\s*$)/.test(line)) return 0;
  if (!first && (/^=+\s*$/.test(line) || /^[|:\s-]+$/.test(line))) return 0;
  const numbered = /^\d{1,9}(?=[.)](?:\s|$))/.exec(line);
  return numbered ? numbered[0].length : -1;
}

/** The stretch of a line with every character escaped that would be read as a mark where it stands. */
function escapeWithin(
  line: string,
  from: number,
  to: number,
  barred: number,
  linked: boolean,
): string {
  let out = '';
  for (let at = from; at < to; at += 1) {
    const letter = line[at] ?? '';
    if (at === barred || isMark(line, at, letter, linked)) out += '\\';
    out += letter;
  }
  return out;
}

function isMark(line: string, at: number, letter: string, linked: boolean): boolean {
  const next = line[at + 1] ?? '';
  switch (letter) {
    case '\\':
      return next === '' || /[!-/:-@[-`{-~]/.test(next);
    case '`':
      return true;
    case '*':
      return !((line[at - 1] ?? ' ') === ' ' && (next === '' || next === ' '));
    case '_':
      return !(isInWord(line, at) || isApart(line, at));
    case '[':
    case ']':
      return linked;
    case '<':
      return /[A-Za-z/!?]/.test(next);
    case '&':
      return /^&(?:#\d{1,7}|#[xX][0-9a-fA-F]{1,6}|[A-Za-z][A-Za-z0-9]{1,31});/.test(
        line.slice(at, at + 40),
      );
    default:
      return false;
  }
}

function isInWord(line: string, at: number): boolean {
  const [from, to] = runOf(line, at);
  return LETTER_OR_DIGIT.test(line[from - 1] ?? '') && LETTER_OR_DIGIT.test(line[to] ?? '');
}

/** A run of underscores with a space on both sides, as a blank to be filled in. */
function isApart(line: string, at: number): boolean {
  const [from, to] = runOf(line, at);
  return (line[from - 1] ?? ' ') === ' ' && (line[to] ?? ' ') === ' ';
}

function runOf(line: string, at: number): [number, number] {
  let from = at;
  let to = at + 1;
  while (line[from - 1] === '_' && at - from < LONGEST_BLANK) from -= 1;
  while (line[to] === '_' && to - at < LONGEST_BLANK) to += 1;
  return [from, to];
}
