import { rmSync } from 'node:fs';

/** Takes a browser's folder away. What of the browser is still ending may write in it for a while: then the system clears it with its other temporary files. */
export function clearFolder(folder: string): void {
  try {
    rmSync(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
  } catch (error) {
    if (!['ENOTEMPTY', 'EBUSY'].includes((error as NodeJS.ErrnoException).code ?? '')) throw error;
  }
}
