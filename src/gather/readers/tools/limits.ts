/** Bytes of one file of text, as it lies or unpacked. */
export const MOST_TEXT_BYTES = 50 * 1024 * 1024;
/** Bytes of one document, archive or picture as it lies. */
export const MOST_FILE_BYTES = 200 * 1024 * 1024;
/** Cells of one table. */
export const MOST_CELLS = 100_000;
/** Blocks of one file. */
export const MOST_BLOCKS = 200_000;
/** Bytes of all that is unpacked out of one zip, zips within it counted in. */
export const MOST_UNPACKED_BYTES = 300 * 1024 * 1024;
export const MOST_ZIP_MEMBERS = 10_000;
/** Zips inside a zip. */
export const DEEPEST_ZIP = 3;
/** Elements open at once in HTML or XML. Browsers flatten at 512; old pages that never close a font tag reach some thousands. */
export const DEEPEST_ELEMENT = 5_000;
/** Bytes of one picture that is kept. */
export const MOST_PICTURE_BYTES = 30 * 1024 * 1024;

export function megabytes(bytes: number): string {
  return `${Math.round(bytes / 1024 / 1024)} MB`;
}
