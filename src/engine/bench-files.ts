/** The files of a gathering as they are held: what was read of each, what the gathering is called after them, what lies beside them. */
import type { ColumnRole } from '../gather/block';
import type { BesideChange, RecordsBeside } from '../keep/beside';
import { PICTURES, TABLES } from './bench-beside';
import { fileKey, HEAD, type BenchLedger, type FileHeld, type Patch } from './bench-ledger';
import { nameOf, stemOf } from './bench-rows';
import type { BenchFile, FileHanded } from './bench-types';
import type { GatherResult } from './gathering';

export function fileHeld(
  result: GatherResult,
  told: FileHeld['told'],
  columns: Record<string, ColumnRole> | undefined,
): FileHeld {
  const own = ({ source }: { source: { path: string } }): boolean => source.path === told.path;
  return {
    told,
    pieces: result.pieces.filter(own),
    books: result.books.filter(own),
    meetings: result.meetings.filter(own),
    ...(columns ? { columns } : {}),
  };
}

/** Puts files that were read onto the bench, after those that are there; the first ones begin a gathering. */
export function filesAdded(
  ledger: BenchLedger,
  result: GatherResult,
  columns: ReadonlyMap<string, Record<string, ColumnRole>>,
): Patch {
  const from = (ledger.files().at(-1)?.[0] ?? -1) + 1;
  const patch: BesideChange[] = result.files.map((told, at) => [
    fileKey(from + at),
    fileHeld(result, told, columns.get(told.path)),
  ]);
  if (!ledger.head) {
    const { id, on } = result.gathering;
    const name = nameFor(result.files.map(({ path }) => path));
    patch.push([HEAD, { id, on, ...(name ? { name } : {}) }]);
  }
  return patch;
}

/** The folder they all lie in, or the one file there is. */
function nameFor(paths: readonly string[]): string | undefined {
  const [first] = paths;
  if (first === undefined) return undefined;
  const folder = first.includes('/') ? first.slice(0, first.indexOf('/') + 1) : '';
  if (folder && paths.every((path) => path.startsWith(folder))) return folder.slice(0, -1);
  return paths.length === 1 ? stemOf(first) : undefined;
}

/** Lets go of pictures and tables of gatherings that were put away. */
export async function sweep(records: RecordsBeside, ledger: BenchLedger): Promise<void> {
  const wanted = new Set<string>();
  for (const [, { pieces, told }] of ledger.files()) {
    wanted.add(TABLES + told.path);
    for (const { picture } of pieces) if (picture) wanted.add(PICTURES + picture.digest);
  }
  const held = await Promise.all([TABLES, PICTURES].map((begins) => records.keys(begins))).catch(
    () => [],
  );
  const gone = held.flat().filter((key) => !wanted.has(key));
  if (gone.length > 0)
    await records.put(gone.map((key) => [key, undefined])).catch(() => undefined);
}

/** Files that wait to be read, with keys of their own; the first `read` of them wait only to be sorted. */
export const filesWaiting = (waiting: readonly FileHanded[], read: number): BenchFile[] =>
  waiting.map(({ path }, at) => ({
    key: -1 - at,
    path,
    name: nameOf(path),
    status: 'waiting',
    settled: 0,
    total: 0,
    ...(at < read ? { unsorted: true } : {}),
  }));

/** Tells the files of a gathering only where they have changed since a screen was told them: there may be thousands. */
export class FilesTold {
  #at = 0;
  #last = '';

  told(files: BenchFile[], known: number | undefined): { files?: BenchFile[]; filesAt: number } {
    const now = JSON.stringify(files);
    if (now !== this.#last) {
      this.#last = now;
      this.#at += 1;
    }
    return this.#at === known ? { filesAt: this.#at } : { files, filesAt: this.#at };
  }
}
