import 'fake-indexeddb/auto';
import { openDB } from 'idb';
import { describe, expect, it, vi } from 'vitest';
import type { Change } from '../../../src/journal/edits';
import { entryOf } from '../../../src/journal/journal';
import * as make from '../../../src/journal/make-edits';
import type { Entry, EntryId, HeadingId } from '../../../src/journal/records';
import { BrowserBytes } from '../../../src/keep/browser-bytes';
import { MemoryBytes, type Held, type Update } from '../../../src/keep/byte-store';
import { DocumentStore, type Kept, type RowNow } from '../../../src/keep/document-store';
import { rolledId } from '../../../src/keep/shards';
import { NotKept, type Aside, type JournalMeta } from '../../../src/keep/store';
import { LATER } from '../journal/arbitrary-journal';
import { entry, journalOf, theme, tieTo } from '../journal/few';
import { META, readAll, Session, whole } from './session';

const id = (text: string): EntryId => text as EntryId;
/** Ids of entries in two months. */
const NOV = id(rolledId('019ab000-0000-7000-8000-000000000000', 0));
const NOV_TOO = id(rolledId('019ab000-0001-7000-8000-000000000000', 0));
const OCT = id(rolledId('0199f000-0000-7000-8000-000000000000', 0));
const NOV_SHARD = 'entries-2025-11-00';

const put = (after: Entry, before?: Entry): Change[] => [
  { table: 'entries', id: after.id, ...(before ? { before } : {}), after },
];

/** All bytes a store holds, as one text in which Latin words can be looked for. */
async function bytesOf(bytes: MemoryBytes): Promise<string> {
  const all: string[] = [];
  for (const shard of await bytes.shards()) {
    const { snap, log } = await bytes.read(shard);
    for (const piece of [...(snap ? [snap] : []), ...log.map(({ update }) => update)]) {
      all.push(Buffer.from(piece).toString('latin1'));
    }
  }
  return all.join('\n');
}

describe('compaction', () => {
  it('keeps the same rows in fewer bytes, without what was deleted', async () => {
    const bytes = new MemoryBytes();
    const session = await Session.begin(
      new DocumentStore(bytes),
      journalOf(entry('a'), entry('b'), theme('t')),
    );
    const store = session.store;
    const write = async (more: Partial<Entry>): Promise<void> => {
      const held = entryOf(session.journal, id('a'))!;
      await session.do(make.putEntry(session.journal, { ...held, ...more }));
    };
    await write({
      text: 'Harmless. A wretched secret it was. Harmless too.',
      answer: 'Another confession',
      probes: ['third whisper'],
    });
    for (let n = 0; n < 70; n++)
      await write({ text: `Harmless. Now ${n}. Harmless too.`, answer: 'Plain', probes: [] });
    const before = (await bytesOf(bytes)).length;
    expect(await bytesOf(bytes)).toContain('wretched secret');
    expect(await store.compact()).toBe(1);
    const after = await bytesOf(bytes);
    expect(after.length).toBeLessThan(before / 3);
    expect(after).toContain('Harmless');
    for (const gone of ['wretched', 'secret', 'confession', 'whisper'])
      expect(after).not.toContain(gone);
    expect(whole((await readAll(new DocumentStore(bytes))).journal)).toBe(whole(session.journal));
  });

  it('carries nothing back in when editing goes on with the documents still open', async () => {
    const bytes = new MemoryBytes();
    const session = await Session.begin(
      new DocumentStore(bytes),
      journalOf(entry('a', { text: 'wretched secret' })),
    );
    for (let n = 0; n < 140; n++) {
      const held = entryOf(session.journal, id('a'))!;
      await session.do(make.putEntry(session.journal, { ...held, text: `turn ${n}` }));
      if (n % 40 === 39) await session.store.compact();
    }
    await session.store.compact();
    expect(await bytesOf(bytes)).not.toContain('secret');
    expect(whole((await readAll(new DocumentStore(bytes))).journal)).toBe(whole(session.journal));
  });

  it('by two windows at once loses nothing that came between', async () => {
    for (const open of [
      () => {
        const bytes = new MemoryBytes();
        return async () => bytes;
      },
      () => {
        const name = `compact-${Math.random()}`;
        return () => BrowserBytes.open(name);
      },
    ]) {
      const place = open();
      const slow = await place();
      const session = await Session.begin(new DocumentStore(slow), journalOf(entry('a')));
      const write = async (text: string): Promise<void> => {
        const held = entryOf(session.journal, id('a'))!;
        await session.do(make.putEntry(session.journal, { ...held, text }));
      };
      for (let n = 0; n < 70; n++) await write(`turn ${n}`);
      // The slow window has read, and is about to put what it has read in place …
      const shard = (await slow.grown(64))[0]!;
      const old = await slow.read(shard);
      // … when the other rewrites, goes on, and rewrites again.
      const other = new DocumentStore(await place());
      expect(await other.compact()).toBe(1);
      for (let n = 0; n < 70; n++) await write(`later ${n}`);
      expect(await other.compact()).toBe(1);
      const wrote = await slow.replace(
        shard,
        old.log[0]!.update,
        old.log.map(({ key }) => key),
      );
      expect(wrote).toBe(false);
      expect(whole((await readAll(new DocumentStore(await place()))).journal)).toBe(
        whole(session.journal),
      );
    }
  });
});

