import type { ReadWhole } from '../block';
import { BlockList, oneLine } from './tools/block-list';
import { HtmlBlocks } from './tools/html-blocks';
import { RtfToHtml } from './tools/rtf-to-html';
import { rtfTokens } from './tools/rtf-tokens';
import { Unreadable, type Watch } from './tools/watch';
import { windows1252 } from './tools/windows-1252';
import { walk } from './tools/xml';

const TOKENS_BETWEEN_RESTS = 2000;

/**
 * Reads Rich Text Format: paragraphs, headings by outline level or style name, lists, tables, italics, notes and pictures. Headers and
 * footers of the page, field codes and everything marked as safe to pass over are left out.
 */
export async function readRtf(bytes: Uint8Array, watch: Watch): Promise<ReadWhole> {
  const source = windows1252(bytes);
  // RTF is ASCII by rule. A few programs write other letters bare, and mean Windows-1252; one byte stays one letter either way.
  const rewriter = new RtfToHtml();
  let tokens = 0;
  for (const token of rtfTokens(source, watch)) {
    rewriter.take(token);
    tokens += 1;
    if (tokens % TOKENS_BETWEEN_RESTS === 0) await watch.rest();
  }
  const html = rewriter.done();
  const list = new BlockList();
  const page = new HtmlBlocks(list, { pictureAt: (address) => rewriter.pictures.get(address) });
  await walk(html, page, watch);
  page.finish();
  if (!rewriter.closed) {
    if (list.blocks.length === 0) {
      throw new Unreadable(
        'damaged',
        'This RTF file is cut short before its first words. If you have another copy, gather that one.',
      );
    }
    list.note('The file is cut short; what came before the cut was read.');
  }
  const whole: ReadWhole = { ok: true, blocks: list.blocks, notes: list.notes };
  const title = list.settleTitle() ?? oneLine(rewriter.title);
  if (title) whole.title = title;
  if (rewriter.written) whole.written = rewriter.written;
  return whole;
}
