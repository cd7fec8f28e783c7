import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { CopyFolder, type CopiesInto } from '../../../src/engine/copy-folder';
import type { FolderState, KeepState } from '../../../src/engine/desk';
import type { BesideChange } from '../../../src/keep/beside';
import { MemoryBeside } from '../../../src/keep/beside';
import { MemoryStore } from '../../../src/keep/memory-store';
import { draft } from './desk-apart';
import { deskOver, must, NOON, opened, type Setup } from './desk-setup';

const MINUTE = 60_000;
const DAY = 24 * 60 * MINUTE;

/** A folder as a browser gives it, but for the disk. Names of exceptions are those of the File System standard (WHATWG). */
class Folder implements CopiesInto {
  name = 'Copies';
  leave: PermissionState = 'granted';
  files = new Map<string, string>();
  /** What every writing ends in. */
  fails: DOMException | undefined;
  /** What every writing waits for. */
  slow: Promise<void> | undefined;

  async getFileHandle(name: string, options?: { create: boolean }) {
    if (!options?.create && !this.files.has(name)) throw new DOMException('none', 'NotFoundError');
    if (!this.files.has(name)) this.files.set(name, '');
    return {
      createWritable: async () => {
        let held = '';
        return {
          write: async (bytes: ArrayBuffer) => {
            await this.slow;
            if (this.fails) throw this.fails;
            held += new TextDecoder().decode(bytes);
          },
          close: async () => void this.files.set(name, held),
          abort: async () => {},
        };
      },
    };
  }

  async removeEntry(name: string): Promise<void> {
    this.files.delete(name);
  }

  async isSameEntry(other: unknown): Promise<boolean> {
    return (other as Folder).files === this.files;
  }

  async queryPermission(): Promise<PermissionState> {
    return this.leave;
  }
}

/** Browsers store handles of folders; a clone of Node's does not. */
class Beside extends MemoryBeside {
  #held = new Map<string, unknown>();
  full = false;

  override async get<T>(key: string): Promise<T | undefined> {
    return this.#held.get(key) as T | undefined;
  }

  override async put(changes: readonly BesideChange[]): Promise<boolean> {
    if (this.full) throw new Error('the disk is full.');
    for (const [key, value] of changes) this.#held.set(key, value);
    return true;
  }
}

/** Copies of a journal that is a text, at a clock set by hand. */
function copying(beside = new Beside()) {
  const at = { now: NOON };
  const keeping: KeepState = { state: 'kept', sinceCopy: 1, aside: [] };
  const told: (FolderState | undefined)[] = [];
  const journal = { text: 'first', name: 'harbour-lane' };
  const into = new CopyFolder(beside, {
    now: () => new Date(at.now),
    quiet: async () => {},
    keeping: () => keeping,
    tell: (state) => told.push(state),
    made: async () => ({
      copy: {
        name: `${journal.name}-${new Date(at.now).toISOString().slice(0, 10)}.bookweft.json`,
        type: 'application/json',
        bytes: new TextEncoder().encode(journal.text).buffer as ArrayBuffer,
      },
      copied: async () => {
        keeping.sinceCopy = 0;
        keeping.copyAt = new Date(at.now).toISOString();
      },
    }),
  });
  const change = (text: string): void => {
    journal.text = text;
    keeping.sinceCopy += 1;
  };
  return { into, at, keeping, told, journal, change, beside };
}

