import type { FileToRead, Unread } from '../block';
import { decode } from './tools/decode';
import type { PictureAt } from './tools/html-blocks';
import { MOST_PICTURE_BYTES, MOST_TEXT_BYTES } from './tools/limits';
import { extensionOf, folderOf, resolvePath } from './tools/paths';

import type { Zip } from './tools/unzip';
import { Unreadable } from './tools/watch';

export type Member = { file: FileToRead; pictureAt?: PictureAt } | { path: string; unread: Unread };

/** What systems put beside files: it was written by nobody. */
const SYSTEM = /(?:^|\/)(?:__MACOSX\/|\._|\.DS_Store$|Thumbs\.db$|desktop\.ini$|\.git\/)/i;
const PAGE = new Set(['htm', 'html', 'xhtml', 'md', 'markdown']);
const MOST_PICTURES = 500;

/**
 * The files of a zip one at a time: first the pages, each with the pictures it names from the same zip, then everything else but the pictures that
 * stand in pages already. Paths begin with `path`, that of the zip.
 */
export async function* membersOf(zip: Zip, path: string): AsyncGenerator<Member, void, undefined> {
  const names = zip.names.filter((name) => !SYSTEM.test(name));
  const isPage = (name: string): boolean => PAGE.has(extensionOf(name));
  const shown = new Set<string>();
  for (const name of [...names.filter(isPage), ...names.filter((each) => !isPage(each))]) {
    if (shown.has(name)) continue;
    const whole = `${path}/${name}`;
    try {
      const bytes = await zip.read(name);
      const member: Member = { file: { path: whole, bytes } };
      if (isPage(name)) member.pictureAt = await picturesOf(zip, name, bytes, shown);
      yield member;
    } catch (error) {
      if (!(error instanceof Unreadable)) throw error;
      yield { path: whole, unread: { ok: false, code: error.code, message: error.message } };
      if (error.code === 'stopped') return;
    }
  }
}

/** The pictures a page names that are in the zip, by the address the page uses. */
async function picturesOf(
  zip: Zip,
  name: string,
  bytes: Uint8Array,
  shown: Set<string>,
): Promise<PictureAt> {
  const pictures = new Map<string, Uint8Array>();
  if (bytes.length > MOST_TEXT_BYTES) return () => undefined;
  const { text } = decode(bytes);
  const named =
    /<img\b[^>]{0,2000}?\ssrc\s*=\s*["']([^"']{1,1000})|!\[[^\]\n]{0,500}\]\(<?([^)>\s]{1,1000})/gi;
  for (const match of text.matchAll(named)) {
    const address = (match[1] ?? match[2] ?? '').replace(/&amp;/g, '&');
    const at = resolvePath(folderOf(name), address);
    if (!at || !zip.has(at) || pictures.has(address) || pictures.size >= MOST_PICTURES) continue;
    try {
      pictures.set(address, await zip.read(at, MOST_PICTURE_BYTES));
      shown.add(at);
    } catch (error) {
      // It is told under its own name when its turn comes.
      if (error instanceof Unreadable && error.code === 'stopped') throw error;
    }
  }
  return (address) => pictures.get(address);
}
