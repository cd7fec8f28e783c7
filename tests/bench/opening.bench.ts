/**
 * Opening 20,000 entries out of their documents: `npx vitest bench --run tests/bench/opening.bench.ts`. Over memory, so that what is
 * measured is decoding documents to rows, and over an IndexedDB in memory. Ids are either this device's own (a document for
 * some 500 entries of a month) or of another make, which spread over all 16 documents of each month.
 */
import 'fake-indexeddb/auto';
import { bench, describe } from 'vitest';
import type { Change } from '../../src/journal/edits';
import type { EntryId, Journal } from '../../src/journal/records';
import { BrowserBytes } from '../../src/keep/browser-bytes';
import { MemoryBytes, type ByteStore } from '../../src/keep/byte-store';
import { DocumentStore } from '../../src/keep/document-store';
import { rolledId } from '../../src/keep/shards';
import { manyEntries } from './many-entries';

const ENTRIES = 20_000;
const many = manyEntries(ENTRIES);

/** All rows as one edit; entries with the number of their document, so that the month decides. */
function rowsOf({ tables }: Journal, own: boolean): Change[] {
  return Object.entries(tables).flatMap(([table, rows]) =>
    [...rows.values()].map((row) => {
      const id = own && table === 'entries' ? (rolledId(row.id, 0) as EntryId) : row.id;
      return { table, id, after: { ...row, id } } as Change;
    }),
  );
}

async function kept(bytes: ByteStore, own: boolean): Promise<ByteStore> {
  await new DocumentStore(bytes).keep(rowsOf(many, own), {
    id: many.id,
    name: many.name,
    made: many.made,
    sinceCopy: 0,
  });
  return bytes;
}

async function sizeOf(bytes: ByteStore): Promise<string> {
  let size = 0;
  const shards = await bytes.shards();
  for (const shard of shards) {
    const { snap, log } = await bytes.read(shard);
    size += (snap?.length ?? 0) + log.reduce((sum, { update }) => sum + update.length, 0);
  }
  return `${shards.length} documents, ${(size / 1e6).toFixed(1)} MB`;
}

/** Reads everything; answers the time to the first entries. */
async function open(bytes: ByteStore): Promise<void> {
  let count = 0;
  await new DocumentStore(bytes).load(({ rows }) => {
    count += rows.length;
  });
  if (count < ENTRIES) throw new Error(`only ${count} rows`);
}

const own = await kept(new MemoryBytes(), true);
const other = await kept(new MemoryBytes(), false);
const browser = await kept(await BrowserBytes.open('bench'), true);

const [ownSize, otherSize] = [await sizeOf(own), await sizeOf(other)];

describe(`opening ${ENTRIES} entries`, () => {
  const times = { time: 0, iterations: 5, warmupIterations: 1 };
  bench(`ids of this device (${ownSize})`, () => open(own), times);
  bench(`ids of another make (${otherSize})`, () => open(other), times);
  bench('ids of this device, IndexedDB in memory', () => open(browser), times);
  bench(
    'the first entries',
    async () => {
      const first = new Error('first');
      await new DocumentStore(own)
        .load(({ table }) => {
          if (table === 'entries') throw first;
        })
        .catch((error: unknown) => {
          if (error !== first) throw error;
        });
    },
    times,
  );
});

describe('an edit of one entry', () => {
  const store = new DocumentStore(own);
  const [row] = [...many.tables.entries.values()].slice(-1);
  const id = rolledId(row!.id, 0) as EntryId;
  let before = { ...row!, id };
  let turn = 0;
  bench('kept in its open document', async () => {
    const after = { ...before, text: `${row!.text} ${(turn += 1)}` };
    await store.keep([{ table: 'entries', id, before, after }]);
    before = after;
  });
});
