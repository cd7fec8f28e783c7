/** Files as they come from a drop, a choice or the clipboard, each by its path. */
import { filesPasted } from '../parts/pasted';
import type { FileHanded } from '../../engine/bench-types';

/** Of a folder of more files than this only the first are taken: most likely it is the wrong one. */
export const MOST_FILES = 20_000;

/** One for all: asking by language each time takes many times as long. */
const inOrder = new Intl.Collator('en', { numeric: true }).compare;

/** Chosen files; of a chosen folder with their folders. */
export function chosenFiles(files: Iterable<File> | null | undefined): FileHanded[] {
  return [...(files ?? [])]
    .map((file) => ({ path: file.webkitRelativePath || file.name, file }))
    .sort((a, b) => inOrder(a.path, b.path));
}

/**
 * Dropped files, folders with all that is in them. What the browser cannot open is left out and counted; `more` where there were more
 * files than are taken at once.
 */
export async function droppedFiles(
  data: DataTransfer,
): Promise<{ files: FileHanded[]; unopened: number; more: boolean }> {
  const files: FileHanded[] = [];
  let unopened = 0;
  let more = false;
  // The entries must be asked for at once: a drop is over when this function first waits.
  const entries = [...data.items]
    .filter(({ kind }) => kind === 'file')
    .map((item) => ({ entry: item.webkitGetAsEntry?.() ?? null, file: item.getAsFile() }));
  const add = async (entry: FileSystemEntry): Promise<void> => {
    if (more) return;
    try {
      if (entry.isFile) {
        more = files.length >= MOST_FILES;
        if (more) return;
        const file = await new Promise<File>((resolve, reject) =>
          (entry as FileSystemFileEntry).file(resolve, reject),
        );
        files.push({ path: entry.fullPath.replace(/^\/+/, ''), file });
      } else {
        const inside = await entriesIn(entry as FileSystemDirectoryEntry);
        for (const one of inside.sort((a, b) => inOrder(a.name, b.name))) await add(one);
      }
    } catch {
      unopened += 1;
    }
  };
  for (const { entry, file } of entries) {
    if (entry) await add(entry);
    else if (file) files.push({ path: file.name, file });
  }
  return { files, unopened, more };
}

/** A folder answers with some of what is in it at a time, until there is no more. */
async function entriesIn(folder: FileSystemDirectoryEntry): Promise<FileSystemEntry[]> {
  const reader = folder.createReader();
  const all: FileSystemEntry[] = [];
  for (;;) {
    const some = await new Promise<FileSystemEntry[]>((resolve, reject) =>
      reader.readEntries(resolve, reject),
    );
    if (some.length === 0) return all;
    all.push(...some);
  }
}

/** Text as a file, named by when it was pasted unless it is given a name. */
export function textFile(text: string, now: Date, name = ''): FileHanded {
  const two = (value: number): string => String(value).padStart(2, '0');
  const day = `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  const clock = `${two(now.getHours())}.${two(now.getMinutes())}`;
  const plain = name.replace(/[\\/]+/g, ' ').trim();
  const path = plain ? `${plain}.txt` : `Pasted ${day} at ${clock}.txt`;
  return { path, file: new Blob([text], { type: 'text/plain' }) };
}

/** What was pasted outside a field: files, or else words. */
export function pastedFiles(data: DataTransfer | null, now: Date): FileHanded[] {
  if (!data) return [];
  const files = filesPasted(data);
  if (files.length > 0) return chosenFiles(files);
  const text = data.getData('text/plain');
  return text.trim() ? [textFile(text, now)] : [];
}
