/** From the bytes of a file to blocks: tells what the file is, by its content first and its name second, and hands it to the reader for it. */
import type { ColumnRole, FileRead, FileToRead, Gathered, ReadWhole, Unread } from './block';
import { membersOf } from './readers/archive';
import { dateOfName } from './readers/tools/dates-found';
import { declaredEncoding, decode } from './readers/tools/decode';
import { DEEPEST_ZIP, MOST_FILE_BYTES, megabytes } from './readers/tools/limits';
import { binaryFormat, textFormat, zipFormat, type BinaryFormat } from './readers/tools/sniff';
import { newBudget, Zip, type Budget } from './readers/tools/unzip';
import { Unreadable, Watch } from './readers/tools/watch';
import type { PictureAt } from './readers/tools/html-blocks';

interface ReadOptions {
  /** What columns of a table are taken for, by their names, instead of what was guessed. */
  columns?: Readonly<Record<string, ColumnRole>>;
  /** For one file, in milliseconds; 120,000 unless given. */
  limitMs?: number;
  /** A clock in milliseconds, for the limit and for giving way to other work. */
  now?: () => number;
}

/** What reading a file inside a zip needs beyond the file. */
interface Within {
  depth: number;
  budget: Budget;
  pictureAt?: PictureAt;
}

/**
 * Reads one file: one answer, or for a zip one for each file in it. A file that cannot be read is an answer as well, with why and what to do;
 * nothing is thrown. Works a slice at a time and stops soon after `signal` does.
 */
export async function* readFile(
  file: FileToRead,
  signal?: AbortSignal,
  options: ReadOptions = {},
): AsyncGenerator<FileRead, void, undefined> {
  yield* readWithin(file, signal, options, { depth: 0, budget: newBudget() });
}

/** `readFile` for a file that may lie inside a zip. */
async function* readWithin(
  file: FileToRead,
  signal: AbortSignal | undefined,
  options: ReadOptions,
  within: Within,
): AsyncGenerator<FileRead, void, undefined> {
  const watch = new Watch({ signal, limitMs: options.limitMs, now: options.now });
  let archive: Zip | undefined;
  let result: Gathered | undefined;
  try {
    watch.check();
    const read = await readOne(file, watch, signal, options, within);
    if (read instanceof Zip) archive = read;
    else result = settled(read, file.path);
  } catch (error) {
    result = told(error);
  }
  if (result) yield { path: file.path, result };
  if (archive) yield* readMembers(archive, file.path, signal, options, within);
}

async function* readMembers(
  zip: Zip,
  path: string,
  signal: AbortSignal | undefined,
  options: ReadOptions,
  within: Within,
): AsyncGenerator<FileRead, void, undefined> {
  let any = false;
  for await (const member of membersOf(zip, path)) {
    any = true;
    if ('unread' in member) yield { path: member.path, result: member.unread };
    else {
      const inner = { depth: within.depth + 1, budget: within.budget, pictureAt: member.pictureAt };
      yield* readWithin(member.file, signal, options, inner);
    }
    if (signal?.aborted) return;
  }
  if (!any)
    yield { path, result: told(new Unreadable('nothing-in-it', 'There is nothing in this zip.')) };
}

/** An unexpected fault is told as one; the tests hold that no file leads to it. */
function told(error: unknown): Unread {
  if (error instanceof Unreadable) return { ok: false, code: error.code, message: error.message };
  return {
    ok: false,
    code: 'failed',
    message:
      'Something in this file was not expected and it could not be read. Save it in another format, such as text or HTML, and try again.',
  };
}

function settled(whole: ReadWhole, path: string): Gathered {
  const empty =
    whole.blocks.length === 0 &&
    !whole.attachment &&
    !whole.journal &&
    (whole.books ?? []).length === 0 &&
    (whole.meetings ?? []).length === 0;
  if (empty) {
    const why = whole.notes.length > 0 ? whole.notes.join(' ') : 'There are no words in this file.';
    return { ok: false, code: 'nothing-in-it', message: `${why} Nothing was gathered from it.` };
  }
  const written = dateOfName(path) ?? whole.written;
  return written ? { ...whole, written } : whole;
}

async function readOne(
  file: FileToRead,
  watch: Watch,
  signal: AbortSignal | undefined,
  options: ReadOptions,
  within: Within,
): Promise<ReadWhole | Zip> {
  const { bytes } = file;
  if (bytes.length === 0) throw emptyFile();
  if (bytes.length > MOST_FILE_BYTES) {
    throw new Unreadable(
      'too-large',
      `This file is larger than ${megabytes(MOST_FILE_BYTES)}. Split it, or leave pictures out of it, and gather it again.`,
    );
  }
  const format = binaryFormat(bytes);
  if (format === 'zip') {
    // The members of an archive are read one by one, each under a limit of its own.
    const zipWatch = new Watch({ signal, limitMs: Number.POSITIVE_INFINITY, now: options.now });
    return readZip(Zip.open(bytes, zipWatch, within.budget), watch, within.depth);
  }
  if (format) return readBinary(bytes, format, watch);
  const decoded = decode(bytes, declaredEncoding(bytes));
  if (decoded.text.trim() === '') throw emptyFile();
  const whole = await readDecoded(decoded.text, file.path, watch, options, within.pictureAt);
  if (decoded.note) whole.notes.push(decoded.note);
  return whole;
}