describe('copies written by themselves', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  it('begin when the folder is picked, and follow what is changed, half an hour apart at least', async () => {
    const { into, at, told, change } = copying();
    const folder = new Folder();
    expect(await into.use(folder)).toBeUndefined();
    expect([...folder.files]).toEqual([['harbour-lane-2026-11-25.bookweft.json', 'first']]);
    at.now += 5 * MINUTE;
    await into.rest();
    change('second');
    await into.rest();
    expect([...folder.files.values()]).toEqual(['first']);
    at.now += 25 * MINUTE;
    await vi.advanceTimersByTimeAsync(25 * MINUTE);
    expect([...folder.files.values()]).toEqual(['second']);
    expect(told.at(-1)).toEqual({ name: 'Copies', at: new Date(at.now).toISOString() });
  });

  it('are not written where nothing has changed, and are where a copy went elsewhere meanwhile', async () => {
    const { into, at, keeping, journal } = copying();
    const folder = new Folder();
    await into.use(folder);
    at.now += DAY;
    await into.rest();
    expect(folder.files.size).toBe(1);
    journal.text = 'saved elsewhere';
    keeping.copyAt = new Date(at.now).toISOString();
    await into.rest();
    expect([...folder.files.values()]).toEqual(['first', 'saved elsewhere']);
  });

  it('are ten days’, and nothing else in the folder is touched', async () => {
    const { into, at, change } = copying();
    const folder = new Folder();
    const others = [
      'harbour-lane-2020-01-01.bookweft.json',
      'harbour-lane-2026-11-27.bookweft.json',
    ];
    for (const name of others) folder.files.set(name, 'not ours');
    await into.use(folder);
    for (let day = 1; day <= 14; day++) {
      at.now += DAY;
      change(`day ${day}`);
      await into.rest();
    }
    for (const name of others) expect(folder.files.get(name)).toBe('not ours');
    const ours = [...folder.files].filter(([name]) => !others.includes(name));
    expect(ours.map(([, text]) => text)).toEqual(
      Array.from({ length: 10 }, (_, nth) => `day ${nth + 5}`),
    );
    expect(folder.files.has('harbour-lane-2026-11-25.bookweft.json')).toBe(false);
  });

  it('take no name that another computer has taken on the same day', async () => {
    const { into, at, change } = copying();
    const folder = new Folder();
    folder.files.set('harbour-lane-2026-11-25.bookweft.json', 'of another computer');
    await into.use(folder);
    at.now += 31 * MINUTE;
    change('later');
    await into.rest();
    expect([...folder.files]).toEqual([
      ['harbour-lane-2026-11-25.bookweft.json', 'of another computer'],
      ['harbour-lane-2026-11-25-2.bookweft.json', 'later'],
    ]);
  });

  it('go on where the same folder is picked again, and begin anew in another', async () => {
    const { into, change } = copying();
    const folder = new Folder();
    await into.use(folder);
    change('second');
    // The browser gives another handle of the same folder.
    const again = Object.assign(new Folder(), { files: folder.files });
    await into.use(again);
    expect([...folder.files.values()]).toEqual(['second']);
    const other = new Folder();
    other.files.set('harbour-lane-2026-11-25.bookweft.json', 'not ours');
    await into.use(other);
    expect(other.files.size).toBe(2);
    expect([...folder.files.values()]).toEqual(['second']);
  });

  it('cannot go anywhere where nothing can be remembered', async () => {
    const beside = new Beside();
    beside.full = true;
    const { into } = copying(beside);
    const folder = new Folder();
    expect(await into.use(folder)).toBe(
      'No copy could be written into “Copies”: the disk is full.',
    );
    expect(folder.files.size).toBe(0);
  });

  it('wait for the browser’s leave, and go on once it is given', async () => {
    const beside = new Beside();
    const folder = new Folder();
    await copying(beside).into.use(folder);
    // Another sitting.
    const { into, at, told, change } = copying(beside);
    at.now += DAY;
    folder.leave = 'prompt';
    change('next day');
    await into.rest();
    expect(told.at(-1)).toMatchObject({ name: 'Copies', asks: true });
    expect(folder.files.size).toBe(1);
    expect((await into.folder())?.name).toBe('Copies');
    folder.leave = 'granted';
    expect(await into.write()).toBeUndefined();
    expect([...folder.files.values()]).toEqual(['first', 'next day']);
    expect(told.at(-1)).not.toHaveProperty('why');
  });

  it.each([
    ['QuotaExceededError', 'there is no room left'],
    ['NotFoundError', 'the folder is not there any more'],
    ['NotAllowedError', 'the browser may not write there'],
    ['DataError', 'broken'],
  ])('that fail by %s say so, leave the last one whole, and are tried again', async (name, why) => {
    const { into, at, told, change } = copying();
    const folder = new Folder();
    await into.use(folder);
    at.now += DAY;
    change('second');
    folder.fails = new DOMException('broken', name);
    await into.rest();
    expect(told.at(-1)?.why).toBe(`No copy could be written into “Copies”: ${why}.`);
    expect([...folder.files.values()]).toEqual(['first']);
    folder.fails = undefined;
    at.now += MINUTE;
    await into.rest();
    expect(told.at(-1)?.why).toMatch(/^No copy could be written/);
    at.now += 4 * MINUTE;
    await into.rest();
    expect([...folder.files.values()]).toEqual(['first', 'second']);
    expect(told.at(-1)).not.toHaveProperty('why');
  });

  it('are left as they are while a part of the journal cannot be read', async () => {
    const { into, at, told, keeping, change } = copying();
    const folder = new Folder();
    await into.use(folder);
    at.now += DAY;
    change('without the lists');
    keeping.aside = [{ part: 'base-lists', why: 'broken' }];
    await into.rest();
    expect([...folder.files.values()]).toEqual(['first']);
    expect(told.at(-1)?.why).toMatch(/could not be read/);
    expect(await into.write()).toMatch(/could not be read/);
  });

  it('are no more written once the folder is left', async () => {
    const { into, at, told, change } = copying();
    const folder = new Folder();
    await into.use(folder);
    await into.leave();
    at.now += DAY;
    change('second');
    await into.rest();
    expect([...folder.files.values()]).toEqual(['first']);
    expect(told.at(-1)).toBeUndefined();
    expect(await into.folder()).toBeUndefined();
  });
});

