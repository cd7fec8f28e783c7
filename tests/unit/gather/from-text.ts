import type { FileGathered, GatheringMade } from '../../../src/gather/gathering';
import { gatherAtOnce } from '../../../src/gather/gathering';
import { acceptEdit, type Accepted } from '../../../src/gather/accept';
import { readFile } from '../../../src/gather/read-file';
import type { GatherPiece } from '../../../src/gather/piece';
import { apply } from '../../../src/journal/edits';
import type { GatheringId, Journal } from '../../../src/journal/records';
import { ids, NOW } from './build';

/** Files as texts by path, read by the reader of their format. */
export async function filesOf(texts: Readonly<Record<string, string>>): Promise<FileGathered[]> {
  const files: FileGathered[] = [];
  for (const [path, text] of Object.entries(texts)) {
    const bytes = new TextEncoder().encode(text);
    const digest = Buffer.from(`${path} ${text}`).toString('hex');
    const own = [...digest].reduce((sum, letter) => (sum * 33 + letter.charCodeAt(0)) % 1e15, 7);
    for await (const { path: inside, result } of readFile({ path, bytes }))
      files.push({
        path: inside,
        digest: `${own}`.padStart(64, '0').split('').reverse().join(''),
        result,
      });
  }
  return files;
}

export async function gathered(
  journal: Journal,
  texts: Readonly<Record<string, string>>,
): Promise<GatheringMade> {
  return gatherAtOnce(journal, await filesOf(texts));
}

const newId = ids('own');
const newGathering = ids('gathering');

/** Keeps what was gathered, all of it unless told otherwise. */
export function keep(
  journal: Journal,
  made: GatheringMade,
  pieces: readonly GatherPiece[] = made.pieces,
): Accepted {
  const accepted = acceptEdit(journal, pieces, {
    newId,
    now: NOW,
    gathering: {
      id: newGathering() as GatheringId,
      on: NOW,
      files: made.files.map(({ path, digest, status }) => ({ path, digest, status })),
    },
    books: made.books,
    meetings: made.meetings,
  });
  const applied = apply(journal, accepted.edit);
  if (!applied.ok) throw new Error(applied.message);
  return accepted;
}
