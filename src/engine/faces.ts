import { FACES, type FontData } from '../publish/faces';

/** The faces a printing is set in, with their bytes from `read` (base64 of a package file); what cannot be read is left out. */
export async function printFaces(
  read: (path: string) => Promise<string | undefined>,
): Promise<FontData[]> {
  const found = await Promise.all(
    FACES.map(async ({ face, weight, style, path }) => {
      const base64 = await read(path);
      return base64 ? [{ face, weight, style, base64 }] : [];
    }),
  );
  return found.flat();
}
