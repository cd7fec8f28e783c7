import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { openStore, watchOtherWindows } from '../../../src/engine/browser-store';
import type { EntryDraft, KeepState } from '../../../src/engine/desk';
import type { DeskOver } from '../../../src/engine/desk-over';
import { MISFITS } from '../../../src/engine/opening';
import type { Change } from '../../../src/journal/edits';
import type {
  Entry,
  EntryId,
  Guide,
  HeadingId,
  Journal,
  ThemeHeading,
} from '../../../src/journal/records';
import { BrowserBytes } from '../../../src/keep/browser-bytes';
import { MemoryBytes, type Update } from '../../../src/keep/byte-store';
import { DocumentStore } from '../../../src/keep/document-store';
import { MemoryStore } from '../../../src/keep/memory-store';
import { shardOf } from '../../../src/keep/shards';
import { NotKept, type JournalMeta, type JournalStore } from '../../../src/keep/store';
import { entry, journalOf, tieTo } from '../journal/few';
import { META, readAll, Session } from '../keep/session';
import { deskOver, must, NOON, opened, rows } from './desk-setup';

const id = (text: string): EntryId => text as EntryId;
const draft = (text: string, more: Partial<EntryDraft> = {}): EntryDraft => ({
  kind: 'note',
  text,
  ties: [],
  ...more,
});
const stored = async (bytes: MemoryBytes): Promise<Journal> =>
  (await readAll(new DocumentStore(bytes))).journal;

/** A disk that can be full, or slow. */
class Disk extends MemoryBytes {
  full = false;
  slow: Promise<void> | undefined;
  appends = 0;

  override async append(updates: readonly Update[], meta?: JournalMeta): Promise<void> {
    await this.slow;
    if (this.full) throw new NotKept('disk-full', 'the disk is full.');
    this.appends += 1;
    return super.append(updates, meta);
  }
}

