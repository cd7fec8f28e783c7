/** A gathered table read again with its columns told by the reader. */
import type { RecordsBeside } from '../keep/beside';
import { TABLES } from './bench-beside';
import { fileHeld } from './bench-files';
import { fileKey, itemKey } from './bench-ledger';
import { noting, picturesOf } from './bench-reading';
import { nameOf } from './bench-rows';
import type { Planned } from './bench-steps';
import type { ColumnRole } from './bench-types';
import type { BenchParts } from './bench-view';
import type { FileReader } from './file-reader';
import { gatherFiles } from './gathering';

/** The table as it would be; refused once something of it was accepted. */
export async function columnsTold(
  { core, items, ledger }: BenchParts,
  { records, reader }: { records: RecordsBeside; reader?: FileReader },
  file: number,
  told: Record<string, ColumnRole>,
): Promise<Planned> {
  const held = ledger.file(file);
  const bytes = held && (await records.get<Blob>(TABLES + held.told.path));
  if (!held || !bytes) {
    const message = 'The table is not here any more. Drop the file again to tell its columns.';
    return { ok: false, code: 'gone', message };
  }
  const of = items.all.filter((item) => item.file === file);
  if (of.some(({ id }) => ledger.item(id)?.as === 'accepted')) {
    const message = 'Some of this table is accepted. Put that back first, then tell its columns.';
    return { ok: false, code: 'accepted', message };
  }
  const columns = new Map<string, Record<string, ColumnRole>>();
  const { path } = held.told;
  const offered = { path, bytes: async () => new Uint8Array(await bytes.arrayBuffer()) };
  const how = noting(reader, columns, told);
  const result = await gatherFiles(core, [offered], undefined, undefined, how);
  const [read] = result.files;
  if (!read || read.status === 'unreadable') {
    return { ok: false, code: 'unread', message: read?.reason ?? 'The table could not be read.' };
  }
  await records.put(picturesOf(result)).catch(() => undefined);
  return {
    ok: true,
    does: `Read ${nameOf(path)} with other columns`,
    patch: [
      ...of.map(({ id }) => [itemKey(id), undefined] as const),
      [fileKey(file), fileHeld(result, read, columns.get(path))],
    ],
  };
}
