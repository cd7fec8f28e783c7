/** A copy of the journal as one file, and a copy looked into before it is taken. */
import type { Change, Edit } from '../journal/edits';
import { readJournalFile, writeJournalFile } from '../journal/file';
import { TABLES, type Journal, type Picture, type TableName } from '../journal/records';
import { same } from '../journal/same';
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import type { JournalStore } from '../keep/store';
import type { CopyLooked } from './desk';

const JOURNAL_NAME = 'journal.bookweft.json';
/** A zip that claims to unpack to more than this is refused before it is unpacked. */
const LARGEST_BYTES = 1024 * 1024 * 1024;

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
export async function copyOut(journal: Journal, store: JournalStore, day: string): Promise<Copy> {
  const text = writeJournalFile(journal);
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
      let total = 0;
      const files = unzipSync(data, {
        filter: (file) => {
          total += file.originalSize;
          if (total > LARGEST_BYTES) throw new Error('it would unpack to more than 1 GB');
          return file.name === JOURNAL_NAME || file.name.startsWith('pictures/');
        },
      });
      if (!files[JOURNAL_NAME]) return { ok: false, said: `${name} holds no Bookweft journal.` };
      text = strFromU8(files[JOURNAL_NAME]);
      for (const [path, picture] of Object.entries(files)) {
        const found = /^pictures\/([0-9a-f]{64})\.(jpg|png|webp)$/.exec(path);
        if (!found) continue;
        const type = found[2] === 'jpg' ? 'image/jpeg' : `image/${found[2]}`;
        pictures.push({ digest: found[1]!, bytes: picture, type });
      }
    } else text = new TextDecoder('utf-8', { fatal: true }).decode(data);
  } catch (error) {
    return { ok: false, said: `${name} could not be read: ${(error as Error).message}.` };
  }
  const read = readJournalFile(text);
  return read.ok
    ? { ok: true, found: { journal: read.journal, pictures } }
    : { ok: false, said: `${name}: ${read.message}` };
}

export function lookedSaid({ journal: there }: LookedInto, here: Journal): CopyLooked {
  const counts: Partial<Record<TableName, number>> = {};
  const compared = { onlyThere: 0, onlyHere: 0, differing: 0, same: 0 };
  for (const table of TABLES) {
    counts[table] = there.tables[table].size;
    for (const [id, row] of there.tables[table]) {
      const held = here.tables[table].get(id);
      if (!held) compared.onlyThere += 1;
      else if (same(held, row)) compared.same += 1;
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

const changedAt = (row: unknown): string => (row as { changed?: string }).changed ?? '';

/** The edit that takes a copy: `replace` makes the journal equal to it, `merge` adds what is only there and takes newer wordings. */
export function takeCopy(there: Journal, here: Journal, how: 'replace' | 'merge'): Edit {
  const changes: Change[] = [];
  for (const table of TABLES) {
    for (const [id, after] of there.tables[table]) {
      const before = here.tables[table].get(id);
      if (
        before &&
        (same(before, after) || (how === 'merge' && changedAt(after) <= changedAt(before)))
      )
        continue;
      changes.push({ table, id, ...(before ? { before } : {}), after } as Change);
    }
  }
  if (how === 'replace') {
    for (const table of [...TABLES].reverse()) {
      for (const [id, before] of here.tables[table]) {
        if (!there.tables[table].has(id)) changes.push({ table, id, before } as Change);
      }
    }
  }
  return {
    does: how === 'replace' ? `Put “${there.name}” in place` : `Merge “${there.name}”`,
    changes,
  };
}