describe('the desk and its store', () => {
  it('keep every change before the answer comes, and each in one transaction', async () => {
    const bytes = new Disk();
    const { desk } = await opened(new DocumentStore(bytes));
    const { id: made } = await must(desk.saveEntry(draft('Dark.')));
    expect((await stored(bytes)).tables.entries.get(id(made!))!.text).toBe('Dark.');
    expect(bytes.appends).toBe(1);
    const { id: heading } = await must(desk.makeHeading('theme', 'Courage'));
    await must(desk.tie([id(made!)], tieTo(heading!)));
    expect(bytes.appends).toBe(3);
    expect(rows(await stored(bytes))).toBe(rows(desk.engine.journal));
  });

  it('bring undo and redo to the store, across kinds of rows and after much else', async () => {
    const bytes = new MemoryBytes();
    const { desk } = await opened(new DocumentStore(bytes));
    const states: string[] = [];
    const note = async (): Promise<void> => void states.push(rows(await stored(bytes)));
    const { id: a } = await must(desk.saveEntry(draft('One.')));
    await note();
    const { id: courage } = await must(desk.makeHeading('theme', 'Courage'));
    const { id: bravery } = await must(desk.makeHeading('theme', 'Bravery'));
    await must(desk.tie([id(a!)], tieTo(bravery!)));
    await note();
    await must(desk.mergeHeadings(courage as HeadingId, bravery as HeadingId));
    await note();
    await must(desk.saveCircle({ name: 'Thursday circle' }));
    await must(desk.removeEntries([id(a!)]));
    await note();
    for (const back of [2, 1, 3]) {
      states.pop();
      for (let n = 0; n < back; n++) await must(desk.undo());
      expect(rows(await stored(bytes))).toBe(states.at(-1));
    }
    for (let n = 0; n < 6; n++) await must(desk.redo());
    expect(rows(await stored(bytes))).toBe(rows(desk.engine.journal));
    expect((await stored(bytes)).tables.entries.size).toBe(0);
    expect((await desk.undoList())[0]).toBe('Remove a note');
  });

  it('say what was done, and that there is nothing to take back or do again', async () => {
    const { desk } = await opened(new MemoryStore());
    expect(await desk.undo()).toEqual({
      ok: false,
      said: 'There is nothing to take back.',
      code: 'nothing-to-undo',
    });
    expect(await desk.redo()).toEqual({
      ok: false,
      said: 'There is nothing to do again.',
      code: 'nothing-to-redo',
    });
    expect((await desk.saveEntry(draft('One.'))).said).toBe('Write a note');
    expect((await desk.undo()).said).toBe('Write a note');
    expect((await desk.redo()).said).toBe('Write a note');
  });

  it('store edits in the order they were made, also the first of a journal that was not begun', async () => {
    const bytes = new MemoryBytes();
    const { desk } = await opened(new DocumentStore(bytes));
    const saves = [desk.saveEntry(draft('One.', { id: id('a'), minutes: 5 }))];
    for (const text of ['Two.', 'Three.'])
      saves.push(desk.saveEntry(draft(text, { id: id('a'), minutes: 5 })));
    for (const done of await Promise.all(saves)) expect(done.ok).toBe(true);
    const { tables } = await stored(bytes);
    expect(tables.entries.get(id('a'))).toMatchObject({ text: 'Three.', minutes: 5, kind: 'note' });
  });

  it('rename a heading and keep its old name as an alternate', async () => {
    const { desk } = await opened(new MemoryStore());
    const { id: made } = await must(desk.makeHeading('theme', 'Courage'));
    const heading = (): ThemeHeading =>
      desk.engine.journal.tables.headings.get(made as HeadingId) as ThemeHeading;
    expect((await desk.renameHeading(made as HeadingId, 'Bravery ')).said).toBe(
      'Rename Courage to Bravery',
    );
    expect(heading()).toMatchObject({ name: 'Bravery', alternates: ['Courage'] });
    await must(desk.renameHeading(made as HeadingId, 'Courage'));
    expect(heading()).toMatchObject({ name: 'Courage', alternates: ['Bravery'] });
    await must(desk.renameHeading(made as HeadingId, 'Courage'));
    expect(heading().alternates).toEqual(['Bravery']);
    expect((await desk.renameHeading(made as HeadingId, '  ')).code).toBe('no-name');
    expect((await desk.headings('brav'))[0]).toMatchObject({ id: made, by: 'Bravery' });
  });

  it('let go of an undo that can no longer be done, so that those before it can', async () => {
    const { desk } = await opened(new MemoryStore());
    const { id: a } = await must(desk.saveEntry(draft('One.')));
    await must(desk.saveEntry(draft('Two.', { id: id(a!) })));
    // Another window removes it.
    desk.takeRows([{ table: 'entries', id: a!, row: undefined }]);
    const done = await desk.undo();
    expect(done.ok).toBe(false);
    expect(done.said).toMatch(/^“Change a note” cannot be taken back: .+\.$/);
    expect((await desk.undoList()).length).toBe(1);
  });

  it('take back no entry that another window has written on since, and say so once', async () => {
    for (const more of [{ text: 'One. Theirs.' }, { answer: 'Theirs.' }]) {
      const { desk } = await opened(new MemoryStore());
      const { id: a } = await must(desk.saveEntry(draft('One.')));
      const held = desk.engine.journal.tables.entries.get(id(a!))!;
      await must(desk.saveEntry(draft('Another.')));
      await must(desk.undo());
      desk.takeRows([{ table: 'entries', id: a!, row: { ...held, ...more } }]);
      const done = await desk.undo();
      expect(done).toMatchObject({ ok: false, code: 'gone' });
      expect(done.said).toMatch(/^“Write a note” cannot be taken back: .+ meanwhile\.$/);
      expect(desk.engine.journal.tables.entries.get(id(a!))).toMatchObject(more);
      expect((await desk.undo()).code).toBe('nothing-to-undo');
      // What was taken back before can still be done again.
      expect((await desk.redo()).said).toBe('Write a note');
    }
  });

  it('take back an entry that another window has only tied', async () => {
    const { desk } = await opened(new MemoryStore());
    const { id: t } = await must(desk.makeHeading('theme', 'Courage'));
    const { id: a } = await must(desk.saveEntry(draft('One.')));
    const held = desk.engine.journal.tables.entries.get(id(a!))!;
    const row = { ...held, ties: [tieTo(t!)], changed: '2027-01-01T00:00:00.000Z' };
    desk.takeRows([{ table: 'entries', id: a!, row }]);
    await must(desk.undo());
    expect(desk.engine.journal.tables.entries.size).toBe(0);
  });

  it('bring back a removed entry no older than another window has made it again', async () => {
    const { desk } = await opened(new MemoryStore());
    const { id: a } = await must(desk.saveEntry(draft('One.')));
    const held = desk.engine.journal.tables.entries.get(id(a!))!;
    await must(desk.removeEntries([id(a!)]));
    desk.takeRows([{ table: 'entries', id: a!, row: { ...held, text: 'One. Theirs.' } }]);
    await must(desk.undo());
    expect(desk.engine.journal.tables.entries.get(id(a!))!.text).toBe('One. Theirs.');
  });

  it('put a copy in place for good once another window has written on what it brought', async () => {
    const { desk } = await opened(new MemoryStore());
    await must(desk.begin('empty', 'Mine'));
    const copy = new TextEncoder().encode(rows(journalOf(entry('a')))).buffer;
    expect((await desk.lookInto('copy', copy)).ok).toBe(true);
    await must(desk.takeCopy('replace'));
    const row = entry('a', { text: 'Text of a, theirs' });
    desk.takeRows([{ table: 'entries', id: 'a', row: { ...row } }]);
    expect(await desk.undo()).toMatchObject({ ok: false, code: 'gone' });
    expect(desk.engine.journal.tables.entries.get(id('a'))).toEqual(row);
    expect(desk.engine.journal.name).toBe('Few');
  });

  it('take back the removal of an entry whose tie leads nowhere', async () => {
    const store = new MemoryStore();
    await Session.begin(store, journalOf(entry('a', { ties: [tieTo('nobody')] })));
    const { desk } = await opened(store);
    await must(desk.removeEntries([id('a')]));
    await must(desk.undo());
    expect(desk.engine.journal.tables.entries.get(id('a'))).toBeDefined();
    await must(desk.redo());
    expect((await readAll(store)).journal.tables.entries.size).toBe(0);
  });
});

