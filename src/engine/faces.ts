import { FACES, MORE_FACES, type FontData } from '../publish/faces';

/**
 * The faces a printing is set in, with their bytes from `read` (base64 of a package file); what cannot
 * be read is left out. `usual` has the letters of English and its neighbours, `more` those beyond.
 */
export async function printFaces(
  read: (path: string) => Promise<string | undefined>,
  which: 'usual' | 'more' = 'usual',
): Promise<FontData[]> {
  const found = await Promise.all(
    (which === 'usual' ? FACES : MORE_FACES).map(async ({ path, ...face }) => {
      const base64 = await read(path);
      return base64 ? [{ ...face, base64 }] : [];
    }),
  );
  return found.flat();
}