/** Damages the first stored update of a document, as a failing disk would. */
async function damage(name: string, shard: string): Promise<void> {
  const db = await openDB(name, 1);
  const tx = db.transaction('log', 'readwrite');
  const cursor = await tx.store.index('shard').openCursor(shard);
  const record = cursor!.value as { update: Uint8Array };
  record.update[record.update.length >> 1]! ^= 0x55;
  await cursor!.update(record);
  await tx.done;
  db.close();
}

describe('a part that cannot be read', () => {
  async function damaged(
    name: string,
  ): Promise<{ store: DocumentStore; journal: Awaited<ReturnType<typeof readAll>> }> {
    const first = new DocumentStore(await BrowserBytes.open(name));
    const rows = [entry(NOV), entry(OCT), theme('t')];
    await (await Session.begin(first, journalOf(...rows))).store.close();
    await damage(name, NOV_SHARD);
    const store = new DocumentStore(await BrowserBytes.open(name));
    return { store, journal: await readAll(store) };
  }

  it('lies aside while the rest opens, and its bytes can be saved out', async () => {
    const { store, journal } = await damaged('aside-1');
    expect(journal.loaded.aside).toEqual([
      { part: NOV_SHARD, why: 'its bytes have changed on the disk' },
    ]);
    expect([...journal.journal.tables.entries.keys()]).toEqual([OCT]);
    expect(journal.journal.tables.headings.size).toBe(1);
    const out = (await store.asideBytes(NOV_SHARD))!;
    const length = new DataView(out.buffer).getUint32(0);
    expect(out.length).toBe(4 + length);
    expect(Buffer.from(out).toString('latin1')).toContain(NOV);
    expect(await store.asideBytes('base-headings')).toBeUndefined();
  });

  it('does not stop new rows of its month, which are read again', async () => {
    const { store } = await damaged('aside-2');
    await store.keep(put(entry(NOV_TOO)));
    await store.keep(put(entry(NOV_TOO, { text: 'altered' }), entry(NOV_TOO)));
    await store.close();
    const again = new DocumentStore(await BrowserBytes.open('aside-2'));
    const { journal, loaded } = await readAll(again);
    expect(loaded.aside.map(({ part }) => part)).toEqual([NOV_SHARD]);
    expect(entryOf(journal, NOV_TOO)!.text).toBe('altered');
    await again.keep(put(entry(NOV_TOO, { text: 'once more' }), entryOf(journal, NOV_TOO)));
    expect(entryOf((await readAll(again)).journal, NOV_TOO)!.text).toBe('once more');
  });

  it('is left untouched by compaction', async () => {
    const { store } = await damaged('aside-3');
    const before = await store.asideBytes(NOV_SHARD);
    const bytes = store.bytes as BrowserBytes;
    await bytes.append(
      Array.from({ length: 70 }, () => ({ shard: NOV_SHARD, update: new Uint8Array([0, 0]) })),
    );
    expect(await store.compact()).toBe(0);
    expect((await store.asideBytes(NOV_SHARD))!.subarray(0, before!.length)).toEqual(before);
    // Nor does a window that has not noticed yet pass the wreck off as sound.
    expect(await new DocumentStore(await BrowserBytes.open('aside-3')).compact()).toBe(0);
  });

  it('that has become readable again makes one document with what lay beside it', async () => {
    const flaky = new FaultyBytes();
    const first = new DocumentStore(flaky);
    await Session.begin(first, journalOf(entry(NOV)));
    flaky.broken.add(NOV_SHARD);
    const second = new DocumentStore(flaky);
    expect((await readAll(second)).loaded.aside).toHaveLength(1);
    await second.keep(put(entry(NOV_TOO)));
    flaky.broken.clear();
    const third = new DocumentStore(flaky);
    const { journal, loaded } = await readAll(third);
    expect(loaded.aside).toEqual([]);
    expect([...journal.tables.entries.keys()].sort()).toEqual([NOV, NOV_TOO].sort());
    await third.keep([{ table: 'entries', id: NOV_TOO, before: entry(NOV_TOO) }]);
    await third.keep(put(entry(NOV, { text: 'altered' }), entry(NOV)));
    const last = (await readAll(new DocumentStore(flaky))).journal;
    expect([...last.tables.entries.values()]).toEqual([entry(NOV, { text: 'altered' })]);
  });

  it('is each there is where no part at all can be read, and what is new is read with them again', async () => {
    const flaky = new FaultyBytes();
    await Session.begin(new DocumentStore(flaky), journalOf(entry(NOV), entry(OCT)));
    flaky.unwell = true;
    const store = new DocumentStore(flaky);
    const { journal, loaded } = await readAll(store);
    expect(journal.tables.entries.size).toBe(0);
    expect(loaded.aside.map(({ part }) => part).sort()).toEqual((await flaky.shards()).sort());
    await store.keep(put(entry(NOV_TOO)));
    flaky.unwell = false;
    const again = await readAll(new DocumentStore(flaky));
    expect(again.loaded.aside).toEqual([]);
    expect([...again.journal.tables.entries.keys()].sort()).toEqual([NOV, NOV_TOO, OCT].sort());
  });

  it('found first when an edit needs it takes no edit with it', async () => {
    const flaky = new FaultyBytes();
    const session = await Session.begin(
      new DocumentStore(flaky),
      journalOf(entry(NOV), entry(OCT)),
    );
    flaky.broken.add(NOV_SHARD);
    const store = new DocumentStore(flaky);
    const told: Aside[][] = [];
    store.events = { aside: (aside) => told.push(aside) };
    const [held, other] = [entryOf(session.journal, NOV)!, entryOf(session.journal, OCT)!];
    await store.keep([
      ...put({ ...other, text: 'October' }, other),
      ...put({ ...held, text: 'November' }, held),
    ]);
    expect(told.at(-1)).toEqual([{ part: NOV_SHARD, why: 'unwell' }]);
    const { journal } = await readAll(new DocumentStore(flaky));
    expect(entryOf(journal, OCT)!.text).toBe('October');
    // The whole row goes beside, not only what was changed of it.
    expect(entryOf(journal, NOV)).toEqual({ ...held, text: 'November' });
  });

  it('is one of which a piece is missing, too', async () => {
    const bytes = new MemoryBytes();
    const session = await Session.begin(
      new DocumentStore(bytes),
      journalOf(entry(NOV), entry(OCT)),
    );
    const held = entryOf(session.journal, NOV)!;
    await session.do(make.putEntry(session.journal, { ...held, text: 'later' }));
    const less = new MemoryBytes();
    for (const shard of await bytes.shards()) {
      const { log } = await bytes.read(shard);
      await less.append(
        (shard === NOV_SHARD ? log.slice(1) : log).map(({ update }) => ({ shard, update })),
      );
    }
    const { journal, loaded } = await readAll(new DocumentStore(less));
    expect(loaded.aside).toEqual([{ part: NOV_SHARD, why: 'a piece of it is missing' }]);
    expect([...journal.tables.entries.keys()]).toEqual([OCT]);
  });
});

