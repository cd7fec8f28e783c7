import { MOST_TEXT_BYTES, megabytes } from './limits';
import { Unreadable } from './watch';
import { windows1252 } from './windows-1252';

interface Decoded {
  text: string;
  /** A WHATWG encoding label. */
  encoding: string;
  /** What a reader should know of how it was read. */
  note?: string;
}

/** How much of a file is looked at to tell its encoding where no mark says it. */
const SAMPLE_BYTES = 64 * 1024;

/**
 * The text of a file: by its byte order mark; else by the encoding it declares (`declared`, a label from HTML or XML); else UTF-16
 * where every other byte of Latin text is nought; else UTF-8 if it is well formed or all but, else Windows-1252, which the Encoding
 * Standard makes the meaning of every older Western label. Throws `Unreadable` where it is no text, or too long.
 */
export function decode(bytes: Uint8Array, declared?: string): Decoded {
  if (bytes.length > MOST_TEXT_BYTES) throw tooMuchText(bytes.length);
  const marked = byMark(bytes) ?? byNoughts(bytes);
  if (marked) return whole(bytes, marked);
  const utf8 = asUtf8(bytes);
  if (utf8) return utf8;
  const label = knownLabel(declared);
  const { text } = whole(bytes, label && label !== 'utf-8' ? label : 'windows-1252');
  if (!isTextual(text)) throw notText();
  const older = label && label !== 'utf-8' ? label : 'windows-1252';
  return {
    text,
    encoding: older,
    note: `The letters were read as ${older === 'windows-1252' ? 'Windows-1252' : older}, an older way of storing text: look over accents and quotation marks.`,
  };
}

function tooMuchText(bytes: number): Unreadable {
  return new Unreadable(
    'too-large',
    `This file holds ${megabytes(bytes)} of text; up to ${megabytes(MOST_TEXT_BYTES)} can be read at once. Split it into smaller files and gather those.`,
  );
}

function notText(): Unreadable {
  return new Unreadable(
    'unknown-format',
    'This file is neither text nor a kind of document that can be read here. Open it in the program it came from and save it as text, HTML, DOCX or PDF.',
  );
}

function byMark(bytes: Uint8Array): string | undefined {
  if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) return 'utf-8';
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be';
  return undefined;
}

/** UTF-16 without a mark: in Latin text nearly every high byte is nought, and no low byte is. */
function byNoughts(bytes: Uint8Array): string | undefined {
  const end = Math.min(bytes.length, SAMPLE_BYTES) & ~1;
  if (end < 4) return undefined;
  let even = 0;
  let odd = 0;
  for (let at = 0; at < end; at += 2) {
    if (bytes[at] === 0) even += 1;
    if (bytes[at + 1] === 0) odd += 1;
  }
  const pairs = end / 2;
  if (odd > pairs * 0.7 && even < pairs * 0.05) return 'utf-16le';
  if (even > pairs * 0.7 && odd < pairs * 0.05) return 'utf-16be';
  return undefined;
}

function whole(bytes: Uint8Array, encoding: string): Decoded {
  const text =
    encoding === 'windows-1252' ? windows1252(bytes) : new TextDecoder(encoding).decode(bytes);
  if (!isTextual(text)) throw notText();
  return { text, encoding };
}

/** UTF-8 that is well formed, or cut short or damaged in a few places: at most one bad sequence in twenty that are not ASCII. */
function asUtf8(bytes: Uint8Array): Decoded | undefined {
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    if (!isTextual(text)) throw notText();
    return { text, encoding: 'utf-8' };
  } catch (error) {
    if (error instanceof Unreadable) throw error;
  }
  const loose = new TextDecoder('utf-8').decode(bytes);
  let bad = 0;
  let good = 0;
  for (let at = 0; at < loose.length; at += 1) {
    const code = loose.charCodeAt(at);
    if (code === 0xfffd) bad += 1;
    else if (code > 0x7f) good += 1;
  }
  const cutAtEnd = bad === 1 && loose.endsWith('\ufffd') && endsInsideLetter(bytes);
  if ((!cutAtEnd && bad > good / 20) || !isTextual(loose)) return undefined;
  const text = cutAtEnd ? loose.slice(0, -1) : loose;
  const note = cutAtEnd
    ? 'The file ends in the middle of a letter; it may be cut short.'
    : `${bad === 1 ? 'One letter was' : `${bad} letters were`} damaged and stand as “\ufffd”.`;
  return { text, encoding: 'utf-8', note };
}

function endsInsideLetter(bytes: Uint8Array): boolean {
  const last = bytes.at(-1) ?? 0;
  return last >= 0xc2 || (last >= 0x80 && last < 0xc0 && (bytes.at(-2) ?? 0) >= 0xe0);
}

/** Text has next to no control characters but tabs and breaks, vertical ones too; what has is a program's own format. */
function isTextual(text: string): boolean {
  const end = Math.min(text.length, SAMPLE_BYTES);
  let control = 0;
  for (let at = 0; at < end; at += 1) {
    const code = text.charCodeAt(at);
    if (code < 32 ? code < 9 || code > 13 : code === 127) control += 1;
  }
  return control <= end / 200;
}

function knownLabel(label: string | undefined): string | undefined {
  if (!label) return undefined;
  try {
    return new TextDecoder(label.trim()).encoding;
  } catch {
    return undefined;
  }
}

/** The encoding an XML declaration or an HTML meta element names, looked for in the first kilobyte. */
export function declaredEncoding(bytes: Uint8Array): string | undefined {
  const head = windows1252(bytes.subarray(0, 1024));
  return (
    /<\?xml[^>]{0,200}?encoding\s*=\s*["']([\w:.-]{1,40})/i.exec(head)?.[1] ??
    /<meta[^>]{0,200}?charset\s*=\s*["']?\s*([\w:.-]{1,40})/i.exec(head)?.[1]
  );
}
