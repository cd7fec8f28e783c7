import { zipSync } from 'fflate';
import mammoth from 'mammoth';
import type { ReadWhole } from '../block';
import { BlockList, oneLine } from './tools/block-list';
import { dateOfMetadata } from './tools/dates-found';
import { HtmlBlocks } from './tools/html-blocks';
import type { Zip } from './tools/unzip';
import { attempt, type Watch } from './tools/watch';
import { walk } from './tools/xml';

/** Styles of Word and LibreOffice beyond those mammoth knows by itself. */
const STYLES = [
  "p[style-name='Title'] => h1.file-title:fresh",
  "p[style-name='Subtitle'] => p:fresh",
  "p[style-name='Quote'] => blockquote > p:fresh",
  "p[style-name='Intense Quote'] => blockquote > p:fresh",
  "p[style-name='Quotations'] => blockquote > p:fresh",
  "p[style-name='Block Text'] => blockquote > p:fresh",
  "p[style-name='caption'] => p:fresh",
  'comment-reference => sup',
];
/** What mammoth needs of a document; everything else (fonts, settings, thumbnails) stays packed. */
const NEEDED =
  /^(?:\[Content_Types\]\.xml|_rels\/.*|word\/(?:_rels\/.*|[^/]+\.xml|media\/.*)|docProps\/core\.xml)$/i;
/** Of one part, unpacked: mammoth holds the whole of it as objects many times its size. */
const MOST_PART_BYTES = 20 * 1024 * 1024;
const DAMAGED =
  'This Word document is damaged, or is none at all. Open it in a word processor, save it again as .docx, and gather that.';

/**
 * Reads a Word document (Office Open XML) through mammoth: headings, lists, tables, quotations by their styles, footnotes and margin
 * comments after the text. Each part is unpacked under a limit before mammoth sees it.
 */
export async function readDocx(zip: Zip, watch: Watch): Promise<ReadWhole> {
  const members: Record<string, Uint8Array> = {};
  for (const name of zip.names.filter((each) => NEEDED.test(each))) {
    members[name] = await zip.read(name, MOST_PART_BYTES);
  }
  const repacked = zipSync(members, { level: 0 });
  const { html, faulty } = await attempt(() => toHtml(repacked), DAMAGED);
  await watch.rest();
  const list = new BlockList();
  const page = new HtmlBlocks(list);
  await walk(html, page, watch);
  page.finish();
  if (faulty) {
    list.note(
      'Something this document shows lies outside it, a picture perhaps, and was left out.',
    );
  }
  const own = await metadata(members['docProps/core.xml'], watch);
  const whole: ReadWhole = { ok: true, blocks: list.blocks, notes: list.notes };
  const title = list.settleTitle() ?? own.title;
  if (title) whole.title = title;
  if (own.written) whole.written = own.written;
  return whole;
}

async function toHtml(bytes: Uint8Array): Promise<{ html: string; faulty: boolean }> {
  const buffer = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength);
  // The build for browsers takes `arrayBuffer`, the one for Node `buffer`; both hand it to the same zip library.
  const input = { arrayBuffer: buffer, buffer } as unknown as { arrayBuffer: ArrayBuffer };
  const { value, messages } = await mammoth.convertToHtml(input, {
    styleMap: STYLES,
    includeEmbeddedStyleMap: false,
    externalFileAccess: false,
  } as Parameters<typeof mammoth.convertToHtml>[1]);
  const html = value.replace(/<dt id="comment-\d+">[^<]*<\/dt>/g, '<dt>Margin comment</dt>');
  return { html, faulty: messages.some(({ type }) => type === 'error') };
}

async function metadata(
  xml: Uint8Array | undefined,
  watch: Watch,
): Promise<{ title?: string; written?: string }> {
  if (!xml) return {};
  const found = new Map<string, string>();
  let open = '';
  const marked = {
    open: (name: string) => void (open = name),
    text: (text: string) => void (open && found.set(open, (found.get(open) ?? '') + text)),
    close: () => void (open = ''),
  };
  await walk(new TextDecoder().decode(xml), marked, watch, { xml: true });
  const title = oneLine(found.get('dc:title') ?? '');
  const written = dateOfMetadata(found.get('dcterms:created'));
  return { ...(title ? { title } : {}), ...(written ? { written } : {}) };
}
