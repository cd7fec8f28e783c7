import type { Watch } from './watch';

export type RtfToken =
  | { is: 'open' }
  | { is: 'close' }
  /** `\word12`: `value` is undefined where no number stands. */
  | { is: 'word'; word: string; value: number | undefined }
  /** `\*` and the like, or `\'e9` as the byte it stands for. */
  | { is: 'symbol'; symbol: string }
  | { is: 'byte'; byte: number }
  | { is: 'text'; text: string };

/**
 * The tokens of RTF (Rich Text Format specification 1.9.1), the bytes given as letters of the same numbers. `\bin` data is passed over.
 * Takes anything: what is no RTF comes out as text.
 */
export function* rtfTokens(source: string, watch: Watch): Generator<RtfToken> {
  const word = /\\([a-zA-Z]{1,32})(-?\d{1,10})? ?/y;
  const text = /[^\\{}\r\n]+/y;
  let at = 0;
  while (at < source.length) {
    watch.tick();
    const letter = source[at];
    if (letter === '{' || letter === '}') {
      at += 1;
      yield { is: letter === '{' ? 'open' : 'close' };
      continue;
    }
    if (letter === '\r' || letter === '\n') {
      at += 1;
      continue;
    }
    if (letter !== '\\') {
      text.lastIndex = at;
      const run = text.exec(source)?.[0] ?? letter ?? '';
      at += Math.max(run.length, 1);
      yield { is: 'text', text: run };
      continue;
    }
    word.lastIndex = at;
    const parts = word.exec(source);
    if (parts) {
      at = word.lastIndex;
      const value = parts[2] === undefined ? undefined : Number(parts[2]);
      if (parts[1] === 'bin') at += Math.max(0, value ?? 0);
      else yield { is: 'word', word: parts[1] ?? '', value };
      continue;
    }
    const hex = /^\\'([0-9a-fA-F]{2})/.exec(source.slice(at, at + 4));
    if (hex) {
      at += 4;
      yield { is: 'byte', byte: Number.parseInt(hex[1] ?? '0', 16) };
    } else {
      yield { is: 'symbol', symbol: source[at + 1] ?? '' };
      at += 2;
    }
  }
}