describe('new ids', () => {
  it('roll over into another document at 500, and use the room that undo makes', async () => {
    const { desk, clock } = await opened(new MemoryStore());
    const write = async (): Promise<string> => {
      clock.now += 1;
      return shardOf('entries', (await must(desk.saveEntry(draft('x')))).id!);
    };
    const shards: string[] = [];
    for (let n = 0; n < 502; n++) shards.push(await write());
    expect(new Set(shards.slice(0, 500))).toEqual(new Set(['entries-2026-11-00']));
    expect(shards.slice(500)).toEqual(['entries-2026-11-01', 'entries-2026-11-01']);
    for (let n = 0; n < 4; n++) await must(desk.undo());
    expect([await write(), await write(), await write()]).toEqual([
      'entries-2026-11-00',
      'entries-2026-11-00',
      'entries-2026-11-01',
    ]);
  });

  it('are counted from the journal that was opened, rise, and are never the same', async () => {
    const store = new MemoryStore();
    const first = await opened(store);
    for (let n = 0; n < 500; n++) await must(first.desk.saveEntry(draft('x')));
    const { desk, clock } = await opened(store);
    const ids: string[] = [];
    for (let n = 0; n < 40; n++) {
      if (n % 8 === 0) clock.now += 1;
      ids.push((await must(desk.saveEntry(draft('x')))).id!);
    }
    expect(ids.map((one) => shardOf('entries', one))).toEqual(ids.map(() => 'entries-2026-11-01'));
    expect([...ids].sort()).toEqual(ids);
    expect(desk.engine.journal.tables.entries.size).toBe(540);
  });

  it('of many entries made before any is written are spread as well', async () => {
    const { desk } = await opened(new MemoryStore());
    const counts = new Map<string, number>();
    for (let n = 0; n < 2100; n++) {
      const shard = shardOf('entries', desk.engine.around.newId());
      counts.set(shard, (counts.get(shard) ?? 0) + 1);
    }
    expect([...counts.values()]).toEqual([500, 500, 500, 500, 100]);
  });
});

