/**
 * Reads and writes a journal file on disk. A save writes a temporary file beside the old one, syncs it
 * and renames it over, so that after a power cut or a kill the old or the new file is whole.
 */
import { randomBytes } from 'node:crypto';
import { open, readFile, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { readJournalFile, writeJournalFile } from '../journal/file';
import type { Journal } from '../journal/records';
import type { Problem } from '../journal/rules';
import { Refusal } from './refusal';

/** Larger files are refused before they are read: a lifetime of 200,000 entries is about 120 MB. */
const LARGEST_BYTES = 512 * 1024 * 1024;

export const journalIsThere = (path: string): Promise<boolean> =>
  stat(path).then(
    () => true,
    () => false,
  );

export async function loadJournal(
  path: string,
): Promise<{ journal: Journal; problems: Problem[] }> {
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
  const read = readJournalFile(await readFile(path, 'utf8'));
  if (!read.ok) throw new Refusal(read.code, `${path}: ${read.message}`);
  return { journal: read.journal, problems: read.problems };
}

/** Writes the text whole or not at all, and returns when the disk has it. Errors become a {@link Refusal}. */
export async function saveWhole(path: string, content: string | Uint8Array): Promise<void> {
  const folder = dirname(path);
  const temporary = join(folder, `.${basename(path)}.${randomBytes(6).toString('hex')}.tmp`);
  try {
    const file = await open(temporary, 'wx');
    try {
      await file.writeFile(content);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(temporary, path);
    const directory = await open(folder, 'r').catch(() => undefined);
    await directory?.sync().catch(() => undefined);
    await directory?.close();
  } catch (error) {
    await rm(temporary, { force: true });
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

export const saveJournal = (path: string, journal: Journal): Promise<void> =>
  saveWhole(path, writeJournalFile(journal));
