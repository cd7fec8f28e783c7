import exifr from 'exifr';
import type { ReadWhole } from '../block';
import { readDate } from '../../language/dates';
import { BlockList } from './tools/block-list';
import { MOST_PICTURE_BYTES, megabytes } from './tools/limits';
import { cleanPicture, pictureType } from './tools/picture-bytes';
import { Unreadable } from './tools/watch';

const UNSHOWN: Readonly<Record<string, string>> = {
  'image/heic': 'HEIC',
  'image/avif': 'AVIF',
  'image/tiff': 'TIFF',
};

/**
 * Keeps a picture with a caption to be filled in and the day it was taken, where its Exif says so. Where it was taken, who with and by whom is
 * taken out of the bytes that are kept.
 */
export async function readPicture(bytes: Uint8Array): Promise<ReadWhole> {
  const type = pictureType(bytes) ?? '';
  if (UNSHOWN[type]) {
    throw new Unreadable(
      'unknown-format',
      `Pictures of the kind ${UNSHOWN[type]} cannot be shown everywhere and are not kept. Save it as JPEG or PNG and gather that.`,
    );
  }
  if (bytes.length > MOST_PICTURE_BYTES) {
    throw new Unreadable(
      'too-large',
      `This picture is larger than ${megabytes(MOST_PICTURE_BYTES)}. Save it smaller and gather that.`,
    );
  }
  const clean = cleanPicture(bytes);
  if (!clean) {
    throw new Unreadable(
      'damaged',
      'This picture is damaged and cannot be shown. If you have another copy, gather that one.',
    );
  }
  const list = new BlockList();
  const { whole: isWhole, ...picture } = clean;
  const block = list.picture({ ...picture, alt: '' }, { note: 'the picture' });
  const whole: ReadWhole = { ok: true, blocks: list.blocks, notes: list.notes };
  const taken = await dayTaken(bytes);
  if (taken) {
    whole.written = taken;
    block.written = taken;
  }
  if (!isWhole) list.note('The picture seems to be cut short; the lower part may be missing.');
  return whole;
}

/** The day of Exif DateTimeOriginal, as the clock of the camera had it. */
async function dayTaken(bytes: Uint8Array): Promise<string | undefined> {
  try {
    const found = (await exifr.parse(bytes, {
      pick: ['DateTimeOriginal', 'CreateDate'],
      reviveValues: false,
    })) as Record<string, unknown> | undefined;
    for (const value of [found?.['DateTimeOriginal'], found?.['CreateDate']]) {
      const parts = typeof value === 'string' ? /^(\d{4}):(\d\d):(\d\d)/.exec(value) : undefined;
      const day = parts ? `${parts[1]}-${parts[2]}-${parts[3]}` : '';
      if (day > '1826' && readDate(day).ok) return day;
    }
  } catch {
    // A camera's own notes may be damaged while the picture is sound.
  }
  return undefined;
}
