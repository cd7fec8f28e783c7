/** How files are read for gathering; the readers themselves are loaded when there is something to read. */
import type { ColumnRole, FileRead, FileToRead } from '../gather/block';

/** How a file is read; a zip answers with every file in it. */
export type FileReader = (
  file: FileToRead,
  signal?: AbortSignal,
  options?: { columns?: Readonly<Record<string, ColumnRole>> },
) => AsyncIterable<FileRead>;

/** The readers of the house. */
export const readFile: FileReader = async function* (file, signal, options) {
  const read = (await import('../gather/read-file')).readFile;
  yield* read(file, signal, options);
};
