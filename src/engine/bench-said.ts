/** What gathering files came to, in words. */
import { counted } from '../journal/labels';
import type { BenchItem } from './bench-items';
import type { FileHeld } from './bench-ledger';
import type { BenchStanding } from './bench-standing';

export interface Came {
  /** Files handed over, and how many of them were left alone because they are hidden. */
  handed: number;
  alone: number;
  /** Files that came onto the bench, and what was found in them. */
  files: readonly FileHeld[];
  items: readonly BenchItem[];
}

export function gatheredSaid(standing: BenchStanding, came: Came): string {
  const shut = came.files.filter(({ told }) => told.status === 'unreadable').length;
  return `${foundSaid(standing, came)}${sayShut(shut)}${sayAlone(came.alone)}`;
}

/** What was found, of that what the journal has already. */
function foundSaid(standing: BenchStanding, { handed, alone, files, items }: Came): string {
  const seen = items.filter((item) => standing.statusOf(item) === 'seen').length;
  const left = items.length - seen;
  if (items.length === 0 && files.length === 0) {
    return alone > 0 && alone === handed
      ? 'Nothing to read in what was brought'
      : 'Nothing new: what was brought is on the bench already';
  }
  if (items.length === 0) return 'Nothing to sort in what was brought';
  if (seen === 0) return `${counted(left, 'piece')} to look at`;
  if (left > 0) return `${counted(left, 'piece')} to look at; ${seen} seen before`;
  return `Nothing new: ${seen === 1 ? 'the piece was' : `all ${seen} pieces were`} seen before`;
}

const sayShut = (files: number): string =>
  files > 0 ? `; ${counted(files, 'file')} could not be read` : '';

const sayAlone = (files: number): string =>
  files > 0 ? `; ${files} hidden ${files === 1 ? 'file' : 'files'} left alone` : '';
