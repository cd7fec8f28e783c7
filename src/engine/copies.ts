/** A copy of the journal as one file, and a copy looked into before it is taken. */
import { readJournalFile, writeJournalFile } from '../journal/file';
import { TABLES, type Journal, type Picture, type TableName } from '../journal/records';
import { strToU8, unzipSync, zipSync } from 'fflate';
import { fingerprint } from '../language/fingerprint';
import type { JournalStore } from '../keep/store';
import type { CopyLooked } from './desk';
import { withLineage, withoutLineage, type Lineage } from './lineage';
import { sameBut } from './merging';

const JOURNAL_NAME = 'journal.bookweft.json';
const PICTURE_NAME = /^pictures\/([0-9a-f]{64})\.(jpg|png|webp)$/;
/** A zip that claims to unpack to more than this is refused before it is unpacked. */
const LARGEST_BYTES = 1024 * 1024 * 1024;
/** So is one that would grow more than any journal does: text of a reader shrinks to a quarter, pictures hardly. */
const MOST_GROWTH = 100;
const SMALL_BYTES = 32 * 1024 * 1024;

export interface Copy {
  name: string;
  type: string;
  bytes: ArrayBuffer;
}

const extension = (type: string): string =>
  type === 'image/png' ? 'png' : type === 'image/webp' ? 'webp' : 'jpg';

function picturesOf(journal: Journal): Picture[] {
  const found = new Map<string, Picture>();
  for (const { picture } of journal.tables.entries.values())
    if (picture) found.set(picture.digest, picture);
  for (const heading of journal.tables.headings.values()) {
    if (heading.kind === 'book' && heading.picture)
      found.set(heading.picture.digest, heading.picture);
  }
  return [...found.values()];
}

const safeName = (name: string): string =>
  name
    .normalize('NFKD')
    .replace(/[^\p{L}\p{N} -]/gu, '')
    .trim()
    .replace(/\s+/g, '-')
    .toLowerCase() || 'journal';

/** The journal as a file; a zip with the pictures beside it where there are any. `day` is an ISO day for the name. */
export async function copyOut(
  journal: Journal,
  lineage: Lineage,
  store: JournalStore,
  day: string,
): Promise<Copy> {
  const text = writeJournalFile(withLineage(journal, lineage));
  const name = `${safeName(journal.name)}-${day}`;
  const files: Record<string, Uint8Array> = {};
  for (const { digest, type } of picturesOf(journal)) {
    const picture = await store.picture(digest);
    if (picture) files[`pictures/${digest}.${extension(type)}`] = picture.bytes;
  }
  if (Object.keys(files).length === 0) {
    return {
      name: `${name}.bookweft.json`,
      type: 'application/json',
      bytes: toBuffer(strToU8(text)),
    };
  }
  const zipped = zipSync({ [JOURNAL_NAME]: strToU8(text), ...files }, { level: 6 });
  return { name: `${name}.bookweft.zip`, type: 'application/zip', bytes: toBuffer(zipped) };
}

const toBuffer = (bytes: Uint8Array): ArrayBuffer =>
  bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer;

export interface LookedInto {
  journal: Journal;
  lineage: Lineage | undefined;
  /** Fingerprint of the file's text. */
  print: string;
  pictures: { digest: string; bytes: Uint8Array; type: string }[];
}

type Looked = { ok: true; found: LookedInto } | { ok: false; said: string };

/** Reads a copy without taking it. Bad input gives one sentence. */
export function lookInto(name: string, bytes: ArrayBuffer): Looked {
  const data = new Uint8Array(bytes);
  const zipped = data[0] === 0x50 && data[1] === 0x4b;
  let text: string;
  const pictures: LookedInto['pictures'] = [];
  try {
    if (zipped) {
      const files = unpack(data);
      if (!files[JOURNAL_NAME]) return { ok: false, said: `${name} holds no Bookweft journal.` };
      text = utf8(files[JOURNAL_NAME]);
      pictures.push(...picturesIn(files));
    } else text = utf8(data);
  } catch (error) {
    const said =
      error instanceof TypeError
        ? `${name} is not a Bookweft journal: it is not text.`
        : `${name} could not be read: ${(error as Error).message}.`;
    return { ok: false, said };
  }
  const read = readJournalFile(text);
  if (!read.ok) return { ok: false, said: `${name}: ${read.message}` };
  const named = new Set(picturesOf(read.journal).map(({ digest }) => digest));
  const wanted = pictures.filter(({ digest }) => named.has(digest));
  const found = { ...withoutLineage(read.journal), pictures: wanted, print: fingerprint(text) };
  return { ok: true, found };
}

/** @throws TypeError where it is not UTF-8 */
const utf8 = (bytes: Uint8Array): string => new TextDecoder('utf-8', { fatal: true }).decode(bytes);

/** @throws Error with the end of a sentence where it is no zip, or one that would fill the memory */
function unpack(data: Uint8Array): Record<string, Uint8Array> {
  let total = 0;
  const most = Math.min(LARGEST_BYTES, Math.max(SMALL_BYTES, data.length * MOST_GROWTH));
  return unzipSync(data, {
    filter: ({ name, originalSize }) => {
      if (name !== JOURNAL_NAME && !PICTURE_NAME.test(name)) return false;
      total += originalSize;
      if (total > most) throw new Error('it would unpack to far more than a journal holds');
      return true;
    },
  });
}

function picturesIn(files: Record<string, Uint8Array>): LookedInto['pictures'] {
  return Object.entries(files).flatMap(([path, bytes]) => {
    const found = PICTURE_NAME.exec(path);
    if (!found) return [];
    const type = found[2] === 'jpg' ? 'image/jpeg' : `image/${found[2]}`;
    return [{ digest: found[1]!, bytes, type }];
  });
}

export function lookedSaid({ journal: there }: LookedInto, here: Journal): CopyLooked {
  const counts: Partial<Record<TableName, number>> = {};
  const compared = { onlyThere: 0, onlyHere: 0, differing: 0, same: 0 };
  for (const table of TABLES) {
    counts[table] = there.tables[table].size;
    for (const [id, row] of there.tables[table]) {
      const held = here.tables[table].get(id);
      if (!held) compared.onlyThere += 1;
      else if (sameBut(table, held, row)) compared.same += 1;
      else compared.differing += 1;
    }
    for (const id of here.tables[table].keys())
      if (!there.tables[table].has(id)) compared.onlyHere += 1;
  }
  const empty = here.tables.entries.size === 0;
  return {
    ok: true,
    said: there.name,
    name: there.name,
    made: there.made,
    counts,
    ...(empty ? {} : { compared }),
  };
}
