/** About so many characters make a stretch: some screens full. */
const LONG = 8000;

/**
 * A long text in stretches, each ending where a line does, so that set one under the other they read as the whole. A line longer than a
 * stretch is cut between words, or in a word that has no end.
 */
export function stretches(text: string, long = LONG): string[] {
  const out: string[] = [];
  let from = 0;
  while (text.length - from > long) {
    const line = text.lastIndexOf('\n', from + long);
    const space = line > from ? line : text.lastIndexOf(' ', from + long);
    const cut = space > from ? space : endOfCharacter(text, from + long);
    out.push(text.slice(from, cut));
    from = space > from ? cut + 1 : cut;
  }
  out.push(text.slice(from));
  return out;
}

/** Never between the two halves of a character beyond U+FFFF. */
const endOfCharacter = (text: string, at: number): number =>
  /[\uDC00-\uDFFF]/.test(text[at] ?? '') ? at + 1 : at;
