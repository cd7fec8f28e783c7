/** Runs of text broken into lines: where a line may end by UAX #14, and of the possible breaks the most even. */
import LineBreaker from 'linebreak';
import type { Run } from '../rich';
import type { Ink, Piece } from './ink';
import type { TypeStyle } from './type';

/** Letters set alike and standing together on a line, from `x` points right of its beginning. */
export interface Placed {
  piece: Piece;
  x: number;
  style: TypeStyle;
  link?: string;
}

export interface Line {
  placed: Placed[];
  width: number;
}

export interface StyledRun {
  text: string;
  style: TypeStyle;
  link?: string;
}

/** What stands between two places where a line may end. `space` is what falls away at a line's end. */
interface Word {
  placed: Placed[];
  width: number;
  space: number;
  /** The line ends after it. */
  ends: boolean;
}

/** Runs of CommonMark in a style: strong is the bold cut, emphasis turns italic on (and off, where the style has it). */
export function styled(runs: readonly Run[], style: TypeStyle, slanting = true): StyledRun[] {
  return runs.map(({ text, bold, italic, link }) => ({
    text,
    style: {
      ...style,
      ...(bold ? { weight: 700 as const } : {}),
      italic: slanting && italic ? !style.italic : style.italic,
    },
    ...(link ? { link } : {}),
  }));
}

function wordsOf(ink: Ink, runs: readonly StyledRun[], most: number): Word[] {
  const text = runs.map((run) => run.text).join('');
  const words: Word[] = [];
  const breaker = new LineBreaker(text);
  let from = 0;
  for (let next = breaker.nextBreak(); next; next = breaker.nextBreak()) {
    const part = text.slice(from, next.position);
    const ends = /[\n\u2028\u2029\v\f\r\u0085]$/.test(part);
    words.push(...fitting(ink, wordOf(ink, runs, from, next.position, ends), most));
    from = next.position;
  }
  return words;
}

function wordOf(
  ink: Ink,
  runs: readonly StyledRun[],
  from: number,
  to: number,
  ends: boolean,
): Word {
  const word: Word = { placed: [], width: 0, space: 0, ends };
  let at = 0;
  let x = 0;
  for (const { text, style, link } of runs) {
    const begin = at;
    at += text.length;
    if (at <= from || begin >= to) continue;
    const own = text.slice(Math.max(0, from - begin), to - begin).replace(/[\n\r\v\f]+/g, '');
    if (!own) continue;
    for (const piece of ink.pieces(own, style)) {
      word.placed.push({ piece, x, style, ...(link ? { link } : {}) });
      x += piece.width;
    }
    const rest = /[ \t\u3000]+$/.exec(own)?.[0] ?? '';
    if (rest) x += style.words * (rest.split(' ').length - 1);
    word.space = rest ? ink.widthOf(rest, style) : 0;
  }
  word.width = x - word.space;
  return word;
}

/** A word wider than the line is cut between letters. */
function fitting(ink: Ink, word: Word, most: number): Word[] {
  if (word.width <= most) return [word];
  const parts: Word[] = [];
  let part: Word = { placed: [], width: 0, space: 0, ends: false };
  for (const { piece, style, link } of word.placed) {
    for (const letter of piece.text) {
      const width = ink.widthOf(letter, style);
      if (part.width + width > most && part.placed.length > 0) {
        parts.push(part);
        part = { placed: [], width: 0, space: 0, ends: false };
      }
      const cut = { text: letter, name: piece.name, width };
      part.placed.push({ piece: cut, x: part.width, style, ...(link ? { link } : {}) });
      part.width += width;
    }
  }
  return [
    ...parts,
    { ...part, width: part.width - word.space, space: word.space, ends: word.ends },
  ];
}

/** How uneven a line is: nothing when full, and little when it is the last and not a single short word. */
function unevenness(width: number, most: number, last: boolean, balanced: boolean): number {
  const slack = (most - width) / most;
  if (last && !balanced) return slack > 0.82 ? slack : 0;
  return slack * slack;
}

/** A line costs this much, so that evenness never adds lines. */
const LINE_COST = 10;

/**
 * The runs in lines no wider than `most` points, ragged right. Of the ways with the fewest lines the
 * one with the least squared slack is taken; `balanced` counts the last line too, as for titles. Lines
 * after the first of a paragraph are narrower by `hang` points.
 */
export function linesOf(
  ink: Ink,
  runs: readonly StyledRun[],
  most: number,
  balanced = false,
  hang = 0,
): Line[] {
  const words = wordsOf(ink, runs, most - hang);
  const lines: Line[] = [];
  let from = 0;
  words.forEach((word, at) => {
    if (!word.ends && at < words.length - 1) return;
    lines.push(...paragraph(words.slice(from, at + 1), most, balanced, hang));
    from = at + 1;
  });
  return lines;
}

function paragraph(words: readonly Word[], most: number, balanced: boolean, hang: number): Line[] {
  const count = words.length;
  const cost = new Float64Array(count + 1).fill(Infinity);
  const before = new Int32Array(count + 1);
  cost[0] = 0;
  for (let end = 1; end <= count; end += 1) {
    let width = 0;
    for (let begin = end - 1; begin >= 0; begin -= 1) {
      const word = words[begin]!;
      width += word.width + (begin === end - 1 ? 0 : word.space);
      const room = begin === 0 ? most : most - hang;
      if (width > most + 0.01 && begin < end - 1) break;
      if (width > room + 0.01 && begin < end - 1) continue;
      const uneven = unevenness(width, room, end === count, balanced);
      const total = cost[begin]! + LINE_COST + uneven;
      if (total < cost[end]!) {
        cost[end] = total;
        before[end] = begin;
      }
    }
  }
  const lines: Line[] = [];
  for (let end = count; end > 0; end = before[end]!) {
    lines.unshift(joined(words.slice(before[end]!, end)));
  }
  return lines;
}

/** The words of a line side by side, and pieces set alike made one. The space after the last stays, so that words read on. */
function joined(words: readonly Word[]): Line {
  const placed: Placed[] = [];
  let x = 0;
  let width = 0;
  for (const word of words) {
    for (const one of word.placed) {
      const last = placed.at(-1);
      const along =
        last &&
        last.style === one.style &&
        last.piece.name === one.piece.name &&
        last.link === one.link &&
        one.style.words === 0;
      if (along) {
        last.piece = {
          ...last.piece,
          text: last.piece.text + one.piece.text,
          width: last.piece.width + one.piece.width,
        };
      } else placed.push({ ...one, x: x + one.x });
    }
    width = x + word.width;
    x += word.width + word.space;
  }
  return { placed, width };
}
