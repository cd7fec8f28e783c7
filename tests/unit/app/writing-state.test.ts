/** An entry in the writing, over a desk as the app has it. */
import { beforeAll, describe, expect, test, vi, afterAll } from 'vitest';
import { nextPage, WritingState } from '../../../src/app/write/writing.svelte';
import type { EntryDraft, EntryView } from '../../../src/engine/desk';
import type { EntryId, Level } from '../../../src/journal/records';
import { MemoryStore } from '../../../src/keep/memory-store';
import { must, opened, type Setup } from '../engine/desk-setup';

let desk: Setup['desk'];
beforeAll(async () => {
  vi.stubGlobal('localStorage', undefined);
  vi.stubGlobal('navigator', {});
  desk = (await opened(new MemoryStore())).desk;
  await must(desk.begin('empty'));
});
afterAll(() => vi.unstubAllGlobals());

async function altering(draft: Partial<EntryDraft>): Promise<WritingState> {
  const { id } = await must(
    desk.saveEntry({ kind: 'question', text: 'What did she plant?', ties: [], ...draft }),
  );
  const writing = new WritingState(desk);
  await writing.begin({ id: id as EntryId });
  return writing;
}

async function kept(writing: WritingState): Promise<EntryView> {
  const { id } = await must(writing.keep());
  return (await desk.entry(id as EntryId))!;
}

describe('the level of an entry that is altered', () => {
  test.each<[string, Partial<EntryDraft>, Level | undefined, string | undefined]>([
    ['of a question without a word who gave it', { level: 'evaluate' }, 'evaluate', 'reader'],
    [
      'of a lesson, proposed',
      { kind: 'lesson', level: 'analyse', levelBy: 'proposed' },
      'analyse',
      'proposed',
    ],
    ['of a lesson, given', { kind: 'lesson', level: 'analyse' }, 'analyse', 'reader'],
  ])('%s stays', async (_, given, level, by) => {
    const writing = await altering(given);
    writing.text += ' Say more.';
    await writing.ask();
    expect(writing.draft()).toMatchObject({ level, levelBy: by });
  });

  test('chosen to be none stays none, whatever is proposed', async () => {
    const writing = await altering({ text: 'Which flower was the first to open?' });
    expect(writing.level).toBeDefined();
    writing.level = undefined;
    writing.levelByHand = true;
    await writing.ask();
    expect(writing.draft()).not.toHaveProperty('level');
  });
});

describe('the title', () => {
  test('of a note that was gathered with one can be seen and altered', async () => {
    const writing = await altering({ kind: 'note', title: 'A wrong heading' });
    expect(writing.titled).toBe(true);
    writing.title = '';
    expect(writing.titled).toBe(true);
    expect(writing.draft()).not.toHaveProperty('title');
  });

  test('alone is enough to keep', async () => {
    const writing = await altering({ kind: 'lesson', title: 'Beans in a jar', text: '' });
    expect(writing.problem).toBeUndefined();
    writing.title = ' ';
    expect(writing.problem).toMatch(/nothing to keep/);
  });
});

describe('an entry kept right after the last letter', () => {
  test('is of the kind and level that all of its words tell', async () => {
    const writing = new WritingState(desk);
    await writing.begin({});
    writing.text = 'Mary hid the key.';
    await writing.ask();
    writing.text = 'Why did Mary hide the key?';
    const { entry } = await kept(writing);
    expect(entry).toMatchObject({ kind: 'question', levelBy: 'proposed' });
    expect(entry.level).toBe((await desk.help({ text: entry.text, ties: [] })).level!.level);
  });

  test('is of the kind chosen, and kept where nothing can be told', async () => {
    const writing = new WritingState(desk);
    await writing.begin({});
    writing.choose('note');
    writing.text = 'Why did Mary hide the key at all?';
    const asked = vi.spyOn(desk, 'help').mockRejectedValueOnce(new Error('The desk is busy.'));
    expect((await kept(writing)).entry).toMatchObject({ kind: 'note', text: writing.text });
    expect(asked).toHaveBeenCalled();
    asked.mockRestore();
  });

  test('says what of its words was kept', async () => {
    const writing = new WritingState(desk);
    await writing.begin({});
    writing.text = 'Seeds in a';
    const help = desk.help.bind(desk);
    const asked = vi.spyOn(desk, 'help').mockImplementation(async (draft) => {
      writing.text = 'Seeds in a row.';
      return help(draft);
    });
    const { text, id } = await writing.keep();
    asked.mockRestore();
    expect(text).toBe('Seeds in a row.');
    expect((await desk.entry(id as EntryId))!.entry.text).toBe(text);
  });
});

describe('where it is from', () => {
  const given: Partial<EntryDraft> = {
    source: { note: 'copied from the fly-leaf', place: 'line 4' },
  };

  test('can be cleared, and what a gathering knows of it stays', async () => {
    const writing = await altering(given);
    expect(writing.source).toBe('copied from the fly-leaf');
    writing.source = ' ';
    expect(writing.draft().source).toEqual({ place: 'line 4' });
    await must(desk.saveEntry(writing.draft()));
    expect((await desk.entry(writing.id!))!.entry.source).toEqual({
      place: 'line 4',
    });
  });

  test('is nothing at all where the words were all there was of it', async () => {
    const writing = await altering({ source: { note: 'copied from the fly-leaf' } });
    writing.source = '';
    expect(writing.draft()).not.toHaveProperty('source');
    await must(desk.saveEntry(writing.draft()));
    expect((await desk.entry(writing.id!))!.entry).not.toHaveProperty('source');
  });
});

test.each([
  ['11', '12'],
  [' 9 ', '10'],
  ['9–11', '12'],
  ['12 - 14', '15'],
  ['xii', 'xii'],
  ['', ''],
  ['plate 3', 'plate 3'],
])('after page “%s” comes “%s”', (page, next) => {
  expect(nextPage(page)).toBe(next);
});