/** Bytes on a disk that fills up, shuts, or goes bad in places. */
class FaultyBytes extends MemoryBytes {
  full = false;
  shut = false;
  /** Answers no reading at all. */
  unwell = false;
  /** How often it is asked before it is plain that it would be asked for ever. */
  patience = 100;
  broken = new Set<string>();

  override async append(updates: readonly Update[], meta?: JournalMeta): Promise<void> {
    if (this.full) throw new NotKept('disk-full', 'the disk is full.');
    return super.append(updates, meta);
  }

  override async read(shard: string): Promise<Held> {
    if (this.shut) throw new NotKept('closed', 'the browser closed the store.');
    if (this.unwell && --this.patience < 0) throw new Error('read over and over');
    return this.unwell || this.broken.has(shard)
      ? { log: [], broken: 'unwell' }
      : super.read(shard);
  }
}

describe('a full disk', () => {
  it('is told, and what was held goes in its order when there is room', async () => {
    const bytes = new FaultyBytes();
    const store = new DocumentStore(bytes);
    const session = await Session.begin(store, journalOf(entry('a')));
    bytes.full = true;
    for (let n = 0; n < 20; n++) {
      const held = entryOf(session.journal, id('a'))!;
      const edit = make.putEntry(session.journal, { ...held, text: `turn ${n}`, minutes: n });
      await expect(session.do(edit)).rejects.toMatchObject({ code: 'disk-full' });
      const more = make.putEntry(session.journal, entry(`new-${n}`));
      await expect(session.do(more)).rejects.toBeInstanceOf(NotKept);
    }
    expect(await store.retry()).toBe(false);
    expect((await readAll(new DocumentStore(bytes))).journal.tables.entries.size).toBe(1);
    bytes.full = false;
    expect(await store.retry()).toBe(true);
    expect(whole((await readAll(new DocumentStore(bytes))).journal)).toBe(whole(session.journal));
  });

  it('lets what was held go with the next edit that fits', async () => {
    const bytes = new FaultyBytes();
    const store = new DocumentStore(bytes);
    const session = await Session.begin(store, journalOf(entry('a')));
    bytes.full = true;
    await session.do(make.putEntry(session.journal, entry('b'))).catch(() => undefined);
    bytes.full = false;
    await session.do(make.removeEntries(session.journal, [id('a')]));
    const { tables } = (await readAll(new DocumentStore(bytes))).journal;
    expect([...tables.entries.values()]).toEqual([entry('b')]);
  });

  it('shows in this window what is held, though many other documents were opened since', async () => {
    const bytes = new FaultyBytes();
    const store = new DocumentStore(bytes);
    const session = await Session.begin(store, journalOf(entry('a')));
    bytes.full = true;
    await session
      .do(make.putEntry(session.journal, { ...entry('a'), text: 'held' }))
      .catch(() => undefined);
    for (let n = 0; n < 40; n++) {
      await session.do(make.putEntry(session.journal, entry(`new-${n}`))).catch(() => undefined);
    }
    expect(whole((await readAll(store)).journal)).toBe(whole(session.journal));
  });

  it('is told from what IndexedDB throws, whether a request fails or the whole transaction, and leaves no half', async () => {
    for (const when of ['request', 'second request', 'end'] as const) {
      const bytes = await BrowserBytes.open(`full-${when}`);
      const error = new DOMException('no room', 'QuotaExceededError');
      const really = IDBObjectStore.prototype.add;
      let requests = 0;
      const add = vi.spyOn(IDBObjectStore.prototype, 'add').mockImplementation(function (
        this: IDBObjectStore,
        ...args
      ) {
        requests += 1;
        if (when === 'second request' && requests === 1) return really.apply(this, args);
        if (when !== 'end') throw error;
        // The transaction says why it ended; its requests say only that they were ended.
        const request = really.apply(this, args);
        Object.defineProperty(this.transaction, 'error', { value: error });
        this.transaction.abort();
        return request;
      });
      const store = new DocumentStore(bytes);
      await expect(
        store.keep([...put(entry(NOV)), ...put(entry(OCT))], META),
      ).rejects.toMatchObject({
        code: 'disk-full',
        message: 'the disk is full.',
      });
      add.mockRestore();
      expect(await bytes.meta()).toBeUndefined();
      expect(await bytes.shards()).toEqual([]);
      expect(await store.retry()).toBe(true);
      expect((await readAll(new DocumentStore(bytes))).journal.tables.entries.size).toBe(2);
      await store.close();
    }
  });
});

