/** Quotation marks around a passage, where it has none. */

const OPENS = /^[‘“"'«„‹「『]/;

/** The text in single curly marks; left alone when it already opens with a mark or is more than plain paragraphs. */
export function quoted(text: string): string {
  const words = text.trim();
  if (words === '' || OPENS.test(words) || /^\s{0,3}(?:[>#|+*-]|\d+[.)]|`{3}|~{3})/m.test(words))
    return words;
  return `‘${words}’`;
}
