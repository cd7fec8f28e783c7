import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Change } from '../../../src/journal/edits';
import { readJournalFile } from '../../../src/journal/file';
import type { Journal } from '../../../src/journal/records';
import { MemoryStore } from '../../../src/keep/memory-store';
import { strandsNow } from '../../../src/engine/strands-held';
import { Engine } from '../../../src/engine/engine';
import { deskOver, opened } from './desk-setup';

function demo(): Journal {
  const read = readJournalFile(readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8'));
  if (!read.ok) throw new Error(read.message);
  return read.journal;
}

async function storeOf({ id, name, made, tables }: Journal): Promise<MemoryStore> {
  const store = new MemoryStore();
  const changes = (['headings', 'entries'] as const).flatMap((table) =>
    [...tables[table].values()].map((after) => ({ table, id: after.id, after }) as Change),
  );
  await store.keep(changes, { id, name, made } as never);
  return store;
}

describe('what is woven while the journal is still read', () => {
  it('waits for all of it: strands, cloth and map are those of the whole journal', async () => {
    const store = await storeOf(demo());
    // The rest of the journal comes only after the asking.
    let go: () => void = () => {};
    const rest = new Promise<void>((resolve) => (go = resolve));
    const { desk: early } = deskOver(store, {
      breathe: async () => {
        if (early.engine.journal.tables.entries.size > 0) await rest;
      },
    });
    const { loading } = await early.open();
    expect(loading).toBeGreaterThan(100);
    await import('../../../src/engine/weave-desk-over');
    const asked = Promise.all([
      early.weave.cloth({}),
      early.weave.journalMap(),
      early.weave.gaps(),
    ]);
    setTimeout(go, 300);
    const [cloth, map, gaps] = await asked;
    const { desk: late } = await opened(store);
    expect(cloth).toEqual(await late.weave.cloth({}));
    expect(map.headings).toEqual((await late.weave.journalMap()).headings);
    expect(gaps).toEqual(await late.weave.gaps());
  });
});

describe('how many strands there are', () => {
  const over = (journal: Journal): Engine =>
    new Engine(journal, { now: () => new Date('2026-03-01T10:00:00.000Z'), newId: () => 'new' });

  it('is chosen anew when the journal has outgrown the sitting it was chosen in, unless the reader chose it', () => {
    const { tables, ...rest } = demo();
    const entries = new Map([...tables.entries].slice(0, 60));
    const small = strandsNow(over({ ...rest, tables: { ...tables, entries } } as Journal)).kept;
    expect(small.sized).toBe(60);
    const afresh = strandsNow(over(demo()));
    const few = { ...small, resolution: 0.1 };
    expect(strandsNow(over(demo()), few).resolution).toBe(afresh.resolution);
    expect(strandsNow(over(demo()), { ...few, sized: 400 }).resolution).toBe(0.1);
    const chosen = strandsNow(over(demo()), { ...few, chosen: true });
    expect([chosen.resolution, chosen.kept.chosen]).toEqual([0.1, true]);
  });
});
