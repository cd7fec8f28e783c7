import { latin } from './bytes';
import { extensionOf } from './paths';
import { pictureType } from './picture-bytes';
import type { Zip } from './unzip';

/** Formats told by the bytes alone. */
export type BinaryFormat = 'picture' | 'pdf' | 'zip' | 'rtf' | 'old-word' | 'other';

export function binaryFormat(bytes: Uint8Array): BinaryFormat | undefined {
  const head = latin(bytes.subarray(0, 1024));
  if (pictureType(bytes)) return 'picture';
  if (head.includes('%PDF-')) return 'pdf';
  if (/^PK(?:\x03\x04|\x05\x06)/.test(head)) return 'zip';
  if (/^\s*\{\\rtf/.test(head)) return 'rtf';
  if (head.startsWith('\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1')) return 'old-word';
  if (OTHERS.some((start) => head.startsWith(start))) return 'other';
  return undefined;
}

/** Programs' own formats, sound and film, and other archives: known, and not read. */
const OTHERS = [
  '\x7fELF',
  'MZ',
  '\x1f\x8b',
  '7z\xbc\xaf',
  'Rar!',
  'BZh',
  'ID3',
  'OggS',
  'fLaC',
  'SQLite format 3',
  '\x1aE\xdf\xa3',
];

/** What a zip is by what it holds. */
type ZipFormat = 'docx' | 'odt' | 'epub' | 'spreadsheet' | 'slides' | 'archive';

export async function zipFormat(zip: Zip): Promise<ZipFormat> {
  const mimetype = zip.has('mimetype') ? latin(await zip.read('mimetype', 10_000)).trim() : '';
  if (mimetype === 'application/epub+zip' || zip.has('META-INF/container.xml')) return 'epub';
  if (mimetype.startsWith('application/vnd.oasis.opendocument.')) {
    if (mimetype.includes('.text')) return 'odt';
    return mimetype.includes('.spreadsheet') ? 'spreadsheet' : 'slides';
  }
  if (zip.has('[Content_Types].xml')) {
    if (
      zip.has('word/document.xml') ||
      zip.names.some((name) => /^word\/document\d*\.xml$/.test(name))
    )
      return 'docx';
    if (zip.names.some((name) => name.startsWith('xl/'))) return 'spreadsheet';
    if (zip.names.some((name) => name.startsWith('ppt/'))) return 'slides';
  }
  return 'archive';
}

type TextFormat =
  | 'json'
  | 'ics'
  | 'opml'
  | 'html'
  | 'svg'
  | 'xml'
  | 'bibtex'
  | 'ris'
  | 'message'
  | 'table'
  | 'markdown'
  | 'text';

const BIBTEX_ENTRY =
  /^[ \t]*@(?:string|comment|preamble|article|mv\w+|(?:in)?book|booklet|(?:in)?collection|(?:in)?proceedings|manual|misc|online|thesis|phdthesis|mastersthesis|techreport|report|unpublished|ebook)\s*[{(]/i;

/** What a text is: by how it begins, and where that is open by the name of its file. */
export function textFormat(text: string, path: string): TextFormat {
  const head = text
    .slice(0, 4000)
    .replace(/^\ufeff/, '')
    .trimStart();
  const extension = extensionOf(path);
  const marked = markedUp(head);
  if (marked) return marked;
  if (/^BEGIN:VCALENDAR/i.test(head)) return 'ics';
  if (/^TY {1,2}- \w/.test(head)) return 'ris';
  if (/^(?:\{\s*"|\[\s*\{)/.test(head)) return 'json';
  if (isMessage(head)) return 'message';
  const first =
    head.split(/\r\n|[\n\r]/).find((line) => line.trim() !== '' && !line.startsWith('%')) ?? '';
  if (BIBTEX_ENTRY.test(first)) return 'bibtex';
  switch (extension) {
    case 'json':
    case 'jsonld':
      return 'json';
    case 'ics':
    case 'ical':
      return 'ics';
    case 'ris':
      return 'ris';
    case 'bib':
    case 'bibtex':
      return 'bibtex';
    case 'eml':
    case 'emlx':
    case 'mbox':
    case 'mht':
    case 'mhtml':
      return 'message';
    case 'opml':
      return 'opml';
    case 'htm':
    case 'html':
    case 'xhtml':
      return 'html';
    case 'csv':
    case 'tsv':
    case 'tab':
      return 'table';
    case 'md':
    case 'markdown':
      return 'markdown';
    default:
      return 'text';
  }
}

/** Headers that only programs write (RFC 5322, RFC 2045); a message saved as text keeps at most who, when and what about. */
const MAIL_HEADER =
  /^(?:return-path|received|message-id|mime-version|content-transfer-encoding|delivered-to):/gim;

function isMessage(head: string): boolean {
  const [top = ''] = head.replace(/^From \S.*(?:\r\n|[\n\r])/, '').split(/\r\n\r\n|\n\n|\r\r/);
  const lines = top.split(/\r\n|[\n\r]/).filter((line) => !/^[ \t]/.test(line));
  return (
    lines.every((line) => /^[\w-]{2,60}:/.test(line)) && (top.match(MAIL_HEADER) ?? []).length > 1
  );
}

function markedUp(head: string): TextFormat | undefined {
  // What stands before the first element: declarations, comments, instructions.
  let rest = head;
  for (let each = /^(?:<\?[^>]{0,500}\?>|<!--[^]{0,3000}?-->)\s*/.exec(rest); each;) {
    rest = rest.slice(each[0].length);
    each = /^(?:<\?[^>]{0,500}\?>|<!--[^]{0,3000}?-->)\s*/.exec(rest);
  }
  if (/^<!doctype html|^<html\b/i.test(rest)) return 'html';
  if (/^<opml\b/i.test(rest)) return 'opml';
  if (/^(?:<!doctype svg[^>]{0,500}>\s*)?<svg\b/i.test(rest)) return 'svg';
  if (
    /^<(?:head|body|title|meta|article|section|div|p|h[1-6]|ul|ol|table|blockquote)\b[^>]{0,2000}>/i.test(
      rest,
    )
  )
    return 'html';
  return rest !== head && /^<[\w:-]+[\s>]/.test(rest) && head.startsWith('<?xml')
    ? 'xml'
    : undefined;
}
