import { datesIn } from './dates-found';

/** A line that opens an item of a list: a bullet, a dash, a number or a letter. */
export const LIST_MARK = /^\s*(?:[-*+•‣▪◦●○·]|\d{1,3}[.)]|\(\d{1,3}\)|[a-h]\))\s+\S/;

interface ListMark {
  /** Columns before the mark. */
  indent: number;
  ordered: boolean;
  rest: string;
}

export function listMark(line: string): ListMark | undefined {
  if (!LIST_MARK.test(line)) return undefined;
  const parts = /^(\s*)(\S+)\s+([^]*)$/.exec(line);
  if (!parts) return undefined;
  const [, space = '', mark = '', rest = ''] = parts;
  const indent = [...space].reduce((sum, letter) => sum + (letter === '\t' ? 4 : 1), 0);
  return { indent, ordered: /[\da-h]/.test(mark), rest };
}

/** Words that stay small inside a title in English. */
const SMALL = new Set(
  'a an and as at but by for from in into of on or the to with & vs'.split(' '),
);
const LONGEST_TITLE = 70;

/** Whether a line alone looks like a title: all capitals, a date, or every word but the small ones capital, and no full stop. */
export function isTitleLine(line: string): 'capitals' | 'date' | 'words' | undefined {
  const words = line.trim();
  if (words.length < 3 || words.length > LONGEST_TITLE || /[.!?;,]$|^[“‘"'(]|^[-•*>]/.test(words))
    return undefined;
  if (isDateLine(words)) return 'date';
  if (!/\p{L}{2}/u.test(words)) return undefined;
  if (words === words.toUpperCase() && words !== words.toLowerCase()) return 'capitals';
  const parts = words.split(/[\s–—-]+/).filter((part) => /\p{L}/u.test(part));
  const capital = parts.every(
    (part, index) => /^\P{L}*[\p{Lu}\p{Lt}]/u.test(part) || (index > 0 && SMALL.has(part)),
  );
  return capital && parts.length > 1 && parts.length <= 10 ? 'words' : undefined;
}

/** A line that is a date and perhaps a weekday: the head of a day in a diary. */
function isDateLine(line: string): boolean {
  const [first, ...others] = datesIn(line);
  if (!first || others.length > 0 || first.exact === 'year') return false;
  const rest = (line.slice(0, first.from) + line.slice(first.to)).replace(/[\s,.:–—-]/g, '');
  return /^(?:(?:mon|tues?|wednes?|thu(?:rs)?|fri|satur|sun)(?:day)?)?$/i.test(rest);
}
