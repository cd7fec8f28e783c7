import { afterEach, describe, expect, it, vi } from 'vitest';
import { MemoryBeside } from '../../../src/keep/beside';
import { MemoryStore } from '../../../src/keep/memory-store';
import { LatentSpace } from '../../../src/language/latent-space';
import type { DeskOver } from '../../../src/engine/desk-over';
import { HeldJournal } from '../../../src/engine/held-journal';
import { Readied } from '../../../src/engine/readied';
import type { EntryId } from '../../../src/journal/records';
import { manyEntries } from '../../bench/many-entries';
import { must, opened, type Setup } from './desk-setup';

const KEYS = ['readied/find', 'readied/weave'];
const learnt = vi.spyOn(LatentSpace, 'learn');
afterEach(() => void learnt.mockClear());

async function storeOf(entries: number): Promise<MemoryStore> {
  const { tables, id, name, made } = manyEntries(entries);
  const store = new MemoryStore();
  const changes = Object.entries(tables).flatMap(([table, rows]) =>
    [...rows.values()].map((after) => ({ table, id: after.id, after })),
  );
  await store.keep(changes as never, { id, name, made, sinceCopy: 0, entries });
  return store;
}

/** Opens and waits until what is made ready has been settled: the meaning is known, and all that is to be stored is. */
async function settled(
  store: MemoryStore,
  beside: MemoryBeside,
  edition: string,
  stores: boolean,
): Promise<Setup> {
  const put = vi.spyOn(beside, 'put');
  const setup = await opened(store, { beside, edition });
  await vi.waitFor(
    () => {
      expect(setup.desk.engine.weaveIndex.meaning).toBeDefined();
      if (stores) expect(put.mock.settledResults.length).toBeGreaterThanOrEqual(KEYS.length);
    },
    { timeout: 20_000 },
  );
  // What would be stored wrongly would be so by now.
  await new Promise((resolve) => setTimeout(resolve, 50));
  put.mockRestore();
  return setup;
}

const asked = async (desk: DeskOver): Promise<unknown> => [
  await desk.find({ text: 'kahinato', limit: 20 }),
  await desk.near({ text: 'bimabusa kegedage kahinato ludo', limit: 10 }),
];

describe('what is made ready of a journal', () => {
  it('is gone on with at the next opening, by the same program only, with the same answers', async () => {
    const [store, beside] = [await storeOf(600), new MemoryBeside()];
    const first = await settled(store, beside, 'a', true);
    expect(await beside.keys('readied/')).toEqual(KEYS);
    expect(learnt).toHaveBeenCalledTimes(1);
    const second = await settled(store, beside, 'a', false);
    expect(learnt).toHaveBeenCalledTimes(1);
    expect(await asked(second.desk)).toEqual(await asked(first.desk));
    await settled(store, beside, 'b', true);
    expect(learnt).toHaveBeenCalledTimes(2);
  }, 60_000);

  it('is stored anew once much has changed, and not for a little', async () => {
    const [store, beside] = [await storeOf(600), new MemoryBeside()];
    const { desk } = await settled(store, beside, 'a', true);
    const stored = async (): Promise<number[]> => {
      const { packed } = (await beside.get<{ packed: Blob }>(KEYS[0]!))!;
      return [...new Uint8Array(await packed.arrayBuffer())];
    };
    const before = await stored();
    const ids = [...desk.engine.journal.tables.entries.keys()] as EntryId[];
    await must(desk.removeEntries(ids.slice(0, 10)));
    await settled(store, beside, 'a', false);
    expect(await stored()).toEqual(before);
    await must(desk.removeEntries(ids.slice(10, 90)));
    await settled(store, beside, 'a', true);
    expect(await stored()).not.toEqual(before);
  }, 60_000);

  it('is not read for another journal, and nothing is stored of a small one', async () => {
    const beside = new MemoryBeside();
    await settled(await storeOf(600), beside, 'a', true);
    const stored = await beside.get<{ journal: string }>(KEYS[0]!);
    await beside.put([[KEYS[0]!, { ...stored, journal: 'another' }]]);
    await beside.put([[KEYS[1]!, undefined]]);
    const { desk } = await settled(await storeOf(400), beside, 'a', false);
    expect((await desk.find({ text: '', limit: 1 })).total).toBe(400);
    expect(await beside.keys('readied/')).toEqual([KEYS[0]]);
  }, 60_000);

  it('is not learnt anew by a rest that comes while it is being gone on with', async () => {
    const [store, beside] = [await storeOf(600), new MemoryBeside()];
    const { desk } = await settled(store, beside, 'a', true);
    const breathe = (): Promise<void> => Promise.resolve();
    const again = new HeldJournal(desk.engine.journal, desk.engine.around);
    // By this journal alone: those of other tests may still be at rest and learn.
    const learns = vi.spyOn(again.weaveIndex, 'learnMeaning');
    const readied = new Readied(again, beside, 'a', { breathe, quiet: breathe });
    await readied.allRead();
    const settling = readied.settle();
    await readied.rest();
    await settling;
    expect(learns).not.toHaveBeenCalled();
    expect(again.weaveIndex.meaning).toBeDefined();
  }, 60_000);
});
