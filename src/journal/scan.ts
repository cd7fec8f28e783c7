/** A look over JSON text before it is parsed, so that hostile text is told for what it is and costs no memory. */

/** Nesting of brackets. A journal of this version goes 8 deep; unknown fields may go deeper. */
export const DEEPEST = 100;
/** Objects, lists and their members. A lifetime of 200,000 entries has about 8 million. */
const MOST_VALUES = 20_000_000;

const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const COMMA = 0x2c;

/** What is against parsing the text, if anything. `cut-short` is text that ends inside a string or with brackets open. */
export function scanJson(text: string): 'too-deep' | 'too-many-values' | 'cut-short' | undefined {
  let depth = 0;
  let values = 0;
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === QUOTE) {
      at = endOfString(text, at);
      if (at < 0) return 'cut-short';
    } else if (code === COMMA) {
      values += 1;
    } else if ((code | 0x20) === 0x7b) {
      // { or [
      depth += 1;
      values += 1;
      if (depth > DEEPEST) return 'too-deep';
    } else if ((code | 0x20) === 0x7d) {
      // } or ]
      depth -= 1;
    }
    if (values > MOST_VALUES) return 'too-many-values';
  }
  return depth > 0 ? 'cut-short' : undefined;
}

/** Where the string that opens at `from` closes, or -1. */
function endOfString(text: string, from: number): number {
  for (let end = text.indexOf('"', from + 1); end >= 0; end = text.indexOf('"', end + 1)) {
    let before = end - 1;
    while (text.charCodeAt(before) === BACKSLASH) before -= 1;
    // An even number of backslashes escape one another and leave the quotation mark alone.
    if ((end - 1 - before) % 2 === 0) return end;
  }
  return -1;
}
