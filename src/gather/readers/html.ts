import type { ReadWhole } from '../block';
import { BlockList, oneLine } from './tools/block-list';
import { dateOfMetadata } from './tools/dates-found';
import { HtmlBlocks, type PictureAt } from './tools/html-blocks';
import type { Watch } from './tools/watch';
import { walk } from './tools/xml';

const DATES = [
  'dcterms.created',
  'dc.date.created',
  'article:published_time',
  'datepublished',
  'datecreated',
  'created',
  'dcterms.date',
  'dc.date',
  'date',
];

/**
 * Reads one HTML page, whole or a fragment. Nothing in it is run and no address is followed; scripts, styles, forms, menus and hidden
 * parts are left out, and only plain words and the bytes of pictures that are in the page come through.
 */
export async function readHtml(
  text: string,
  watch: Watch,
  pictureAt?: PictureAt,
): Promise<ReadWhole> {
  const list = new BlockList();
  const page = new HtmlBlocks(list, { pictureAt });
  await walk(text, page, watch);
  page.finish();
  const own = list.settleTitle();
  const title = own ?? oneLine(page.title);
  const whole: ReadWhole = { ok: true, blocks: list.blocks, notes: list.notes };
  if (title !== '') whole.title = title;
  const written = DATES.map((name) => dateOfMetadata(page.meta.get(name))).find(Boolean);
  if (written) whole.written = written;
  return whole;
}
