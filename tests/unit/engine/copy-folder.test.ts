import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { CopyFolder, type CopiesInto } from '../../../src/engine/copy-folder';
import type { FolderState, KeepState } from '../../../src/engine/desk';
import type { BesideChange } from '../../../src/keep/beside';
import { MemoryBeside } from '../../../src/keep/beside';
import { MemoryStore } from '../../../src/keep/memory-store';
import { draft } from './desk-apart';
import { deskOver, must, NOON, opened } from './desk-setup';

const MINUTE = 60_000;
const DAY = 24 * 60 * MINUTE;

/** A folder as a browser gives it, but for the disk. Names of exceptions are those of the File System standard (WHATWG). */
class Folder implements CopiesInto {
  name = 'Copies';
  leave: PermissionState = 'granted';
  files = new Map<string, string>();
  /** What every writing ends in. */
  fails: DOMException | undefined;

  async getFileHandle(name: string, options?: { create: boolean }) {
    if (!options?.create && !this.files.has(name)) throw new DOMException('none', 'NotFoundError');
    if (!this.files.has(name)) this.files.set(name, '');
    return {
      createWritable: async () => {
        let held = '';
        return {
          write: async (bytes: ArrayBuffer) => {
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

  override async get<T>(key: string): Promise<T | undefined> {
    return this.#held.get(key) as T | undefined;
  }

  override async put(changes: readonly BesideChange[]): Promise<boolean> {
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
    beside.put = async () => {
      throw new Error('the browser stores nothing.');
    };
    const { into } = copying(beside);
    const folder = new Folder();
    expect(await into.use(folder)).toBe(
      'No copy could be written into “Copies”: the browser stores nothing.',
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

describe('the desk', () => {
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
    await desk.useCopyFolder(folder);
    expect(folder.files.size).toBe(0);
  });
});
