/** Combining marks by the control of a TeX accent. */
const ACCENTS: Readonly<Record<string, string>> = {
  '`': '\u0300',
  "'": '\u0301',
  '^': '\u0302',
  '~': '\u0303',
  '"': '\u0308',
  '=': '\u0304',
  '.': '\u0307',
  u: '\u0306',
  v: '\u030c',
  H: '\u030b',
  c: '\u0327',
  k: '\u0328',
  r: '\u030a',
  d: '\u0323',
  b: '\u0331',
};
const LETTERS: Readonly<Record<string, string>> = {
  ss: 'ß',
  ae: 'æ',
  AE: 'Æ',
  oe: 'œ',
  OE: 'Œ',
  o: 'ø',
  O: 'Ø',
  l: 'ł',
  L: 'Ł',
  aa: 'å',
  AA: 'Å',
  i: 'ı',
  j: 'ȷ',
  textemdash: '—',
  textendash: '–',
  textquoteleft: '‘',
  textquoteright: '’',
  textquotedblleft: '“',
  textquotedblright: '”',
  ldots: '…',
  dots: '…',
  textellipsis: '…',
  textasciicircum: '^',
  textbraceleft: '\ue000',
  textbraceright: '\ue001',
  textasciitilde: '\ue002',
  textbackslash: '\ue003',
};
/** Signs that mean something to TeX, set apart until all that they could mean is done with. */
const SIGNS = ['{', '}', '~', '\\'];

/** The plain words of a TeX field: accents composed, dashes and quotation marks set, braces and commands of setting taken off. */
export function fromTex(tex: string): string {
  return tex
    .replace(
      /\\(["'`^~=.])\s*\{?\\?([ij]|\p{L})\}?/gu,
      (_, mark: string, letter: string) => letter + (ACCENTS[mark] ?? ''),
    )
    .replace(
      /\\([uvHckrdb])(?:\s+|\s*\{)\\?(\p{L})\}?/gu,
      (_, mark: string, letter: string) => letter + (ACCENTS[mark] ?? ''),
    )
    .replace(
      /\\([A-Za-z]{1,20})(?:\{\}|\s?)/g,
      (whole: string, name: string) => LETTERS[name] ?? (/\s$/.test(whole) ? ' ' : ''),
    )
    .replace(/\\([{}])/g, (_, brace: string) => (brace === '{' ? '\ue000' : '\ue001'))
    .replace(/\\([%&$#_ ])/g, '$1')
    .replace(/---/g, '—')
    .replace(/--/g, '–')
    .replace(/``/g, '“')
    .replace(/''/g, '”')
    .replace(/~/g, ' ')
    .replace(/[{}]/g, '')
    .replace(/[\ue000-\ue003]/g, (sign) => SIGNS[sign.charCodeAt(0) - 0xe000] ?? '')
    .normalize('NFC')
    .trim();
}
