/** What is written on a heading that is merged into another or removed meanwhile. */
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { WritingState } from '../../../src/app/write/writing.svelte';
import type { WritingStart } from '../../../src/app/house.svelte';
import type { EntryId, HeadingId, HeadingKind, Tie } from '../../../src/journal/records';
import { MemoryStore } from '../../../src/keep/memory-store';
import { must, opened, type Setup } from '../engine/desk-setup';
import { storedHere } from './stored-here';

let desk: Setup['desk'];
let held: Map<string, string>;
let bravery: HeadingId;
let courage: HeadingId;
let heidi: HeadingId;
beforeEach(async () => {
  held = storedHere();
  vi.stubGlobal('navigator', {});
  desk = (await opened(new MemoryStore())).desk;
  await must(desk.begin('empty'));
  bravery = await made('theme', 'Bravery');
  courage = await made('theme', 'Courage');
  heidi = await made('book', 'Heidi');
});
afterEach(() => vi.unstubAllGlobals());

const made = async (kind: HeadingKind, name: string): Promise<HeadingId> =>
  (await must(desk.makeHeading(kind, name))).id as HeadingId;

const about = (...headings: HeadingId[]): WritingStart => ({
  ties: headings.map((heading): Tie => ({ heading, role: 'about', by: 'reader' })),
});

async function begun(start: WritingStart): Promise<WritingState> {
  const writing = new WritingState(desk);
  await writing.begin(start);
  return writing;
}

/** Words written on something and left unfinished. */
async function left(start: WritingStart, text = 'She goes in first.'): Promise<void> {
  const writing = await begun(start);
  writing.text = text;
  writing.store();
  writing.close();
}

const headings = (writing: WritingState): HeadingId[] =>
  writing.draft().ties.map(({ heading }) => heading);

describe('a sheet that is open meanwhile', () => {
  test('keeps the entry on what its heading was merged into', async () => {
    const writing = await begun(about(bravery));
    writing.text = 'She goes in first.';
    await must(desk.mergeHeadings(courage, bravery));
    const { id } = await must(writing.keep());
    const { entry } = (await desk.entry(id as EntryId))!;
    expect(entry.ties).toMatchObject([{ heading: courage, role: 'about', by: 'reader' }]);
  });

  test('says which heading was removed, and keeps it without at the next asking', async () => {
    const writing = await begun({
      ties: [...about(bravery).ties!, { heading: heidi, role: 'from', by: 'reader' }],
    });
    writing.text = 'She goes in first.';
    await must(desk.removeHeading(bravery));
    expect(await writing.keep()).toMatchObject({
      ok: false,
      said: '“Bravery” is no longer in the journal, and the tie to it is left out. Keep once more to keep it so.',
    });
    const { id } = await must(writing.keep());
    expect((await desk.entry(id as EntryId))!.entry.ties).toMatchObject([{ heading: heidi }]);
  });

  test('does not put the page of a book that was removed on another', async () => {
    const sara = await made('book', 'A Little Princess');
    const writing = await begun({
      ties: [heidi, sara].map((heading): Tie => ({ heading, role: 'from', by: 'reader' })),
    });
    writing.text = 'She goes in first.';
    writing.page = '12';
    await must(desk.removeHeading(heidi));
    await writing.keep();
    expect(writing.draft().ties).toEqual([{ heading: sara, role: 'from', by: 'reader' }]);
  });
});

test('changes put by come back tied as the headings are now', async () => {
  const { id } = await must(
    desk.saveEntry({ kind: 'note', text: 'She goes in.', ties: about(bravery).ties! }),
  );
  await left({ id: id as EntryId }, 'She goes in first, always.');
  await must(desk.mergeHeadings(courage, bravery));
  const writing = await begun({ id: id as EntryId });
  expect(writing.text).toBe('She goes in first, always.');
  expect(writing.tied.map(({ name }) => name)).toEqual(['Courage']);
  await must(writing.keep());
  const { entry } = (await desk.entry(id as EntryId))!;
  expect(entry).toMatchObject({
    text: 'She goes in first, always.',
    ties: [{ heading: courage }],
  });
});

test('an unfinished entry says which of its headings was removed', async () => {
  const writing = await begun({});
  writing.text = 'She goes in first.';
  writing.tie({ id: bravery, name: 'Bravery', kind: 'theme' });
  writing.close();
  await must(desk.removeHeading(bravery));
  const again = await begun({});
  expect(again.text).toBe('She goes in first.');
  expect(headings(again)).toEqual([]);
  expect(again.lostSaid).toBe(
    '“Bravery” is no longer in the journal, and the tie to it is left out.',
  );
});

test('where a part of the journal could not be read, no tie is taken for gone', async () => {
  const writing = await begun({});
  writing.text = 'She goes in first.';
  writing.tie({ id: bravery, name: 'Bravery', kind: 'theme' });
  writing.close();
  await must(desk.removeHeading(bravery));
  const keeping = await desk.keepState();
  vi.spyOn(desk, 'keepState').mockResolvedValue({
    ...keeping,
    aside: [{ part: 'base-headings', why: 'It is cut short.' }],
  });
  expect(headings(await begun({}))).toEqual([bravery]);
});

describe('an unfinished entry begun on a heading', () => {
  test('that was merged comes back on what that was merged into', async () => {
    await left(about(bravery));
    await must(desk.mergeHeadings(courage, bravery));
    const writing = await begun(about(courage));
    expect(writing).toMatchObject({ text: 'She goes in first.', recovered: true });
    expect(headings(writing)).toEqual([courage]);
    await must(writing.keep());
    writing.forget();
    expect([...held.keys()]).toEqual([]);
  });

  test('that was merged, and on a book, comes back on both', async () => {
    await left(about(heidi, bravery));
    await must(desk.mergeHeadings(courage, bravery));
    expect((await begun(about(courage))).text).toBe('');
    expect((await begun(about(heidi, courage))).text).toBe('She goes in first.');
  });

  test('that was removed comes back when something is written on nothing', async () => {
    await left(about(bravery));
    await must(desk.removeHeading(bravery));
    expect((await begun(about(courage))).text).toBe('');
    const writing = await begun({});
    expect(writing.text).toBe('She goes in first.');
    expect(writing.lost).toEqual(['Bravery']);
  });

  test('is not taken for another while its heading is there, nor before what was begun on nothing', async () => {
    await left(about(bravery));
    await left({}, 'On nothing.');
    await left({ text: 'Some words' }, 'Some words, and more.');
    expect((await begun({})).text).toBe('On nothing.');
    await must(desk.removeHeading(bravery));
    expect((await begun({})).text).toBe('On nothing.');
    held.delete('bookweft.draft');
    expect((await begun({})).text).toBe('She goes in first.');
  });
});
