/** Choosing a folder that copies are written into by themselves. Only a window may ask the reader for one (File System Access, WICG). */
import type { House } from '../house.svelte';

interface Asks {
  requestPermission?(asked: { mode: 'readwrite' }): Promise<PermissionState>;
}
interface Picks {
  showDirectoryPicker?(how: {
    id: string;
    mode: 'readwrite';
    startIn: 'documents';
  }): Promise<FileSystemDirectoryHandle>;
}

/** Not every browser lets a page write into a folder. */
export const foldersOffered = (): boolean => 'showDirectoryPicker' in window;

/** Asks for a folder and copies into it from then on; nothing where the reader leaves the browser's question. */
export async function pickCopyFolder(house: House): Promise<void> {
  let folder: FileSystemDirectoryHandle | undefined;
  try {
    folder = await (window as Picks).showDirectoryPicker?.({
      id: 'bookweft-copies',
      mode: 'readwrite',
      startIn: 'documents',
    });
  } catch (error) {
    if ((error as Error).name !== 'AbortError')
      house.say(`That folder cannot be used: ${(error as Error).message}`);
  }
  if (folder) await house.tell(house.desk.useCopyFolder(folder));
}

/** Asks for leave to write into the folder that was picked before, and writes a copy. */
export async function allowCopyFolder(house: House): Promise<void> {
  const folder = (await house.desk.copyFolder()) as Asks | undefined;
  let leave: PermissionState = 'granted';
  try {
    leave = (await folder?.requestPermission?.({ mode: 'readwrite' })) ?? 'granted';
  } catch {
    // A press counts for some seconds only, and the worker may have been busy for longer.
    house.say('The browser did not ask. Press Allow it once more.');
    return;
  }
  if (leave === 'granted') await house.tell(house.desk.copyToFolder());
  else
    house.say(
      'No copy is written there until you allow it. Press Allow it again, and agree when the browser asks.',
    );
}

export async function leaveCopyFolder(house: House): Promise<void> {
  await house.tell(house.desk.useCopyFolder(undefined));
}
