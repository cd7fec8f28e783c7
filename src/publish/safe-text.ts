/** Makes a reader's words harmless on the page: plain text escaped, CommonMark without raw HTML, odd protocols or pictures from elsewhere. */
import { micromark, type Options } from 'micromark';
import { gfmTable, gfmTableHtml } from 'micromark-extension-gfm-table';
import { SPOKEN } from '../language/markdown';

/** Indented code is switched off: prose pasted with an indent is still prose. */
const GRAMMAR: Options = {
  extensions: [gfmTable(), SPOKEN, { disable: { null: ['codeIndented'] } }],
  htmlExtensions: [gfmTableHtml()],
};

/* Controls other than tab and line feed, and the marks that turn the direction of writing for what follows them. */
const UNPRINTABLE =
  /[\u0000-\u0008\u000B\u000C\u000E-\u001F\u007F-\u009F\u202A-\u202E\u2066-\u2069\uFFFE\uFFFF]/g;
const LONE_SURROGATE = /[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/g;

/** The text without control characters and overrides of direction; line ends become `\n`. */
export function clean(text: string): string {
  return text
    .replace(/\r\n?|\u2028|\u2029/g, '\n')
    .replace(UNPRINTABLE, '')
    .replace(LONE_SURROGATE, '\uFFFD');
}

/** Plain text for HTML text or a double-quoted attribute. */
export function escapeHtml(text: string): string {
  return clean(text)
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;')
    .replace(/'/g, '&#39;');
}

/** Plain text as a CSS string, quotes included; everything but letters, digits and spaces goes in as a code point. */
export function cssString(text: string): string {
  const inside = clean(text)
    .replace(/\s+/g, ' ')
    .replace(/[^\p{L}\p{N} ]/gu, (mark) => `\\${mark.codePointAt(0)?.toString(16) ?? 'fffd'} `);
  return `"${inside}"`;
}

/** Plain text as CommonMark that reads as itself: escaped are the marks that mean something, and those that do at the head of a line. */
export function escapeMarkdown(text: string): string {
  return clean(text)
    .replace(/[\\`*_[\]<>&|~]/g, '\\$&')
    .replace(/^(\s*)([#+=-])/gm, '$1\\$2')
    .replace(/^(\s*\d+)([.)])/gm, '$1\\$2');
}

/**
 * CommonMark (with tables) as HTML for the inside of a block. Raw HTML is shown as text, links keep
 * only http, https, mailto and the like, headings become plain lines so that they cannot upset the
 * headings of the sheet, and a picture becomes its description, so nothing is fetched.
 */
export function blockHtml(commonMark: string): string {
  return micromark(clean(commonMark), GRAMMAR)
    .replace(/<img src="[^"]*" alt="([^"]*)"(?: title="[^"]*")? \/>/g, '$1')
    .replace(/<h[1-6]>/g, '<p class="line">')
    .replace(/<\/h[1-6]>/g, '</p>')
    .replace(/<a href="/g, '<a rel="noreferrer" href="')
    .trim();
}

/** As {@link blockHtml}, without the wrapping paragraph where the text is one paragraph. */
export function inlineHtml(commonMark: string): string {
  const html = blockHtml(commonMark);
  const single = /^<p>((?:(?!<\/?p>)[\s\S])*)<\/p>$/.exec(html);
  return single?.[1] ?? html;
}

/** Whether CommonMark, in a program that trusts it, would bring in raw HTML, an odd link or a picture. */
export function isRisky(commonMark: string): boolean {
  const trusting = micromark(commonMark, {
    ...GRAMMAR,
    allowDangerousHtml: true,
    allowDangerousProtocol: true,
  });
  return trusting !== micromark(commonMark, GRAMMAR) || trusting.includes('<img ');
}

/**
 * CommonMark to stand inside another CommonMark document. What would act on the reader's machine, or
 * run out of its place (a code fence, a link definition, a heading), is given as plain characters.
 */
export function markdownOf(commonMark: string): string {
  const text = clean(commonMark).trim();
  const runsOut = /^\s{0,3}(?:`{3}|~{3}|#{1,6}\s|(?:=+|-+)\s*$|\[[^\]]*\]:|<)/m.test(text);
  return runsOut || isRisky(text) ? escapeMarkdown(text) : text;
}

/** The tables of a CommonMark text, cut out of it, and the rest. */
export function splitTable(commonMark: string): { table?: string; rest: string } {
  const lines = clean(commonMark).split('\n');
  const rule = lines.findIndex(
    (line, at) =>
      at > 0 && line.includes('|') && /^\s*\|?\s*:?-+:?\s*(\|\s*:?-+:?\s*)*\|?\s*$/.test(line),
  );
  if (rule < 1) return { rest: commonMark };
  let end = rule + 1;
  while (end < lines.length && lines[end]?.trim() && lines[end]?.includes('|')) end += 1;
  const table = lines.slice(rule - 1, end).join('\n');
  if (!blockHtml(table).startsWith('<table>')) return { rest: commonMark };
  return { table, rest: [...lines.slice(0, rule - 1), ...lines.slice(end)].join('\n').trim() };
}