/** A gate, and what opens it. */
function gate(): { shut: Promise<void>; open: () => void } {
  let open = (): void => {};
  const shut = new Promise<void>((resolve) => {
    open = resolve;
  });
  return { shut, open };
}
const settled = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 20));

describe('while a copy is being written', () => {
  it('the folder can be left, and stays left', async () => {
    const { into, change, beside, told } = copying();
    const folder = new Folder();
    await into.use(folder);
    change('second');
    const { shut, open } = gate();
    folder.slow = shut;
    const writing = into.write();
    await settled();
    await into.leave();
    open();
    await writing;
    expect(await beside.get('copy-folder')).toBeUndefined();
    expect(told.at(-1)).toBeUndefined();
  });

  it('the window can be closed: what is left of the file is written anew', async () => {
    const beside = new Beside();
    const folder = new Folder();
    folder.slow = new Promise(() => {});
    void copying(beside).into.use(folder);
    await settled();
    expect([...folder.files]).toEqual([['harbour-lane-2026-11-25.bookweft.json', '']]);
    folder.slow = undefined;
    await copying(beside).into.rest();
    expect([...folder.files]).toEqual([['harbour-lane-2026-11-25.bookweft.json', 'first']]);
  });

  it('the browser’s own store may be full: one file a day all the same', async () => {
    const { into, at, change, beside, told } = copying();
    const folder = new Folder();
    await into.use(folder);
    beside.full = true;
    at.now += DAY;
    for (const words of ['second', 'third', 'fourth']) {
      at.now += 31 * MINUTE;
      change(words);
      await into.rest();
    }
    expect([...folder.files.values()]).toEqual(['first', 'fourth']);
    expect(told.at(-1)).not.toHaveProperty('why');
  });
});

