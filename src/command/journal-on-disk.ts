/**
 * Reads and writes a journal file on disk. A save writes a temporary file beside the old one, syncs it
 * and renames it over, so that after a power cut or a kill the old or the new file is whole.
 */
import { randomBytes } from 'node:crypto';
import { open, readFile, realpath, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { readJournalFile, writeJournalFile } from '../journal/file';
import type { Journal } from '../journal/records';
import type { Problem } from '../journal/rules';
import { Refusal } from './refusal';

/** Larger files are refused before they are read: a lifetime of 200,000 entries is about 120 MB. */
const LARGEST_BYTES = 512 * 1024 * 1024;

/** What each file was like when it was looked at: by its place on the disk, its size and its time; nothing where there was none. */
const seen = new Map<string, string>();

const stampOf = (path: string): Promise<string> =>
  stat(path).then(
    ({ ino, size, mtimeMs }) => `${ino} ${size} ${mtimeMs}`,
    () => '',
  );

export async function journalIsThere(path: string): Promise<boolean> {
  const stamp = await stampOf(path);
  seen.set(path, stamp);
  return stamp !== '';
}

interface JournalLoaded {
  journal: Journal;
  problems: Problem[];
  /** The file as it stands. */
  text: string;
  /** The earlier version the file is of; none where it is of the present one. */
  migrated?: number;
}

export async function loadJournal(path: string): Promise<JournalLoaded> {
  const size = await stat(path).then(
    (found) => (found.isFile() ? found.size : -1),
    () => undefined,
  );
  if (size === undefined) throw new Refusal('no-journal', `There is no journal file at ${path}.`);
  if (size < 0)
    throw new Refusal('no-journal', `${path} is a folder; name the journal file in it.`);
  if (size > LARGEST_BYTES) {
    throw new Refusal('journal-too-large', `${path} is larger than any journal (${size} bytes).`);
  }
  seen.set(path, await stampOf(path));
  const bytes = await readFile(path).catch(() => {
    throw new Refusal('no-journal', `${path} may not be read by this user.`);
  });
  const text = textOf(path, bytes);
  const read = readJournalFile(text);
  if (!read.ok) throw new Refusal(read.code, `${path}: ${read.message}`);
  const { journal, problems, migrated } = read;
  return { journal, problems, text, ...(migrated === undefined ? {} : { migrated }) };
}

function textOf(path: string, bytes: Uint8Array): string {
  // The first bytes of a zip, which the app saves where there are pictures.
  if (bytes[0] === 0x50 && bytes[1] === 0x4b)
    throw new Refusal(
      'not-json',
      `${path} is a copy with pictures: unpack it, and name the journal file in it.`,
    );
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new Refusal(
      'not-text',
      `${path} is not whole UTF-8 text: it was damaged, or saved in another encoding.`,
    );
  }
}

/**
 * Writes the text whole or not at all, and returns when the disk has it; through a link it is the file linked to that is written, and
 * who may read it stays as it was. Errors become a {@link Refusal}.
 */
export async function saveWhole(
  path: string,
  content: string | Uint8Array,
  /** Asked once all is written and just before it takes the place of the old. */
  still: () => Promise<void> = async () => undefined,
): Promise<void> {
  const real = await realpath(path).catch(() => path);
  const folder = dirname(real);
  const temporary = join(folder, `.${basename(real)}.${randomBytes(6).toString('hex')}.tmp`);
  const mode = await stat(real).then(
    (held) => held.mode & 0o777,
    () => undefined,
  );
  try {
    const file = await open(temporary, 'wx', mode);
    try {
      if (mode !== undefined) await file.chmod(mode);
      await file.writeFile(content);
      await file.sync();
    } finally {
      await file.close();
    }
    await still();
    await rename(temporary, real);
    const directory = await open(folder, 'r').catch(() => undefined);
    await directory?.sync().catch(() => undefined);
    await directory?.close();
  } catch (error) {
    await rm(temporary, { force: true });
    if (error instanceof Refusal) throw error;
    const { code, message } = error as NodeJS.ErrnoException;
    const why =
      code === 'ENOENT'
        ? `there is no folder ${folder}`
        : code === 'EACCES' || code === 'EPERM' || code === 'EROFS'
          ? `nothing may be written in ${folder}`
          : message;
    throw new Refusal('cannot-save', `${path} could not be written: ${why}.`);
  }
}

/** Saves a journal over the one that was loaded from the file; refuses where another command has written that meanwhile. */
export async function saveJournal(path: string, journal: Journal): Promise<void> {
  const was = seen.get(path);
  await saveWhole(path, writeJournalFile(journal), async () => {
    if (was !== undefined && was !== (await stampOf(path)))
      throw new Refusal(
        'changed',
        `${path} was changed while this worked, and is left as it is by now. Run it again.`,
      );
  });
  seen.set(path, await stampOf(path));
}
