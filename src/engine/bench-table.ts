/** The columns of a gathered table as a reader can tell them anew. */
import type { FileHeld } from './bench-ledger';
import type { BenchColumn, BenchTable } from './bench-types';

const SAMPLES = 3;

/** What is known of a table's columns, by the rows that were read of it; nothing of a file that is no table. */
export function tableSaid(file: FileHeld | undefined): BenchTable | undefined {
  if (!file?.columns) return undefined;
  const { columns: roles } = file;
  const rows = [...file.pieces, ...file.books].flatMap(({ cells }) => (cells ? [cells] : []));
  const samples = new Map<string, string[]>(Object.keys(roles).map((name) => [name, []]));
  for (const cells of rows) {
    for (const [name, cell] of Object.entries(cells)) {
      const held = samples.get(name) ?? [];
      samples.set(name, held);
      if (cell.trim() && held.length < SAMPLES) held.push(cell);
    }
  }
  const columns = [...samples].map(([name, held]): BenchColumn => {
    const role = Object.hasOwn(roles, name) ? roles[name] : undefined;
    return { name, ...(role ? { role } : {}), samples: held };
  });
  const named = columns.some(({ name }, at) => name !== `column ${at + 1}`);
  return { columns, named, first: Object.values(rows[0] ?? {}) };
}
