/** What was found, asked of a desk over the Harbour Lane journal. */
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, beforeEach, describe, expect, test, vi } from 'vitest';
import { findOf, FindState } from '../../../src/app/find/find.svelte';
import type { FindShown } from '../../../src/engine/answers';
import type { Desk } from '../../../src/engine/desk';
import type { FindQuery } from '../../../src/find/query';
import type { Circle, HeadingId } from '../../../src/journal/records';
import { MemoryStore } from '../../../src/keep/memory-store';
import { must, opened, type Setup } from '../engine/desk-setup';

const DEMO = readFileSync(
  new URL('../../../demo-data/harbour-lane.bookweft.json', import.meta.url),
  'utf8',
);
let desk: Setup['desk'];
let find: FindState;

beforeAll(async () => {
  vi.stubGlobal('document', { hidden: true });
  desk = (await opened(new MemoryStore(), { demo: async () => DEMO })).desk;
  await must(desk.begin('demo'));
  await desk.find({ text: '' });
}, 60_000);
afterAll(() => vi.unstubAllGlobals());
beforeEach(async () => {
  find = new FindState(desk);
  await find.ask();
  await vi.waitUntil(() => find.rows.length === find.result?.hits.length);
});

const chosen = (): string | undefined => find.rows[find.selected]?.id;
const written = (text: string): Promise<unknown> =>
  must(desk.saveEntry({ kind: 'note', text, ties: [], written: '2030-01-01' }));

describe('the chosen row', () => {
  test('stays with its entry when another comes before it', async () => {
    find.choose(4);
    const before = chosen();
    await written('A note from later on.');
    await find.ask({ keep: true });
    expect(find.rows[0]?.text).toBe('A note from later on.');
    expect(chosen()).toBe(before);
  });

  test('stays with its entry when that is the last that was fetched', async () => {
    find.choose(find.rows.length - 1);
    const before = chosen();
    await written('A note from later on.');
    await find.ask({ keep: true });
    expect(chosen()).toBe(before);
  });

  test('is the first while entries come, until one is chosen, and stays with that', async () => {
    const asked = async (query: FindQuery): Promise<FindShown> => ({
      ...(await desk.find(query)),
      coming: 3,
    });
    const early = new FindState({ find: asked } as unknown as Desk);
    await early.ask();
    await written('A note that came later.');
    await early.ask({ keep: true });
    expect(early.selected).toBe(0);
    early.choose(0);
    const before = early.rows[0]?.id;
    await written('One that came still later.');
    await early.ask({ keep: true });
    expect(early.rows[early.selected]?.id).toBe(before);
    expect(early.selected).toBeGreaterThan(0);
    await early.ask();
    expect(early.selected).toBe(0);
  });

  test('is the one in its place when its entry is gone', async () => {
    find.choose(4);
    const next = find.rows[5]?.id;
    await must(desk.removeEntries([find.rows[4]!.id]));
    await find.ask({ keep: true });
    expect(chosen()).toBe(next);
  });

  test('is the first of what a key finds while the journal is asked again', async () => {
    find.choose(7);
    const again = find.ask({ keep: true });
    find.text = 'courage';
    void find.ask({ typing: true });
    void find.ask({ keep: true });
    await again;
    expect(find.result?.total).toBeLessThan(200);
    expect(find.selected).toBe(0);
  });

  test('is known to be of the words typed once what was asked last is answered', async () => {
    await find.answered();
    const first = chosen();
    const open = find.more();
    find.text = 'courage';
    void find.ask({ typing: true });
    await find.answered();
    expect(find.result?.total).toBeLessThan(200);
    expect(chosen()).toBe(find.result?.hits[0]?.id);
    expect(chosen()).not.toBe(first);
    await open;
  });

  test('stays where the journal changes while more rows are fetched', async () => {
    find.choose(25);
    const [before, { anew }] = [chosen(), find];
    const more = find.more();
    void find.ask({ keep: true });
    await more;
    expect(find.rows.length).toBeGreaterThan(30);
    expect(chosen()).toBe(before);
    expect(find.anew).toBe(anew);
  });
});

