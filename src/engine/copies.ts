/** A copy of the journal as one file, and a copy looked into before it is taken. */
import { readJournalFile, writeJournalFile } from '../journal/file';
import {
  TABLES,
  type EntryId,
  type Journal,
  type Picture,
  type TableName,
} from '../journal/records';
import { saysSame } from '../journal/same';
import { strToU8, zipSync, type Zippable } from 'fflate';
import { Zip } from '../gather/readers/tools/unzip';
import { Unreadable, Watch } from '../gather/readers/tools/watch';
import { fingerprint } from '../language/fingerprint';
import type { JournalStore } from '../keep/store';
import type { CopyLooked } from './desk';
import { withLineage, withoutLineage, type Lineage } from './lineage';

const JOURNAL_NAME = 'journal.bookweft.json';
const PICTURE_NAME = /^pictures\/([0-9a-f]{64})\.(jpg|png|webp)$/;
/** A zip that claims to unpack to more than this is refused before it is unpacked. */
const LARGEST_BYTES = 1024 * 1024 * 1024;
/** So is one that would grow more than any journal does: text of a reader shrinks to a quarter, pictures hardly. */
const MOST_GROWTH = 100;
const SMALL_BYTES = 32 * 1024 * 1024;
/** As many as a zip can tell of. */
const MOST_MEMBERS = 0xffff;

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
  const files: Zippable = {};
  for (const { digest, type } of picturesOf(journal)) {
    const picture = await store.picture(digest);
    if (picture) files[`pictures/${digest}.${extension(type)}`] = [picture.bytes, { level: 0 }];
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
  /** Digests of pictures in it whose bytes are damaged. */
  damaged: string[];
}

type Looked = { ok: true; found: LookedInto } | { ok: false; said: string };

/** Reads a copy without taking it. Bad input gives one sentence. */
export async function lookInto(name: string, bytes: ArrayBuffer): Promise<Looked> {
  const data = new Uint8Array(bytes);
  const zipped = data[0] === 0x50 && data[1] === 0x4b;
  let text: string;
  let unpacked: Unpacked | undefined;
  try {
    if (zipped) {
      unpacked = await unpack(data);
      if (!unpacked.journal) return { ok: false, said: `${name} holds no Bookweft journal.` };
      text = utf8(unpacked.journal);
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
  const { pictures = [], damaged = [] } = unpacked ?? {};
  const found = {
    ...withoutLineage(read.journal),
    pictures: pictures.filter(({ digest }) => named.has(digest)),
    damaged: damaged.filter((digest) => named.has(digest)),
    print: fingerprint(text),
  };
  return { ok: true, found };
}

/** @throws TypeError where it is not UTF-8 */
const utf8 = (bytes: Uint8Array): string => new TextDecoder('utf-8', { fatal: true }).decode(bytes);

type Unpacked = Pick<LookedInto, 'pictures' | 'damaged'> & { journal?: Uint8Array };

/**
 * Every member is held against its sum. A damaged picture costs itself alone.
 * @throws Error with the end of a sentence where it is no zip, the journal in it is damaged, or it would fill the memory
 */
async function unpack(data: Uint8Array): Promise<Unpacked> {
  const most = Math.min(LARGEST_BYTES, Math.max(SMALL_BYTES, data.length * MOST_GROWTH));
  const out: Unpacked = { pictures: [], damaged: [] };
  try {
    const zip = Zip.open(data, new Watch({ limitMs: Infinity }), { left: most }, MOST_MEMBERS);
    const ours = zip.names.filter((name) => name === JOURNAL_NAME || PICTURE_NAME.test(name));
    // Nothing is unpacked of one that says it is too large, nor more than a member says there is.
    if (ours.reduce((total, name) => total + zip.says(name), 0) > most) throw new Error(TOO_LARGE);
    for (const name of ours) {
      const reading = zip.read(name, zip.says(name));
      const [, digest, ending] = PICTURE_NAME.exec(name) ?? [];
      if (!digest) {
        out.journal = await reading;
        continue;
      }
      const bytes = await reading.catch(unlessDamaged);
      const type = ending === 'jpg' ? 'image/jpeg' : `image/${ending}`;
      if (bytes) out.pictures.push({ digest, bytes, type });
      else out.damaged.push(digest);
    }
    return out;
  } catch (error) {
    const why = error instanceof Unreadable ? WHY[error.code] : undefined;
    throw why ? new Error(why, { cause: error }) : error;
  }
}

const TOO_LARGE = 'it would unpack to far more than a journal holds';
const DAMAGED = 'it is damaged; open an earlier copy';
/** Why a zip is refused, by the code of what unpacks it, as the end of a sentence. */
const WHY: Partial<Record<Unreadable['code'], string>> = {
  damaged: DAMAGED,
  // More came out of it than it says there is.
  'too-large': DAMAGED,
  locked: 'it is locked with a password; unlock it first',
};

function unlessDamaged(error: unknown): undefined {
  if (!(error instanceof Unreadable) || WHY[error.code] !== DAMAGED) throw error;
}

/** `removed` are the entries that were removed here and stay so. */
export function lookedSaid(
  { journal: there }: LookedInto,
  here: Journal,
  removed: ReadonlySet<EntryId>,
): CopyLooked {
  const counts: Partial<Record<TableName, number>> = {};
  const compared = { onlyThere: 0, onlyHere: 0, differing: 0, same: 0 };
  for (const table of TABLES) {
    counts[table] = there.tables[table].size;
    for (const [id, row] of there.tables[table]) {
      const held = here.tables[table].get(id);
      if (!held) compared.onlyThere += 1;
      else if (saysSame(held, row)) compared.same += 1;
      else compared.differing += 1;
    }
    for (const id of here.tables[table].keys())
      if (!there.tables[table].has(id)) compared.onlyHere += 1;
  }
  const removedHere = removed.size > 0 ? { removedHere: removed.size } : {};
  const empty = here.tables.entries.size === 0;
  return {
    ok: true,
    said: there.name,
    name: there.name,
    made: there.made,
    counts,
    ...(empty ? {} : { compared: { ...compared, ...removedHere } }),
  };
}
