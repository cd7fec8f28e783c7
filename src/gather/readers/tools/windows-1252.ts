/**
 * Letters of the bytes 80 to 9F in Windows-1252, as in the index of the Encoding Standard; the five bytes without a letter keep their number.
 * Node 20's own decoder reads them as control characters, which would lose every quotation mark and dash.
 */
const FROM_80 =
  '\u20ac\u0081\u201a\u0192\u201e\u2026\u2020\u2021\u02c6\u2030\u0160\u2039\u0152\u008d\u017d\u008f' +
  '\u0090\u2018\u2019\u201c\u201d\u2022\u2013\u2014\u02dc\u2122\u0161\u203a\u0153\u009d\u017e\u0178';

/** Bytes as Windows-1252, one letter for each byte. Never fails. */
export function windows1252(bytes: Uint8Array): string {
  const plain = new TextDecoder('latin1').decode(bytes);
  return plain.replace(/[\u0080-\u009f]/g, (letter) => FROM_80[letter.charCodeAt(0) - 0x80] ?? '');
}
