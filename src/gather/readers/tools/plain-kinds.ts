/** What a text without a telling name or beginning is, by its lines. No reader, and none of its libraries, is loaded for it. */
import { looksLikeColumnNames } from './columns';

const DELIMITERS = [',', '\t', ';', '|'];

/** Whether a text without the name of one is Markdown all the same: headings, or several kinds of its other marks. */
export function looksLikeMarkdown(text: string): boolean {
  const sample = text.slice(0, 50_000);
  if (/^---\r?\n(?:[\w -]{1,40}:[^\n]*\r?\n){1,40}---\r?$/m.test(sample.slice(0, 4000)))
    return true;
  if (/^#{1,6} \S/m.test(sample)) return true;
  const signs = [
    /^(?:```|~~~)/m,
    /\[[^\]\n]{1,200}\]\((?:[a-z]+:|\/|#|\.)?[\w/.%#~-]{0,300}[./#:]\S{1,300}\)/i,
    /^\|?[ :-]*-{3,}[ :-]*\|[ |:-]*$/m,
    /\*\*[^*\n]{1,200}\*\*/,
    /^> \S/m,
  ];
  return signs.filter((sign) => sign.test(sample)).length > 1;
}

/** The mark that parts the first lines into the most even rows of two cells or more; a comma where none does. */
export function delimiterOf(text: string): string {
  const lines = text
    .slice(0, 20_000)
    .replace(/"[^"]*"/g, '')
    .split(/\r\n|[\n\r]/)
    .filter((line) => line.trim() !== '')
    .slice(0, 20);
  let best = ',';
  let bestScore = 0;
  for (const delimiter of DELIMITERS) {
    const counts = lines.map((line) => line.split(delimiter).length - 1);
    const most = Math.max(0, ...counts);
    const even = counts.filter((count) => count === counts[0] && count > 0).length;
    const score = most === 0 ? 0 : (even / lines.length) * 100 + Math.min(most, 20) / 100;
    if (score > bestScore) {
      best = delimiter;
      bestScore = score;
    }
  }
  return best;
}

/** Whether a text without the name of a table is one: a first row of known names, and rows after it of as many cells. */
export function looksLikeTable(text: string): boolean {
  const delimiter = delimiterOf(text);
  const lines = text
    .slice(0, 5000)
    .split(/\r\n|[\n\r]/)
    .filter((line) => line.trim() !== '')
    .slice(0, 20)
    .map((line) => line.replace(/"[^"]*"/g, '').split(delimiter).length);
  const head =
    text
      .replace(/^[\s\ufeff]+/, '')
      .slice(0, 1000)
      .split(/\r\n|[\n\r]/)[0] ?? '';
  const names = head.split(delimiter).map((cell) => cell.replace(/^"|"$/g, ''));
  const alike = lines.filter((cells) => cells === names.length).length;
  return lines.length > 1 && alike >= lines.length * 0.8 && looksLikeColumnNames(names);
}