describe('the desk', () => {
  async function begun(...words: string[]) {
    const setup = await opened(new MemoryStore(), { beside: new Beside() });
    await must(setup.desk.begin('empty', 'My reading'));
    for (const text of words) await must(setup.desk.saveEntry(draft(text)));
    return setup;
  }
  const textsIn = (folder: Folder): string[][] =>
    [...folder.files.values()].map((file) =>
      (JSON.parse(file) as { entries: { text: string }[] }).entries.map(({ text }) => text),
    );
  async function putInPlace(desk: Setup['desk'], copy: ArrayBuffer): Promise<void> {
    await desk.lookInto('copy', copy);
    await must(desk.takeCopy('replace'));
  }

  it('writes over no copy of a journal that another one of its name was put in place of', async () => {
    const { desk, clock } = await begun('a year of my words');
    const folder = new Folder();
    await must(desk.useCopyFolder(folder));
    const other = await begun('the circle of somebody else');
    clock.now += MINUTE;
    await putInPlace(desk, (await other.desk.copyOut()).bytes);
    clock.now += 31 * MINUTE;
    await must(desk.copyToFolder());
    expect(textsIn(folder)).toEqual([['a year of my words'], ['the circle of somebody else']]);
  });

  it('gives a journal put in place meanwhile nothing of the one that is being copied', async () => {
    const store = new MemoryStore();
    const { desk, clock } = await opened(store, { beside: new Beside() });
    await must(desk.begin('empty', 'My reading'));
    const digest = await desk.keepPicture(new Uint8Array([1, 2, 3]).buffer, 'image/png');
    const picture = { digest, type: 'image/png' as const, alt: 'a bowl', width: 1, height: 1 };
    await must(desk.saveEntry(draft('mine', { picture })));
    const mine = await desk.copyOut();
    const other = await (await begun('another')).desk.copyOut();
    clock.now += MINUTE;
    const { shut, open } = gate();
    const { picture: read } = store;
    store.picture = async (which) => {
      await shut;
      return read.call(store, which);
    };
    const writing = desk.useCopyFolder(new Folder());
    await settled();
    clock.now += MINUTE;
    await putInPlace(desk, other.bytes);
    open();
    await writing;
    expect((await desk.keepState()).copyAt).not.toBe(new Date(clock.now).toISOString());
    clock.now += MINUTE;
    expect(await desk.lookInto('mine', mine.bytes)).toMatchObject({
      compared: { onlyThere: 1 },
    });
    expect(await desk.lookInto('mine', mine.bytes)).not.toHaveProperty('compared.removedHere');
  });

  it('names copies by the day it is, also after the clock has run ahead', async () => {
    const { desk, clock } = await begun('a note');
    const folder = new Folder();
    clock.now = NOON + 1000 * DAY;
    await must(desk.useCopyFolder(folder));
    for (const day of [0, 1]) {
      clock.now = NOON + day * DAY;
      await must(desk.saveEntry(draft(`day ${day}`)));
      await must(desk.copyToFolder());
    }
    expect([...folder.files.keys()].slice(1)).toEqual([
      'my-reading-2026-11-25.bookweft.json',
      'my-reading-2026-11-26.bookweft.json',
    ]);
  });

  it('counts what was changed since a copy that was saved while one was being written', async () => {
    const { desk, clock } = await begun('one', 'two', 'three');
    const folder = new Folder();
    const { shut, open } = gate();
    folder.slow = shut;
    const writing = desk.useCopyFolder(folder);
    await settled();
    clock.now += 1000;
    await desk.copyOut();
    await must(desk.saveEntry(draft('late')));
    clock.now += 1000;
    open();
    await writing;
    expect((await desk.keepState()).sinceCopy).toBe(1);
  });

  it('copies its journal into the folder and knows that a copy was saved', async () => {
    const { desk, told } = await opened(new MemoryStore(), { beside: new Beside() });
    await must(desk.begin('empty', 'Harbour Lane'));
    await must(desk.saveEntry(draft('Kept in a folder.')));
    const folder = new Folder();
    await must(desk.useCopyFolder(folder));
    const [[name, text] = ['', '']] = folder.files;
    expect(name).toBe('harbour-lane-2026-11-25.bookweft.json');
    expect(text).toContain('Kept in a folder.');
    expect(told.keeping.at(-1)).toMatchObject({
      sinceCopy: 0,
      copyAt: new Date(NOON).toISOString(),
      folder: { name: 'Copies', at: new Date(NOON).toISOString() },
    });
    folder.fails = new DOMException('', 'QuotaExceededError');
    await must(desk.saveEntry(draft('One more.')));
    expect(await desk.copyToFolder()).toMatchObject({
      ok: false,
      said: 'No copy could be written into “Copies”: there is no room left.',
    });
    expect((await desk.keepState()).sinceCopy).toBe(1);
    await must(desk.useCopyFolder(undefined));
    expect(told.keeping.at(-1)).not.toHaveProperty('folder');
  });

  it('has nothing to copy before there is a journal', async () => {
    const { desk } = deskOver(new MemoryStore(), { beside: new Beside() });
    await desk.open();
    const folder = new Folder();
    expect((await desk.useCopyFolder(folder)).said).toBe(
      'Copies go into “Copies” once there is a journal',
    );
    expect(folder.files.size).toBe(0);
    await desk.useCopyFolder(undefined);
    expect(await desk.copyToFolder()).toMatchObject({ ok: false, code: 'not-copied' });
  });
});