describe('a theme that narrows the search', () => {
  async function narrowed(): Promise<[HeadingId, HeadingId, number]> {
    const [one, other] = (await desk.headings('', 'theme', 100)).filter(
      ({ entries }) => entries > 3,
    );
    find.toggle('theme', other!.id);
    await vi.waitUntil(() => find.names[other!.id] && !find.busy);
    return [one!.id, other!.id, find.result!.total];
  }

  test('goes on as what it was merged into', async () => {
    const [one, other, total] = await narrowed();
    await must(desk.mergeHeadings(one, other));
    await find.ask({ keep: true });
    expect(find.theme).toEqual([one]);
    expect(find.result!.total).toBeGreaterThanOrEqual(total);
  });

  test('narrows it no more once it is removed', async () => {
    const [, other, total] = await narrowed();
    await must(desk.removeHeading(other));
    await find.ask({ keep: true });
    expect(find.theme).toEqual([]);
    expect(find.result!.total).toBeGreaterThan(total);
  });
});

test('everything found is marked without its rows, beside what was marked', async () => {
  const [first] = find.rows;
  find.mark(first!.id);
  find.toggleKind(first!.kind === 'quote' ? 'note' : 'quote');
  await vi.waitUntil(() => !find.busy);
  const asked = vi.spyOn(desk, 'find');
  await find.markAll();
  expect(asked).not.toHaveBeenCalled();
  asked.mockRestore();
  expect(find.marked.size).toBe(find.result!.total + 1);
  expect(find.rows.every(({ id }) => find.marked.has(id))).toBe(true);
});

test('what is asked after more rows were refused is answered', async () => {
  const refused = vi.spyOn(desk, 'find').mockRejectedValueOnce(new Error('away'));
  await expect(find.more()).rejects.toThrow('away');
  refused.mockRestore();
  find.text = 'courage';
  await find.ask();
  expect(find.result?.total).toBeLessThan(200);
});

describe('who comes back to Find', () => {
  test('finds the search and the marks as they were left, each journal its own', async () => {
    const before = findOf(desk);
    before.text = 'courage';
    await before.ask();
    before.mark(before.rows[0]!.id);
    const back = findOf(desk);
    expect(back.text).toBe('courage');
    expect(back.marked.size).toBe(1);
    expect(back.result?.total).toBeLessThan(200);
    expect(findOf({ ...desk } as unknown as typeof desk).text).toBe('');
  });

  test('has no marks of entries that were removed meanwhile', async () => {
    const [gone, left] = find.rows;
    find.mark(gone!.id);
    find.mark(left!.id);
    await must(desk.removeEntries([gone!.id]));
    await find.unmarkGone();
    expect([...find.marked]).toEqual([left!.id]);
  });

  test('asks nothing of a journal where nothing is marked', async () => {
    const asked = vi.spyOn(desk, 'foundIds');
    await find.unmarkGone();
    expect(asked).not.toHaveBeenCalled();
    asked.mockRestore();
  });

  test('is not kept to a circle that is there no more, with nothing on the page to say so', async () => {
    const circle = (id: string): Circle => ({ id, name: id }) as unknown as Circle;
    find.setUse({ unusedWith: circle('gone').id });
    find.knowCircles([circle('gone')]);
    expect(find.narrowed).toBe(true);
    find.knowCircles([circle('other')]);
    expect(find.narrowed).toBe(false);
    await vi.waitUntil(() => !find.busy);
  });
});

describe('more rows, while the journal changes what comes before them', () => {
  const shown = (): (string | undefined)[] => find.rows.map(({ id }) => id);

  test('never stand twice', async () => {
    await written('One that comes between.');
    await find.more();
    expect(find.rows.length).toBeGreaterThan(50);
    expect(new Set(shown()).size).toBe(find.rows.length);
  });

  test('are asked for with all before them where entries still come, and the choice stays', async () => {
    find.choose(25);
    const before = chosen();
    await written('One that has come.');
    await find.more(true);
    expect(find.rows[0]?.text).toBe('One that has come.');
    expect(find.rows.length).toBe(60);
    expect(new Set(shown()).size).toBe(60);
    expect(chosen()).toBe(before);
  });
});