describe('the state of keeping', () => {
  beforeEach(() => void vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] }));
  afterEach(() => void vi.useRealTimers());
  const states = (told: KeepState[]): string[] =>
    told.map(({ state }) => state).filter((state, at, all) => state !== all[at - 1]);

  it('is kept only when the disk has it', async () => {
    const bytes = new Disk();
    const { desk, told, clock } = await opened(new DocumentStore(bytes));
    expect(await desk.keepState()).toMatchObject({
      state: 'kept',
      at: new Date(NOON).toISOString(),
      aside: [],
    });
    let go: () => void = () => {};
    bytes.slow = new Promise((resolve) => (go = resolve));
    told.keeping.length = 0;
    clock.now += 60_000;
    const saving = desk.saveEntry(draft('One.'));
    await new Promise((resolve) => setImmediate(resolve));
    expect((await desk.keepState()).state).toBe('keeping');
    expect((await desk.keepState()).at).toBe(new Date(NOON).toISOString());
    go();
    await must(saving);
    expect(states(told.keeping)).toEqual(['keeping', 'kept']);
    expect(await desk.keepState()).toMatchObject({
      at: new Date(clock.now).toISOString(),
      sinceCopy: 1,
    });
  });

  it('is not kept, with the reason, while the disk is full; it is tried again, and nothing is lost', async () => {
    const bytes = new Disk();
    const { desk, clock } = await opened(new DocumentStore(bytes));
    await must(desk.saveEntry(draft('Zero.')));
    bytes.full = true;
    clock.now += 60_000;
    const done = await desk.saveEntry(draft('One.'));
    expect(done).toMatchObject({ ok: true, said: 'Write a note; not kept yet' });
    await desk.saveEntry(draft('Two.', { id: id(done.id!) }));
    expect(await desk.keepState()).toMatchObject({
      state: 'not-kept',
      why: 'the disk is full.',
      at: new Date(NOON).toISOString(),
    });
    expect((await stored(bytes)).tables.entries.size).toBe(1);
    await vi.advanceTimersByTimeAsync(6000);
    expect((await desk.keepState()).state).toBe('not-kept');
    bytes.full = false;
    await vi.advanceTimersByTimeAsync(6000);
    expect(await desk.keepState()).toMatchObject({
      state: 'kept',
      at: new Date(clock.now).toISOString(),
    });
    expect((await desk.keepState()).why).toBeUndefined();
    expect(rows(await stored(bytes))).toBe(rows(desk.engine.journal));
  });

  it('stays not kept when the journal is read to its end after an edit was held', async () => {
    const bytes = new Disk();
    await Session.begin(new DocumentStore(bytes), journalOf(entry('a')));
    bytes.full = true;
    let go: () => void = () => {};
    const slow = new Promise<void>((resolve) => (go = resolve));
    const { desk } = deskOver(new DocumentStore(bytes), { breathe: () => slow });
    await desk.open();
    const saving = desk.saveEntry(draft('One.'));
    go();
    await saving;
    await desk.whenLoaded();
    expect((await desk.keepState()).state).toBe('not-kept');
  });

  it('tells that nothing is stored where the browser stores nothing', async () => {
    const why =
      'Nothing is stored in this window: the browser does not let this page store anything.';
    const { desk, told } = deskOver(new MemoryStore(), {}, why);
    await desk.open();
    await desk.whenLoaded();
    await must(desk.saveEntry(draft('One.')));
    expect(await desk.keepState()).toMatchObject({ state: 'memory-only', why });
    expect(states(told.keeping)).not.toContain('kept');
  });

  it('counts edits since the last copy, also over the next opening', async () => {
    const bytes = new MemoryBytes();
    const { desk, clock } = await opened(new DocumentStore(bytes));
    for (const text of ['One.', 'Two.']) await must(desk.saveEntry(draft(text)));
    await desk.copyOut();
    expect(await desk.keepState()).toMatchObject({
      sinceCopy: 0,
      copyAt: new Date(clock.now).toISOString(),
    });
    await must(desk.saveEntry(draft('Three.')));
    const again = await opened(new DocumentStore(bytes));
    expect(await again.desk.keepState()).toMatchObject({
      sinceCopy: 1,
      copyAt: new Date(clock.now).toISOString(),
    });
  });

  it('rewrites what has grown when nothing is to do', async () => {
    const bytes = new MemoryBytes();
    const { desk } = await opened(new DocumentStore(bytes));
    const { id: made } = await must(desk.saveEntry(draft('One.')));
    for (let n = 0; n < 70; n++) await must(desk.saveEntry(draft(`One ${n}.`, { id: id(made!) })));
    const [shard] = await bytes.grown(64);
    await vi.advanceTimersByTimeAsync(5000);
    await new Promise((resolve) => setImmediate(resolve));
    expect(await bytes.grown(64)).toEqual([]);
    expect((await bytes.read(shard!)).snap).toBeDefined();
    expect(rows(await stored(bytes))).toBe(rows(desk.engine.journal));
  });
});