function emptyFile(): Unreadable {
  return new Unreadable(
    'empty-file',
    'This file is empty. If it should not be, look for another copy.',
  );
}

async function readZip(zip: Zip, watch: Watch, depth: number): Promise<ReadWhole | Zip> {
  switch (await zipFormat(zip)) {
    case 'docx':
      return (await import('./readers/docx')).readDocx(zip, watch);
    case 'odt':
      return (await import('./readers/odt')).readOdt(zip, watch);
    case 'epub':
      return (await import('./readers/epub')).readEpub(zip, watch);
    case 'spreadsheet':
      throw new Unreadable(
        'unknown-format',
        'Spreadsheets are read as CSV. Open this one, save each sheet as CSV, and gather those.',
      );
    case 'slides':
      throw new Unreadable(
        'unknown-format',
        'Slides and drawings are not read. Save this one as PDF or as text and gather that.',
      );
    case 'archive':
      if (depth >= DEEPEST_ZIP) {
        throw new Unreadable(
          'too-deep',
          'This zip lies inside zips inside zips. Unpack it on your computer and gather what was inside.',
        );
      }
      return zip;
  }
}

async function readBinary(
  bytes: Uint8Array,
  format: BinaryFormat,
  watch: Watch,
): Promise<ReadWhole> {
  switch (format) {
    case 'picture':
      return (await import('./readers/picture')).readPicture(bytes);
    case 'pdf':
      return (await import('./readers/pdf')).readPdf(bytes, watch);
    case 'rtf':
      return (await import('./readers/rtf')).readRtf(bytes, watch);
    case 'old-word':
      throw new Unreadable(
        'older-format',
        'This is a document of an older kind, from before 2007. Open it in a word processor, save it as .docx or .odt, and gather that.',
      );
    default:
      throw new Unreadable(
        'unknown-format',
        'This is neither a document nor a picture that can be read here. Open it in the program it came from and save it as text, HTML, DOCX or PDF.',
      );
  }
}

async function readDecoded(
  text: string,
  path: string,
  watch: Watch,
  options: ReadOptions,
  pictureAt: PictureAt | undefined,
): Promise<ReadWhole> {
  switch (textFormat(text, path)) {
    case 'json':
      return (await import('./readers/json')).readJson(text, watch);
    case 'ics':
      return (await import('./readers/ics')).readIcs(text, watch);
    case 'opml':
      return (await import('./readers/opml')).readOpml(text, watch);
    case 'html':
      return (await import('./readers/html')).readHtml(text, watch, pictureAt);
    case 'bibtex':
      return (await import('./readers/bibtex')).readBibtex(text, watch);
    case 'ris':
      return (await import('./readers/ris')).readRis(text, watch);
    case 'table':
      return (await import('./readers/table')).readTable(text, watch, options.columns);
    case 'markdown':
      return (await import('./readers/markdown')).readMarkdown(text, watch, pictureAt);
    case 'message':
      throw new Unreadable(
        'unknown-format',
        'This is a message, or a page, in the form mail is sent in, and is not read as it is. Open it in the program it came from, save it as text or HTML, and gather that.',
      );
    case 'svg':
      throw new Unreadable(
        'unknown-format',
        'Drawings of the kind SVG can hold programs and are not kept. Save it as PNG and gather that.',
      );
    case 'xml':
      throw new Unreadable(
        'unknown-format',
        'This XML is of a kind that cannot be read here. Open it in the program it came from and save it as text, HTML or DOCX.',
      );
    case 'text':
      return readPlain(text, watch, options, pictureAt);
  }
}

/** Text whose beginning and name say no more: a table, Markdown or an outline by its lines, else plain. */
async function readPlain(
  text: string,
  watch: Watch,
  options: ReadOptions,
  pictureAt: PictureAt | undefined,
): Promise<ReadWhole> {
  const { looksLikeMarkdown, looksLikeTable } = await import('./readers/tools/plain-kinds');
  if (looksLikeTable(text))
    return (await import('./readers/table')).readTable(text, watch, options.columns);
  if (looksLikeMarkdown(text)) {
    return (await import('./readers/markdown')).readMarkdown(text, watch, pictureAt);
  }
  const { isOutline, readOutline } = await import('./readers/outline');
  if (isOutline(text)) return readOutline(text, watch);
  return (await import('./readers/text')).readText(text, watch);
}
