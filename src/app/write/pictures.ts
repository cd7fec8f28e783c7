import type { Desk } from '../../engine/desk';
import type { Picture } from '../../journal/records';

/** Longest side a kept picture has, in pixels: enough to print at half a page. */
const LONGEST = 2000;
const AS_JPEG = 'Save it as JPEG or PNG and bring that.';

/**
 * Takes a picture file into the store. It is drawn anew, smaller when it is large, so that nothing but the picture
 * is kept: no place, no camera data.
 */
export async function takePicture(
  desk: Desk,
  file: File,
): Promise<{ ok: true; picture: Picture } | { ok: false; said: string }> {
  const drawn = await createImageBitmap(file).catch(() => undefined);
  if (!drawn)
    return { ok: false, said: `${file.name} is not a picture this browser can read. ${AS_JPEG}` };
  const shrink = Math.min(1, LONGEST / Math.max(drawn.width, drawn.height));
  const width = Math.max(1, Math.round(drawn.width * shrink));
  const height = Math.max(1, Math.round(drawn.height * shrink));
  const canvas = new OffscreenCanvas(width, height);
  canvas.getContext('2d')!.drawImage(drawn, 0, 0, width, height);
  drawn.close();
  const type = file.type === 'image/png' ? 'image/png' : 'image/jpeg';
  const blob = await canvas.convertToBlob({ type, quality: 0.88 });
  const kept = await keepPicture(desk, await blob.arrayBuffer(), type);
  if (!kept.ok) return kept;
  return { ok: true, picture: { digest: kept.digest, type, alt: '', width, height } };
}

/** Keeps a picture's bytes; a full disk or a closed store is told in a sentence, and nothing else is lost. */
export async function keepPicture(
  desk: Desk,
  bytes: ArrayBuffer,
  type: string,
): Promise<{ ok: true; digest: string } | { ok: false; said: string }> {
  try {
    return { ok: true, digest: await desk.keepPicture(bytes, type) };
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return { ok: false, said: `The picture could not be kept: ${why}` };
  }
}
