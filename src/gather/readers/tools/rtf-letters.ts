import { windows1252 } from './windows-1252';

/** Windows code pages by the character set of a font (RTF 1.9.1, \fcharset). */
const CODE_PAGE_OF_CHARSET: Readonly<Record<number, number>> = {
  0: 1252,
  77: 10000,
  128: 932,
  129: 949,
  134: 936,
  136: 950,
  161: 1253,
  162: 1254,
  163: 1258,
  177: 1255,
  178: 1256,
  186: 1257,
  204: 1251,
  222: 874,
  238: 1250,
};

/** WHATWG labels of the code pages there is a decoder for. */
const LABELS: Readonly<Record<number, string>> = {
  874: 'windows-874',
  932: 'shift_jis',
  936: 'gbk',
  949: 'euc-kr',
  950: 'big5',
  10000: 'macintosh',
  65001: 'utf-8',
};

export function codePageOfCharset(charset: number): number | undefined {
  return CODE_PAGE_OF_CHARSET[charset];
}

const decoders = new Map<number, TextDecoder>();

/** Bytes of a run as the letters of a Windows code page; those of an unknown page as Windows-1252. */
export function decodePage(bytes: readonly number[], codePage: number): string {
  if (codePage === 1252) return windows1252(Uint8Array.from(bytes));
  let decoder = decoders.get(codePage);
  if (!decoder) {
    try {
      decoder = new TextDecoder(LABELS[codePage] ?? `windows-${codePage}`);
    } catch {
      return windows1252(Uint8Array.from(bytes));
    }
    if (decoders.size < 50) decoders.set(codePage, decoder);
  }
  return decoder.decode(Uint8Array.from(bytes));
}

/** Control words that stand for one character. */
export const RTF_CHARACTERS: Readonly<Record<string, string>> = {
  emdash: '—',
  endash: '–',
  lquote: '‘',
  rquote: '’',
  ldblquote: '“',
  rdblquote: '”',
  bullet: '•',
  tab: ' ',
  emspace: ' ',
  enspace: ' ',
  qmspace: ' ',
};

export const RTF_SYMBOLS: Readonly<Record<string, string>> = {
  '\\': '\\',
  '{': '{',
  '}': '}',
  '~': ' ',
  _: '-',
};