describe('a store that was shut', () => {
  it('holds edits whose document cannot be read, and keeps them in order once it can', async () => {
    const bytes = new FaultyBytes();
    const session = await Session.begin(new DocumentStore(bytes), journalOf(entry('a')));
    const store = new DocumentStore(bytes);
    bytes.shut = true;
    const [first, second] = [
      { ...entry('a'), text: 'first' },
      { ...entry('a'), text: 'second' },
    ];
    await expect(store.keep(put(first, entry('a')))).rejects.toMatchObject({ code: 'closed' });
    await expect(store.keep(put(second, first))).rejects.toMatchObject({ code: 'closed' });
    expect(await store.retry()).toBe(false);
    bytes.shut = false;
    expect(await store.retry()).toBe(true);
    expect(entryOf((await readAll(store)).journal, id('a'))!.text).toBe('second');
    expect(session.edits).toBe(1);
  });

  it('by the browser is opened again, and nothing is lost', async () => {
    const bytes = await BrowserBytes.open('shut');
    const session = await Session.begin(new DocumentStore(bytes), journalOf(entry('a')));
    await bytes.close();
    await session.do(make.putEntry(session.journal, entry('b')));
    await session.store.close();
    const again = await readAll(new DocumentStore(await BrowserBytes.open('shut')));
    expect(whole(again.journal)).toBe(whole(session.journal));
  });

  it('and cleared by the browser is told, and takes no pieces without their beginning', async () => {
    const bytes = await BrowserBytes.open('cleared');
    const session = await Session.begin(new DocumentStore(bytes), journalOf(entry('a')));
    await bytes.close();
    await new Promise((resolve) => (indexedDB.deleteDatabase('cleared').onsuccess = resolve));
    const edit = make.putEntry(session.journal, { ...entry('a'), text: 'more' });
    await expect(session.do(edit)).rejects.toMatchObject({
      code: 'closed',
      message: 'the browser has cleared what this page had stored.',
    });
    expect(await session.store.retry()).toBe(false);
    expect(await bytes.shards()).toEqual([]);
  });
});

