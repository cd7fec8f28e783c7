import type * as PdfjsModule from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { ReadWhole } from '../block';
import { BlockList, oneLine, plainProse } from './tools/block-list';
import { dateOfMetadata } from './tools/dates-found';
import { setDownPages } from './tools/pdf-blocks';
import { linesOfPage, type PdfPage, type PdfText } from './tools/pdf-lines';
import { attempt, Unreadable, type Watch } from './tools/watch';

const MOST_PAGES = 3000;
const DAMAGED =
  'This PDF is damaged or cut short. If you have another copy, or the document it was made from, gather that one.';

type Pdfjs = typeof PdfjsModule;
type PdfDocument = Awaited<ReturnType<Pdfjs['getDocument']>['promise']>;
type PdfPageProxy = Awaited<ReturnType<PdfDocument['getPage']>>;

/**
 * Reads the text of a PDF through pdf.js: paragraphs with their pages, words parted at line ends joined, running heads and page numbers
 * left out, and the remarks a reader has put on its pages. A PDF without text is an attachment. Italics are not told. Nothing in the file
 * is run: forms, scripts and links are not looked at.
 */
export async function readPdf(bytes: Uint8Array, watch: Watch): Promise<ReadWhole> {
  const pdfjs = await loadPdfjs();
  const task = pdfjs.getDocument({
    // A copy, for pdf.js takes what it is given away; and of this plain class, for it takes no other.
    data: new Uint8Array(bytes),
    isEvalSupported: false,
    disableFontFace: true,
    useSystemFonts: false,
    useWorkerFetch: false,
    useWasm: false,
    stopAtErrors: false,
    enableXfa: false,
    verbosity: 0,
  });
  try {
    const document = await opened(task.promise);
    return await readDocument(document, watch);
  } finally {
    await task.destroy().catch(() => undefined);
  }
}

async function opened(promise: Promise<PdfDocument>): Promise<PdfDocument> {
  try {
    return await promise;
  } catch (error) {
    if (error instanceof Error && error.name === 'PasswordException') {
      throw new Unreadable(
        'locked',
        'This PDF is locked with a password. Open it where you can, save it without one, and gather it again.',
      );
    }
    throw new Unreadable('damaged', DAMAGED);
  }
}

async function readDocument(document: PdfDocument, watch: Watch): Promise<ReadWhole> {
  const list = new BlockList();
  const pages: PdfPage[] = [];
  const remarks: { page: number; text: string }[] = [];
  const last = Math.min(document.numPages, MOST_PAGES);
  let unreadable = 0;
  for (let number = 1; number <= last; number += 1) {
    await watch.rest();
    const read = await readPage(document, number, watch);
    if (!read) {
      unreadable += 1;
      continue;
    }
    pages.push(read.page);
    remarks.push(...read.remarks);
  }
  if (unreadable === last) throw new Unreadable('damaged', DAMAGED);
  setDownPages(pages, list);
  for (const { page, text } of remarks) {
    list.paragraph(plainProse(text), { page, note: `a remark on page ${page}` });
  }
  noteGaps(list, unreadable, document.numPages, pages);
  const whole: ReadWhole = { ok: true, blocks: list.blocks, notes: list.notes };
  if (list.blocks.length === 0) {
    whole.attachment = true;
    list.note(
      `This PDF holds pictures of ${document.numPages === 1 ? 'a page' : 'pages'} and no text, as a scanner makes them: its words cannot be found until someone types them.`,
    );
  }
  await addMetadata(document, whole, list);
  return whole;
}

function noteGaps(
  list: BlockList,
  unreadable: number,
  total: number,
  pages: readonly PdfPage[],
): void {
  if (unreadable > 0) {
    list.note(
      `${unreadable === 1 ? 'One page' : `${unreadable} pages`} could not be read and ${unreadable === 1 ? 'was' : 'were'} left out.`,
    );
  }
  if (total > MOST_PAGES) {
    list.note(
      `Only the first ${MOST_PAGES.toLocaleString('en-GB')} of ${total.toLocaleString('en-GB')} pages were read.`,
    );
  }
  const empty = pages.filter(({ lines }) => lines.length === 0).map(({ number }) => number);
  if (empty.length === 0 || empty.length === pages.length) return;
  const named =
    empty.length > 12
      ? `${empty.length} pages`
      : `page${empty.length > 1 ? 's' : ''} ${empty.join(', ')}`;
  list.note(
    `Nothing was read from ${named}: there is no text on ${empty.length > 1 ? 'them' : 'it'}, perhaps a picture.`,
  );
}

async function addMetadata(
  document: PdfDocument,
  whole: ReadWhole,
  list: BlockList,
): Promise<void> {
  const { info } = await attempt(() => document.getMetadata(), DAMAGED).catch(() => ({ info: {} }));
  const said = info as { Title?: unknown; CreationDate?: unknown };
  const own = typeof said.Title === 'string' ? oneLine(said.Title) : '';
  // Printing programs put the name of a file or of themselves where a title belongs.
  const title =
    list.settleTitle() ?? (/\.\w{2,4}$|^(?:untitled|microsoft word)/i.test(own) ? '' : own);
  if (title) whole.title = title;
  const written =
    typeof said.CreationDate === 'string' ? dateOfMetadata(said.CreationDate) : undefined;
  if (written) whole.written = written;
}

async function readPage(
  document: PdfDocument,
  number: number,
  watch: Watch,
): Promise<{ page: PdfPage; remarks: { page: number; text: string }[] } | undefined> {
  let page: PdfPageProxy;
  try {
    page = await document.getPage(number);
    const { items } = await page.getTextContent();
    const texts: PdfText[] = items.flatMap((item) => ('str' in item ? [item as PdfText] : []));
    const [, , width, height] = page.view as [number, number, number, number];
    const lines = linesOfPage(texts, watch);
    const remarks = await remarksOn(page, number);
    page.cleanup();
    return { page: { number, width, height, lines }, remarks };
  } catch (error) {
    if (error instanceof Unreadable) throw error;
    return undefined;
  }
}

/** What a reader wrote into the page: notes, and comments on marked passages. */
async function remarksOn(
  page: PdfPageProxy,
  number: number,
): Promise<{ page: number; text: string }[]> {
  const annotations = (await page.getAnnotations()) as {
    subtype?: string;
    contentsObj?: { str?: string };
  }[];
  return annotations
    .filter(({ subtype }) => subtype !== 'Link' && subtype !== 'Widget' && subtype !== 'Popup')
    .map(({ contentsObj }) => ({ page: number, text: oneLine(contentsObj?.str ?? '') }))
    .filter(({ text }) => text !== '');
}

let loading: Promise<Pdfjs> | undefined;

/**
 * pdf.js with its worker in this thread: reading happens in a worker of ours already, and Node has none. Loaded once. Its page drawing asks for
 * geometry classes Node lacks unless an optional package brings them; they are never used for text, so a stand-in does.
 */
function loadPdfjs(): Promise<Pdfjs> {
  loading ??= (async () => {
    const scope = globalThis as { DOMMatrix?: unknown };
    if (scope.DOMMatrix === undefined) {
      const optional = '@napi-rs/canvas';
      const there = await import(/* @vite-ignore */ optional).then(
        () => true,
        () => false,
      );
      if (!there) scope.DOMMatrix = class {};
    }
    await import('pdfjs-dist/legacy/build/pdf.worker.mjs');
    return import('pdfjs-dist/legacy/build/pdf.mjs');
  })();
  return loading;
}
