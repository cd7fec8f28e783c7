import { micromark, type Options } from 'micromark';

/**
 * What CommonMark has and a reader's words have not: "[Nora]: Never." is something said, no definition of a link, which
 * would vanish from the page. For every reading of an entry's text, on the screen and in print.
 */
export const SPOKEN: NonNullable<Options['extensions']>[number] = {
  disable: { null: ['definition'] },
};

/** What a text must hold before CommonMark reads it as anything but paragraphs. Over-cautious: a false alarm costs time only. */
const INLINE_MARK = /[*_`\\]|\]\(|\]:|<[A-Za-z/!?]|&[#A-Za-z]/;
const BLOCK_MARK = /^[ \t]*(?:[-+=#>~]|\d{1,9}[.)])/m;
/** Emphasis of the plain kind: marks parted from their surroundings by space or punctuation, with none inside. */
const PLAIN_EMPHASIS =
  /(^|[\s(“‘"—])(\*{1,3}|_{1,3})(?=[\p{L}\p{N}])([^*_\n]*[\p{L}\p{N}])\2(?=$|[\s).,;:!?”’"—])/gmu;
const OTHER_MARK = /[`\\<]|\]\(|\]:|&[#A-Za-z]/;

/** Marks of quotations and lists one inside another, deeper than anybody writes; a parser takes minutes over thousands of them. */
const TOO_DEEP = /^(?:[ \t]*(?:>|[-+*](?=[ \t])|\d{1,9}[.)](?=[ \t]))){40,}/gm;

const NAMED: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"' };

/**
 * The words of a CommonMark text as they are read: no marks, the text of links, the descriptions of pictures, one line a
 * block. Raw HTML stays visible as text, as it does in print; the result is text, and is escaped by whoever shows it.
 */
export function plainText(commonMark: string): string {
  if (!BLOCK_MARK.test(commonMark)) {
    if (!INLINE_MARK.test(commonMark)) return tidyLines(commonMark);
    if (!OTHER_MARK.test(commonMark)) {
      const bare = commonMark.replace(PLAIN_EMPHASIS, '$1$3');
      if (!/[*_]/.test(bare)) return tidyLines(bare);
    }
  }
  return plainTextByParser(commonMark);
}

/** The same by the full parser for every text: slower, and what the quick way is tested against. */
export function plainTextByParser(commonMark: string): string {
  const html = micromark(commonMark.replace(TOO_DEEP, ''), { extensions: [SPOKEN] });
  const text = html
    .replace(/<img [^>]*?alt="([^"]*)"[^>]*>/g, '$1')
    .replace(/<(?:br|hr) ?\/?>/g, '\n')
    .replace(/<[^>]*>/g, '')
    .replace(/&(amp|lt|gt|quot);/g, (_, name: string) => NAMED[name] ?? '');
  return tidyLines(text);
}

/** Line by line, because a pattern that looks for spaces before a line's end takes the square of a long run of them. */
function tidyLines(text: string): string {
  return text
    .split(/[\r\n]+/)
    .map((line) => line.trim())
    .filter(Boolean)
    .join('\n');
}