describe('an edit that no document takes', () => {
  it('is told for as long as the window stays open, and takes no other with it', async () => {
    const bytes = new MemoryBytes();
    const store = new DocumentStore(bytes);
    await Session.begin(store, journalOf(entry('a')));
    const wrong = { ...entry('a'), odd: () => 1 } as unknown as Entry;
    await expect(store.keep(put(wrong, entry('a')))).rejects.toBeInstanceOf(NotKept);
    await expect(store.keep(put(entry('b')))).rejects.toBeInstanceOf(NotKept);
    expect(await store.retry()).toBe(false);
    const { journal } = await readAll(new DocumentStore(bytes));
    expect(whole(journal)).toBe(whole(journalOf(entry('a'), entry('b'))));
  });
});

describe('two windows over one store', () => {
  interface Window {
    store: DocumentStore;
    session: Session;
    /** What the other window has told and this one has not looked at yet. */
    post: Kept[];
    look: () => Promise<void>;
  }

  /** Two windows of one browser; what one keeps is posted to the other, which looks when it is told to. */
  async function windows(
    name: string,
    ...rows: Parameters<typeof journalOf>
  ): Promise<[Window, Window]> {
    const first = new DocumentStore(await BrowserBytes.open(name));
    await (await Session.begin(first, journalOf(...rows))).store.close();
    const open = async (): Promise<Window> => {
      const store = new DocumentStore(await BrowserBytes.open(name));
      const session = await Session.open(store);
      const take = (found: RowNow[]): void => {
        for (const { table, id: row, row: now } of found) {
          const held = session.journal.tables[table] as Map<string, unknown>;
          if (now) held.set(row, now);
          else held.delete(row);
        }
      };
      const post: Kept[] = [];
      const look = async (): Promise<void> => {
        for (const kept of post.splice(0)) await store.follow(kept, take);
      };
      store.events = { merged: take };
      return { store, session, post, look };
    };
    const [one, two] = [await open(), await open()];
    one.store.events.kept = (kept) => two.post.push(structuredClone(kept));
    two.store.events.kept = (kept) => one.post.push(structuredClone(kept));
    return [one, two];
  }

  const write = async (
    { session }: Window,
    which: string,
    change: (text: string) => string,
  ): Promise<void> => {
    const held = entryOf(session.journal, id(which))!;
    await session.do(make.putEntry(session.journal, { ...held, text: change(held.text) }));
  };
  const textIn = ({ session }: Window, which: string): string =>
    entryOf(session.journal, id(which))!.text;
  const onDisk = async ({ store }: Window): Promise<string> =>
    whole((await readAll(store)).journal);

  it('see what the other has written, tied and removed', async () => {
    const [one, two] = await windows('two-1', theme('t'), entry('a'), entry('b'));
    await write(one, 'a', (text) => `${text} more`);
    await one.session.do(make.tieEntries(one.session.journal, [id('a')], tieTo('t'), LATER));
    await one.session.do(make.removeEntries(one.session.journal, [id('b')]));
    await one.session.do(make.renameHeading(one.session.journal, 't' as HeadingId, 'Courage'));
    await two.look();
    expect(whole(two.session.journal)).toBe(whole(one.session.journal));
    await one.session.undo();
    await one.session.undo();
    await two.look();
    expect(whole(two.session.journal)).toBe(whole(one.session.journal));
  });

  it('both keep what they wrote into one entry before they knew of each other', async () => {
    const [one, two] = await windows('two-2', entry('a', { text: 'dark' }));
    await write(one, 'a', (text) => `${text} night`);
    await write(two, 'a', (text) => `very ${text}`);
    await write(two, 'a', (text) => `${text} and cold`);
    await one.look();
    await two.look();
    for (const window of [one, two]) {
      const text = textIn(window, 'a');
      for (const word of ['very', 'dark', 'night', 'and cold']) expect(text).toContain(word);
    }
    expect(whole(one.session.journal)).toBe(whole(two.session.journal));
    expect(await onDisk(one)).toBe(whole(one.session.journal));
  });

  it('lose no edit made while the other window’s is being looked at', async () => {
    const [one, two] = await windows('two-3', entry('a', { text: 'dark' }));
    await write(two, 'a', (text) => `${text} night`);
    await write(one, 'a', (text) => `very ${text}`);
    // Looking and writing at once: the row that is being written is taken in when it has been laid.
    await Promise.all([one.look(), write(one, 'a', (text) => `${text} indeed`)]);
    await two.look();
    for (const window of [one, two]) {
      for (const word of ['very', 'dark', 'night', 'indeed'])
        expect(textIn(window, 'a')).toContain(word);
    }
    expect(whole(one.session.journal)).toBe(whole(two.session.journal));
    expect(await onDisk(two)).toBe(whole(one.session.journal));
  });

  it('keep what the other has written in a document this one reads only now', async () => {
    const [one, two] = await windows('two-4', entry('a', { text: 'dark', title: 'Night' }));
    await write(one, 'a', (text) => `${text} night`);
    await one.session.do(
      make.putEntry(one.session.journal, {
        ...entryOf(one.session.journal, id('a'))!,
        title: 'Dusk',
      }),
    );
    // This window has not been told yet, and its document comes from the disk with the other's words in it.
    await write(two, 'a', (text) => `very ${text}`);
    expect(textIn(two, 'a')).toBe('very dark night');
    expect(entryOf(two.session.journal, id('a'))!.title).toBe('Dusk');
    await two.look();
    await one.look();
    expect(whole(one.session.journal)).toBe(whole(two.session.journal));
  });

  it('bring back an entry that one removed while the other was writing in it', async () => {
    const [one, two] = await windows('two-5', entry('a', { text: 'dark' }));
    await one.session.do(make.removeEntries(one.session.journal, [id('a')]));
    await write(two, 'a', (text) => `${text} night`);
    await one.look();
    await two.look();
    expect(textIn(one, 'a')).toBe('dark night');
    expect(whole(one.session.journal)).toBe(whole(two.session.journal));
  });

  it('tell each other what is known of the journal as a whole', async () => {
    const [one, two] = await windows('two-6', entry('a'));
    await one.store.keep([], { ...META, name: 'Renamed' });
    expect(two.post.at(-1)!.meta!.name).toBe('Renamed');
    expect((await two.store.meta())!.name).toBe('Renamed');
  });
});
