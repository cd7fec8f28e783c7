/** What is put by for a guide, in one window and in two, over the storage of one browser. */
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { House } from '../../../src/app/house.svelte';
import type { Desk, DeskEvents, KeepState, Totals } from '../../../src/engine/desk';
import type { EntryId } from '../../../src/journal/records';
import { storedHere } from './stored-here';

const id = (name: string): EntryId => name as EntryId;
const ids = (...names: string[]): EntryId[] => names.map(id);
const totals = (loading = 0): Totals => ({ entries: 9, loading, empty: false }) as Totals;

let held: Map<string, string>;
let windows: EventTarget;

beforeEach(() => {
  held = storedHere();
  windows = new EventTarget();
  vi.stubGlobal('window', windows);
  vi.stubGlobal('location', { hash: '#/find' });
});
afterEach(() => vi.unstubAllGlobals());

interface Opened {
  house: House;
  tell: DeskEvents;
  asked: () => number;
}

/** A window over a journal that has these entries, with what the journal tells it. */
async function opened(has: EntryId[], aside: KeepState['aside'] = []): Promise<Opened> {
  let tell: DeskEvents | undefined;
  const rows = vi.fn(async (wanted: EntryId[]) =>
    wanted.filter((one) => has.includes(one)).map((one) => ({ id: one })),
  );
  const keep: KeepState = { state: 'kept', sinceCopy: 0, aside };
  const desk = {
    listen: async (events: DeskEvents) => {
      tell = events;
    },
    open: async () => totals(5),
    keepState: async () => keep,
    rows,
  } as unknown as Desk;
  const house = new House(desk);
  await house.open();
  return { house, tell: tell!, asked: () => rows.mock.calls.length };
}

/** What the browser tells each other window once one has stored something. */
const told = (): void => {
  for (const key of held.keys())
    windows.dispatchEvent(Object.assign(new Event('storage'), { key }));
};

test('what is put by for a guide is there after the window was closed', async () => {
  const { house } = await opened(ids('a', 'b'));
  house.putInTray(ids('a', 'b'));
  house.takeFromTray(id('a'));
  expect((await opened(ids('a', 'b'))).house.tray).toEqual(ids('b'));
});

test('a second window adds to what the first has put by, and takes out of it', async () => {
  const [one, other] = [await opened(ids('a', 'b')), await opened(ids('a', 'b'))];
  one.house.putInTray(ids('a'));
  // The other has not been told yet.
  other.house.putInTray(ids('b'));
  expect(other.house.tray).toEqual(ids('a', 'b'));
  one.house.takeFromTray(id('a'));
  expect(one.house.tray).toEqual(ids('b'));
  expect((await opened(ids('a', 'b'))).house.tray).toEqual(ids('b'));
});

test('windows agree on what is put by, also when it is emptied', async () => {
  const [one, other] = [await opened(ids('a')), await opened(ids('a'))];
  one.house.putInTray(ids('a'));
  told();
  expect(other.house.inTray(id('a'))).toBe(true);
  other.house.emptyTray();
  told();
  expect(one.house.tray).toEqual([]);
});

test('what the journal no longer has is let go once all of the journal is here, and not before', async () => {
  (await opened([])).house.putInTray(ids('a', 'gone', 'b'));
  const { house, tell, asked } = await opened(ids('a', 'b'));
  tell.changed(totals(3), {});
  expect(asked()).toBe(0);
  tell.changed(totals(), {});
  await vi.waitUntil(() => house.tray.length === 2);
  expect(house.tray).toEqual(ids('a', 'b'));
  // What is removed later on can be taken back, and is put by then as it was.
  tell.changed(totals(), {});
  expect(asked()).toBe(1);
});

test('nothing is let go where a part of the journal could not be read', async () => {
  (await opened([])).house.putInTray(ids('a', 'unread'));
  const { house, tell, asked } = await opened(ids('a'), [{ part: 'May', why: 'It is damaged.' }]);
  tell.changed(totals(), {});
  await Promise.resolve();
  expect(asked()).toBe(0);
  expect(house.tray).toEqual(ids('a', 'unread'));
});

test('where the browser stores nothing, it is put by as long as the window is open', async () => {
  const refuse = (): never => {
    throw new Error('full');
  };
  vi.stubGlobal('localStorage', { getItem: refuse, setItem: refuse, removeItem: refuse });
  const { house } = await opened(ids('a', 'b'));
  house.putInTray(ids('a'));
  house.putInTray(ids('b'));
  house.takeFromTray(id('a'));
  expect(house.tray).toEqual(ids('b'));
});
