/** Blocks into pieces: headings and title lines govern what stands under them, and what belongs together becomes one piece. */
import type { Block, ColumnRole, ReadWhole } from './block';
import { ANSWER, evened } from './evened';
import { fileSenses, labelledLessons, nameOf, writtenOf } from './file-senses';
import { readRow, remarkOn } from './piece-rows';
import type { Governed, RawPiece } from './raw-piece';
import type { Sense, Senses } from './senses';
import { plainOf } from './plain';
import { labelledKind } from '../language/kinds';
import { fold } from '../language/tokens';

const NEEDS =
  /^\s*(?:you(?: will|’ll|'ll)? need|materials|have ready|equipment)\s*[:–—]\s*(?<things>[^.\n]+)/iu;
/** Stops are those of a shortened word: "ch. 1", "Mrs. Gaskell", "L. M. Montgomery". */
const SIGNATURE =
  /^(?:—|–|--|-)\s*\p{Lu}(?:[^.?!]|(?<=\b(?:chs?|chap|pp?|vol|bk|[MD]rs?|St|\p{Lu}))\.){1,90}\.?$/u;
const LISTS_NEEDS = /(?:need|materials|ready|steps?|what to do):\s*$/iu;
const LONGEST_TITLE_LINE = 90;

/**
 * Pieces of a file in its order, a few blocks a step. Every word of its blocks stands in a piece, in a title, or in what governs pieces.
 */
export function* piecesOf(
  file: ReadWhole,
  path: string,
  senses: Senses,
): Generator<object, RawPiece[]> {
  const blocks = evened(file.blocks);
  yield {};
  const walk = new Walk(senses, { ...file, blocks }, path);
  let taken = 0;
  for (const [at, block] of blocks.entries()) {
    walk.take(block, blocks[at + 1]);
    if (++taken % BLOCKS_A_STEP === 0) yield {};
  }
  return walk.end();
}

const BLOCKS_A_STEP = 10;

class Walk {
  readonly #pieces: RawPiece[] = [];
  /** What the folders, the file's name and the book it is say of all its pieces. */
  readonly #file: readonly Sense[];
  /** Headings over the parts of an object lesson. */
  readonly #lessons: ReadonlySet<string>;
  /** A line that ends in a colon: the title of the list after it. */
  #lead: string | undefined;
  /** When the file says it was written. */
  readonly #written: string | undefined;
  /** Lines that govern until the next heading or the next such line: a date, a title by somebody, "Questions:". */
  #lines: Sense[] = [];
  /** Headings with nothing under them yet. */
  #waiting: { block: Block; plain: string }[] = [];
  /** The last title line, while nothing stands under it. */
  #idle: Block | undefined;
  #list = 0;
  #before: Block['as'] | undefined;
  /** Headings that stood as a title of a piece already. */
  readonly #titled = new Set<string>();
  readonly #name: string;
  readonly #columns: Readonly<Record<string, ColumnRole>>;

  constructor(
    readonly senses: Senses,
    readonly file: ReadWhole,
    path: string,
  ) {
    this.#file = fileSenses(senses, file, path);
    this.#lessons = labelledLessons(file.blocks);
    this.#written = writtenOf(file, path, this.#file);
    this.#name = nameOf(path);
    this.#columns = file.columns ?? {};
  }

  take(block: Block, next?: Block): void {
    const plain = plainOf(block.text).trim();
    const first = this.#before === undefined;
    if (block.as === 'title' || block.as === 'heading') this.#heading(block, plain);
    else if (first && next && sameWords(plain, this.#name)) this.#idle = undefined;
    else if (this.#leads(block, plain, next)) this.#lead = plain.replace(/\s*:$/u, '');
    else if (!this.#governingLine(block, plain) && !this.#joins(block, plain)) this.#piece(block);
    this.#before = block.as;
  }

  end(): RawPiece[] {
    this.#keepIdle();
    this.#keepWaiting();
    return this.#pieces;
  }

  /** "If there is time:" over a list is the title of what it lists. */
  #leads(block: Block, plain: string, next: Block | undefined): boolean {
    if (block.as !== 'paragraph' || next?.as !== 'item' || !plain.endsWith(':')) return false;
    if (isTold(block)) return false;
    if (plain.length > 60 || plain.includes('\n') || LISTS_NEEDS.test(plain)) return false;
    if (this.#lessons.has(keyOf(block.under))) return false;
    const sense = this.senses.of(plain.replace(/\s*:$/u, ''), 'line');
    return !sense.section && !sense.written && !sense.place && sense.ties.length === 0;
  }

  #heading(block: Block, plain: string): void {
    const level = block.level ?? 1;
    this.#keepIdle();
    // A heading followed by another of its level or above has nothing under it: its words are a piece of their own.
    const empty = this.#waiting.filter((waiting) => (waiting.block.level ?? 1) >= level);
    this.#waiting = this.#waiting.filter((waiting) => (waiting.block.level ?? 1) < level);
    for (const each of empty) this.#keepHeading(each.block, each.plain);
    this.#waiting.push({ block, plain });
    this.#lines = [];
  }

  #keepWaiting(): void {
    for (const { block, plain } of this.#waiting) this.#keepHeading(block, plain);
    this.#waiting = [];
  }

  #keepHeading(block: Block, plain: string): void {
    const { whole, ties } = this.senses.of(plain);
    // "Questions" over nothing says nothing; the name of a book may be all there was to say of it.
    // A file of a title alone says that, and nothing is to be lost.
    const only = this.#pieces.length === 0 && this.file.blocks.length === 1;
    if (!only && (block.as === 'title' || (whole && ties.length === 0))) return;
    this.#add(block, block.text, {});
  }

  /** A line that was to govern and governs nothing is a piece after all: one of a list of titles. */
  #keepIdle(): void {
    const idle = this.#idle;
    this.#idle = undefined;
    if (idle) this.#add(idle, idle.text, {});
  }

  /** A paragraph that is a title line: it governs, and is no piece. */
  #governingLine(block: Block, plain: string): boolean {
    if (block.as !== 'paragraph' || isTold(block)) return false;
    if (plain.length > LONGEST_TITLE_LINE || plain.includes('\n')) return false;
    const colon = /[:–—]$/u.test(plain);
    const sense = this.senses.of(plain.replace(/\s*[:–—]$/u, ''), 'line');
    const says =
      sense.whole &&
      (sense.section !== undefined ||
        sense.written !== undefined ||
        sense.ties.length > 0 ||
        sense.place !== undefined);
    if (!says || (/[.!?]$/u.test(plain) && !colon)) return false;
    if (sense.section && !colon && this.#waiting.length === 0 && plain.split(/\s+/u).length > 4)
      return false;
    this.#keepIdle();
    if (sense.ties.length > 0 && !sense.section && !sense.written) this.#idle = block;
    const part = (each: Sense): string =>
      each.section ? 'section' : each.written ? 'written' : each.place ? 'place' : 'ties';
    // A new line of one sort takes the place of the last; a new book or day also ends the sections of the last.
    const sort = part(sense);
    const ends = sort === 'ties' ? [] : this.#lines.filter((line) => part(line) !== sort);
    this.#lines =
      sort === 'written'
        ? [...this.#lines.filter((line) => part(line) === 'ties'), sense]
        : [...ends, sense];
    return true;
  }

  /** What belongs to the piece before it: an answer, a signature, materials, the steps of a lesson under its own heading. */
  #joins(block: Block, plain: string): boolean {
    const last = this.#pieces.at(-1);
    const waiting = this.#waiting.length > 0;
    if (!last || waiting || block.picture || block.as === 'row' || block.kind) return false;
    if (ANSWER.test(plain) && last.answer === undefined && /\?/u.test(last.text)) {
      last.answer = block.text.replace(ANSWER, '');
      return true;
    }
    if (
      SIGNATURE.test(plain) &&
      (last.as === 'quote' || /^[“‘"']|[”’"']$/u.test(last.text.trim()))
    ) {
      last.text = `${last.text.trimEnd()} ${block.text.trim()}`;
      return true;
    }
    const sameHeading = last.under.join('\n') === this.#under(block).join('\n');
    if (!sameHeading) return false;
    const heading = last.under.at(-1);
    const lesson = this.#lessons.has(keyOf(last.under));
    const ownHeading = lesson || (last.title !== undefined && last.title === heading);
    const labelled = labelledKind(block.text);
    if (labelled === 'assignment' || (labelled === 'question' && !lesson)) return false;
    const work = last.governed.section === 'lesson' || last.governed.section === 'assignment';
    if (ownHeading && work && block.as !== 'picture') {
      this.#append(last, block);
      return true;
    }
    const needs =
      NEEDS.exec(last.text)?.groups?.['things'] ?? (LISTS_NEEDS.test(last.text) ? '' : undefined);
    if (block.as === 'item' && needs === '' && this.#before !== 'row') {
      this.#append(last, block);
      return true;
    }
    return false;
  }

  #append(last: RawPiece, block: Block): void {
    const list = block.as === 'item';
    const mark = block.ordered ? '1. ' : '- ';
    const text = block.as === 'quote' ? block.text.replace(/^/gmu, '> ') : block.text;
    const lastLine = last.text.split('\n').at(-1) ?? '';
    const tight = list && /^\s*(?:-|\d+\.)\s/u.test(lastLine);
    last.text += `${tight ? '\n' : '\n\n'}${list ? mark + text.replace(/\n/gu, '\n   ') : text}`;
    noteMaterials(last);
  }

  #under(block: Block): string[] {
    return block.under ?? [];
  }

  #piece(block: Block): void {
    if (block.as === 'item' && this.#before !== 'item') this.#list += 1;
    if (block.as === 'row' && block.cells) {
      const rows = readRow(block, this.#columns);
      if (rows.length > 0) {
        for (const row of rows) this.#add(block, row.text, row);
        return;
      }
    }
    this.#add(block, block.text, {});
  }

  #add(block: Block, text: string, more: Partial<RawPiece>): void {
    if (block !== this.#idle) this.#idle = undefined;
    const under = this.#under(block);
    const piece: RawPiece = {
      as: block.as,
      text,
      place: block.place,
      under,
      governed: this.#governs(under),
      ...more,
    };
    if (block.kind && text === block.text) piece.column = block.kind;
    if (block.on && text === block.text) piece.title = remarkOn(block.on);
    if (this.#lessons.has(keyOf(under)) && !block.kind) piece.column = 'lesson';
    if (block.themes)
      piece.named = [
        ...(piece.named ?? []),
        ...block.themes.map((theme) => ({ role: 'theme' as const, text: theme })),
      ];
    if (this.file.passages) piece.passage = true;
    if (block.italics && text === block.text) piece.italics = block.italics;
    if (block.written) piece.written = block.written;
    if (block.cells) piece.cells = block.cells;
    if (block.picture) piece.picture = block.picture;
    if (block.as === 'item') piece.list = this.#list;
    const title = this.#lead ?? this.#titleOf(under, block);
    this.#lead = undefined;
    if (title !== undefined && piece.title === undefined) piece.title = title;
    noteMaterials(piece);
    this.#pieces.push(piece);
    this.#waiting = [];
  }

  /** The nearest heading that says more than what it ties or sorts, once. */
  #titleOf(under: readonly string[], block: Block): string | undefined {
    const heading = under.at(-1);
    if (heading === undefined || block.as === 'heading') return undefined;
    if (this.senses.of(heading).whole) return undefined;
    if (heading === this.file.title && sameWords(heading, this.#name)) return undefined;
    const key = keyOf(under);
    if (this.#titled.has(key)) return undefined;
    this.#titled.add(key);
    return heading;
  }

  #governs(under: readonly string[]): Governed {
    const governed: Governed = { ties: [], fromTitle: [] };
    const over: [Sense, boolean][] = this.#file.map((sense) => [sense, true]);
    for (const heading of under) over.push([this.senses.of(heading), heading === this.file.title]);
    for (const line of this.#lines) over.push([line, false]);
    for (const [sense, title] of over) {
      const book = sense.ties.some(({ kind }) => kind === 'book');
      if (book) {
        // A book named further in takes the place of one named further out, with its chapters.
        governed.ties = governed.ties.filter(({ kind }) => kind !== 'book');
        governed.fromTitle = governed.fromTitle.filter(({ kind }) => kind !== 'book');
        delete governed.place;
      }
      for (const tie of sense.ties) {
        if (governed.ties.some((held) => held.kind === tie.kind && held.name === tie.name))
          continue;
        governed.ties.push(tie);
        if (title) governed.fromTitle.push(tie);
      }
      if (sense.section) governed.section = sense.section;
      if (sense.written) governed.written = sense.written;
      if (sense.place) governed.place = sense.place;
    }
    if (!governed.written && this.#written) governed.written = this.#written;
    if (this.#lessons.has(keyOf(under))) governed.section = 'lesson';
    return governed;
  }
}

/** Whether the file itself says what this is: a remark of the name of a book is a remark, and governs nothing. */
const isTold = ({ kind, on }: Block): boolean => kind !== undefined || on !== undefined;

const keyOf = (under: readonly string[] | undefined): string => (under ?? []).join('\n');

/** Whether two lines say the same, whatever their capitals, marks and dates of another form. */
const sameWords = (a: string, b: string): boolean =>
  wordsOnly(a) !== '' && wordsOnly(a) === wordsOnly(b);
const wordsOnly = (text: string): string =>
  fold(text)
    .replace(/[^\p{L}\d]+/gu, ' ')
    .trim();

/** What a piece says is needed, as a list. */
function noteMaterials(piece: RawPiece): void {
  const things = NEEDS.exec(
    plainOf(piece.text)
      .split('\n')
      .find((line) => NEEDS.test(line)) ?? '',
  )?.groups?.['things'];
  if (!things) return;
  const listed = things
    .split(/,|;| and /u)
    .map((thing) => thing.trim())
    .filter(Boolean);
  if (listed.length > 0) piece.materials = listed;
}