describe('opening', () => {
  /** Ids never go back in time, so the oldest month comes first. */
  const month = (at: number): number => Date.UTC(2026, 11 + at, 15);
  /** 3 months of 400 entries each. */
  async function threeMonths(): Promise<MemoryBytes> {
    const bytes = new MemoryBytes();
    const { desk, clock } = await opened(new DocumentStore(bytes));
    const { id: courage } = await must(desk.makeHeading('theme', 'Courage'));
    const changes: Change[] = [];
    for (let n = 0; n < 1200; n++) {
      clock.now = month(Math.floor(n / 400)) + n;
      const one = desk.engine.around.newId();
      const row: Entry = entry(one, { text: `Entry ${n}`, ties: [tieTo(courage!)] });
      changes.push({ table: 'entries', id: one, after: row });
    }
    const store = new DocumentStore(bytes);
    await store.keep(changes, { ...(await store.meta())!, entries: 1200 });
    return bytes;
  }

  it('answers with the newest entries before all is read, and tells how many are to come', async () => {
    const bytes = await threeMonths();
    let go: () => void = () => {};
    let waiting = new Promise<void>((resolve) => (go = resolve));
    const { desk, told } = deskOver(new DocumentStore(bytes), {
      breathe: async () => {
        if (desk.engine.journal.tables.entries.size > 0) await waiting;
      },
    });
    const totals = await desk.open();
    expect(totals).toMatchObject({
      entries: 50,
      loading: 1150,
      headings: 1,
      empty: false,
      ties: 50,
    });
    const found = await desk.find({ text: 'entry' });
    expect(found.total).toBe(50);
    expect((await desk.keepState()).state).toBe('keeping');
    go();
    waiting = Promise.resolve();
    await desk.whenLoaded();
    expect(await desk.totals()).toMatchObject({ entries: 1200, loading: 0, ties: 1200 });
    expect((await desk.find({ text: 'entry' })).total).toBe(1200);
    expect(told.changed.at(-1)!.totals.loading).toBe(0);
    expect((await desk.keepState()).state).toBe('kept');
  });

  it('tells how far it has come twice a second, and bids nobody ask again for it', async () => {
    const bytes = await threeMonths();
    // Between two slices of 50 entries a tenth of a second goes by.
    const { desk, told, clock } = deskOver(new DocumentStore(bytes), {
      breathe: async () => {
        clock.now += 100;
        await new Promise((resolve) => setImmediate(resolve));
      },
    });
    await desk.open();
    await desk.whenLoaded();
    const coming = told.arriving.map(({ loading }) => loading);
    expect(coming.length).toBeGreaterThanOrEqual(3);
    expect(coming.length).toBeLessThanOrEqual(1200 / 50 / 5 + 1);
    expect(coming).toEqual([...new Set(coming)].sort((a, b) => b - a));
    // While any table is still being read, one is said to be coming.
    for (const { entries, loading } of told.arriving)
      expect(loading).toBe(Math.max(1, 1200 - entries));
    expect(told.changed.filter(({ totals }) => totals.loading > 0)).toEqual([]);
  });

  it('keeps what is written, altered and removed while the rest is still being read', async () => {
    const bytes = await threeMonths();
    const waiting: (() => void)[] = [];
    const step = (): void => waiting.splice(0).forEach((goOn) => goOn());
    let free = false;
    const { desk } = deskOver(new DocumentStore(bytes), {
      breathe: () =>
        free ? Promise.resolve() : new Promise((resolve) => void waiting.push(resolve)),
    });
    const opening = desk.open();
    while (desk.engine.journal.tables.entries.size === 0) {
      step();
      await new Promise((resolve) => setImmediate(resolve));
    }
    await opening;
    const [first, second] = [...desk.engine.journal.tables.entries.keys()];
    const { id: made } = await must(desk.saveEntry(draft('New while loading.')));
    await must(desk.saveEntry(draft('Altered while loading.', { id: id(first!) })));
    await must(desk.removeEntries([id(second!)]));
    // A heading is taken off every entry, also those still to come.
    const [courage] = desk.engine.journal.tables.headings.keys();
    const removing = desk.removeHeading(courage as HeadingId);
    free = true;
    step();
    await must(removing);
    await desk.whenLoaded();
    const { entries } = desk.engine.journal.tables;
    expect(entries.size).toBe(1200);
    expect(entries.get(id(made!))!.text).toBe('New while loading.');
    expect(entries.get(first!)!.text).toBe('Altered while loading.');
    expect(entries.has(second!)).toBe(false);
    expect([...entries.values()].filter(({ ties }) => ties.length > 0)).toEqual([]);
    expect(rows(await stored(bytes))).toBe(rows(desk.engine.journal));
  });

  it('reads a journal whose ties lead to headings that are gone', async () => {
    const bytes = new MemoryBytes();
    await Session.begin(
      new DocumentStore(bytes),
      journalOf(entry('a', { ties: [tieTo('nobody')] })),
    );
    const { desk } = await opened(new DocumentStore(bytes));
    expect((await desk.entry(id('a')))!.row.ties).toEqual([]);
    await must(desk.untie([id('a')], 'nobody' as HeadingId));
    expect((await stored(bytes)).tables.entries.get(id('a'))!.ties).toEqual([]);
  });

  // A known fault of `apply`: it tells an old fault from a new one by a sentence that names the row by its own words,
  // so a row with a fault cannot be reworded. This is to be an ordinary test once that is mended.
  it('lets an entry be altered whose tie leads to a heading that is gone', async () => {
    const store = new MemoryStore();
    await Session.begin(store, journalOf(entry('a', { ties: [tieTo('nobody')] })));
    const { desk } = await opened(store);
    await must(desk.changeKind([id('a')], 'quote'));
  });

  it('keeps rows that do not fit aside, with the others of their document open', async () => {
    const bytes = new MemoryBytes();
    const store = new DocumentStore(bytes);
    await store.saveMeta(META);
    const wrong = { ...entry('b'), minutes: 'ten' } as unknown as Entry;
    for (const after of [entry('a'), wrong, entry('c')]) {
      await store.keep([{ table: 'entries', id: after.id, after }]);
    }
    const { desk } = await opened(new DocumentStore(bytes));
    expect([...desk.engine.journal.tables.entries.keys()].sort()).toEqual(['a', 'c']);
    const { aside } = await desk.keepState();
    expect(aside.map(({ part }) => part)).toEqual([MISFITS]);
    const out = (await desk.asideOut(MISFITS))!;
    expect(JSON.parse(new TextDecoder().decode(out.bytes))).toMatchObject([
      { table: 'entries', row: wrong },
    ]);
  });

  it('saves out a part that cannot be read, and opens the rest', async () => {
    let bad = false;
    class Bad extends MemoryBytes {
      override async read(shard: string): ReturnType<MemoryBytes['read']> {
        const held = await super.read(shard);
        return bad && shard === 'base-guides'
          ? { ...held, broken: 'its bytes have changed on the disk' }
          : held;
      }
    }
    const bytes = new Bad();
    const journal = journalOf(entry('a'));
    const guide = { id: 'g', title: 'A guide', shape: 'lesson', minutes: 30, parts: [] };
    const focus = { words: [], headings: [], entries: [] };
    journal.tables.guides.set('g', { ...guide, focus, made: META.made } as unknown as Guide);
    await Session.begin(new DocumentStore(bytes), journal);
    bad = true;
    const { desk } = await opened(new DocumentStore(bytes));
    expect(await desk.keepState()).toMatchObject({
      state: 'kept',
      aside: [{ part: 'base-guides', why: 'its bytes have changed on the disk' }],
    });
    expect((await desk.totals()).entries).toBe(1);
    const out = (await desk.asideOut('base-guides'))!;
    expect(out.name).toBe('base-guides.bookweft-part');
    expect(Buffer.from(out.bytes).toString('latin1')).toContain('A guide');
    expect(await desk.asideOut('base-headings')).toBeUndefined();
  });

  it('fails with the reason where nothing can be read, and offers no new journal over the old one', async () => {
    class Shut extends MemoryBytes {
      override async shards(): Promise<string[]> {
        throw new NotKept('closed', 'the browser closed the store.');
      }
    }
    const { desk } = deskOver(new DocumentStore(new Shut()));
    await expect(desk.open()).rejects.toThrow('the browser closed the store.');
    await desk.whenLoaded();
  });

  it('keeps what was read where the store is shut half-way, and tells that the rest is missing', async () => {
    const bytes = await threeMonths();
    let reads = 0;
    const read = bytes.read.bind(bytes);
    bytes.read = async (shard) => {
      if (shard.startsWith('entries') && ++reads > 2)
        throw new NotKept('closed', 'the browser closed the store.');
      return read(shard);
    };
    const { desk } = await opened(new DocumentStore(bytes));
    expect((await desk.totals()).entries).toBe(400);
    expect((await desk.keepState()).aside).toEqual([
      { part: 'the rest', why: 'the browser closed the store.' },
    ]);
  });
});

