/**
 * What lies beside the journal with a gathering: tables, so that their columns can be told anew, pictures that wait with their piece, and
 * what it made in the journal.
 */
import type { RecordsBeside } from '../keep/beside';

export const TABLES = 'bench-table/';
export const PICTURES = 'bench-picture/';
export const madeKey = (gathering: string, id: string): string => `made/${gathering}/${id}`;

export interface PictureHeld {
  bytes: Uint8Array;
  type: string;
}

/** A picture that waits with its piece. */
export function benchPicture(
  records: RecordsBeside,
  digest: string,
): Promise<PictureHeld | undefined> {
  return records.get<PictureHeld>(PICTURES + digest).catch(() => undefined);
}