describe('two windows of one browser', () => {
  async function windows(name: string): Promise<DeskOver[]> {
    const desks = [];
    for (let n = 0; n < 2; n++) {
      const { store, windows: both, memoryOnly } = await openStore(name);
      expect(memoryOnly).toBeUndefined();
      const { desk } = deskOver(store);
      watchOtherWindows(both!, desk);
      await desk.open();
      await desk.whenLoaded();
      channels.push(both!.channel!);
      stores.push(store);
      desks.push(desk);
    }
    return desks;
  }
  const channels: BroadcastChannel[] = [];
  const stores: JournalStore[] = [];
  afterEach(async () => {
    for (const channel of channels.splice(0)) channel.close();
    for (const store of stores.splice(0)) await store.close();
  });
  const until = async (true_: () => boolean): Promise<void> => {
    for (let n = 0; n < 200 && !true_(); n++)
      await new Promise((resolve) => setTimeout(resolve, 5));
    expect(true_()).toBe(true);
  };

  it('show each other’s edits, name and copies, and undo only their own', async () => {
    const [one, two] = (await windows('desks-1')) as [DeskOver, DeskOver];
    await must(one.begin('empty', 'Harbour'));
    const { id: a } = await must(one.saveEntry(draft('Dark.')));
    await until(() => two.engine.journal.tables.entries.has(id(a!)));
    expect(await two.totals()).toMatchObject({ name: 'Harbour', empty: false, entries: 1 });
    expect((await two.begin('demo')).code).toBe('begun');
    await must(two.saveEntry(draft('Dark night.', { id: id(a!) })));
    await until(() => one.engine.journal.tables.entries.get(id(a!))!.text === 'Dark night.');
    expect((await two.undoList()).length).toBe(1);
    await must(two.undo());
    await until(() => one.engine.journal.tables.entries.get(id(a!))!.text === 'Dark.');
    await one.copyOut();
    await new Promise((resolve) => setTimeout(resolve, 30));
    expect((await two.keepState()).copyAt).toBe((await one.keepState()).copyAt);
    expect(rows(two.engine.journal)).toBe(rows(one.engine.journal));
  });

  it('lose nothing of what is saved in a sheet that was open while the other wrote', async () => {
    const [one, two] = (await windows('desks-2')) as [DeskOver, DeskOver];
    const { id: a } = await must(one.saveEntry(draft('It was dark.')));
    await until(() => two.engine.journal.tables.entries.has(id(a!)));
    const { entry: open } = (await two.entry(id(a!)))!;
    await must(one.saveEntry(draft('It was very dark.', { id: id(a!), title: 'Night' })));
    await until(() => two.engine.journal.tables.entries.get(id(a!))!.title === 'Night');
    const { added: _added, changed: _changed, ...rest } = open;
    await must(two.saveEntry({ ...rest, base: open, text: 'It was dark. Nobody came.' }));
    await until(() => one.engine.journal.tables.entries.get(id(a!))!.text.includes('Nobody'));
    expect(one.engine.journal.tables.entries.get(id(a!))).toMatchObject({
      text: 'It was very dark. Nobody came.',
      title: 'Night',
    });
    const { journal } = await readAll(new DocumentStore(await BrowserBytes.open('desks-2')));
    expect(rows(journal)).toBe(rows(one.engine.journal));
    expect(rows(two.engine.journal)).toBe(rows(one.engine.journal));
  });

  it('take back their own words alone from a body the other has gone on with', async () => {
    const [one, two] = (await windows('desks-3')) as [DeskOver, DeskOver];
    const { id: a } = await must(one.saveEntry(draft('one')));
    const textIn = (desk: DeskOver): string | undefined =>
      desk.engine.journal.tables.entries.get(id(a!))?.text;
    await must(one.saveEntry(draft('one two', { id: id(a!) })));
    await until(() => textIn(two) === 'one two');
    await must(two.saveEntry(draft('one two three', { id: id(a!) })));
    await until(() => textIn(one) === 'one two three');
    await must(one.undo());
    expect(textIn(one)).toBe('one three');
    await until(() => textIn(two) === 'one three');
    await must(two.saveEntry(draft('one three four', { id: id(a!) })));
    await until(() => textIn(one) === 'one three four');
    await must(one.redo());
    expect(textIn(one)).toBe('one two three four');
    await until(() => textIn(two) === 'one two three four');
    const { journal } = await readAll(new DocumentStore(await BrowserBytes.open('desks-3')));
    expect(rows(journal)).toBe(rows(one.engine.journal));
  });

  it('leave each other’s title and parts of a lesson, altered at once or taken back', async () => {
    const [one, two] = (await windows('desks-5')) as [DeskOver, DeskOver];
    const lessonIn = (desk: DeskOver): Entry => desk.engine.journal.tables.entries.get(id(a!))!;
    const begun = draft('A walk.', { kind: 'lesson', lesson: { objective: 'See.' } });
    const { id: a } = await must(one.saveEntry(begun));
    await until(() => two.engine.journal.tables.entries.has(id(a!)));
    const base = lessonIn(one);
    const { added: _added, changed: _changed, ...rest } = base;
    await must(two.saveEntry({ ...rest, lesson: { objective: 'See.', steps: ['Go out.'] } }));
    await until(() => lessonIn(one).lesson?.steps !== undefined);
    const here = { ...rest, title: 'Out', lesson: { objective: 'Look.' } };
    await must(one.saveEntry({ ...here, base }));
    expect(lessonIn(one).lesson).toEqual({ objective: 'Look.', steps: ['Go out.'] });
    await until(() => lessonIn(two).title === 'Out');
    const { added: _ad, changed: _ch, ...there } = lessonIn(two);
    await must(two.saveEntry({ ...there, title: 'Out of doors' }));
    await until(() => lessonIn(one).title === 'Out of doors');
    const { changed } = lessonIn(one);
    await must(one.undo());
    expect(lessonIn(one)).toMatchObject({ title: 'Out of doors', changed });
    expect(lessonIn(one).lesson).toMatchObject({ objective: 'See.', steps: ['Go out.'] });
  });

  it('where the browser stores nothing work in memory, and say so', async () => {
    const open = vi.spyOn(indexedDB, 'open').mockImplementation(() => {
      throw new DOMException('no', 'SecurityError');
    });
    const { store, memoryOnly } = await openStore('desks-3');
    open.mockRestore();
    expect(store).toBeInstanceOf(MemoryStore);
    expect(memoryOnly).toBe(
      'Nothing is stored in this window: the browser does not let this page store anything.',
    );
  });

  it('also where storage may not even be named', async () => {
    const held = Object.getOwnPropertyDescriptor(globalThis, 'indexedDB')!;
    Object.defineProperty(globalThis, 'indexedDB', {
      configurable: true,
      get: () => {
        throw new DOMException('no', 'SecurityError');
      },
    });
    const { memoryOnly } = await openStore('desks-4').finally(() =>
      Object.defineProperty(globalThis, 'indexedDB', held),
    );
    expect(memoryOnly).toMatch(/^Nothing is stored in this window/);
  });
});
