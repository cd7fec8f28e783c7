import { describe, expect, it } from 'vitest';
import { foldAt } from '../../../src/app/weave/cloth-keys';
import { WeaveState, type Chosen } from '../../../src/app/weave/weave.svelte';
import { weaving, wovenEngine } from './weave-demo';

async function folded(): Promise<WeaveState> {
  const weave = new WeaveState(weaving(wovenEngine()));
  weave.settings = { ...weave.settings, foldBooks: 'decade', foldThemes: 'strand' };
  await weave.setResolution(0.1);
  const { books, themes } = weave.cloth!;
  const [book, theme] = [books, themes].map((side) => side.find((thread) => thread.folded)!.id);
  choose(weave, 'knot', { book: book!, theme: theme! });
  return weave;
}
const choose = (weave: WeaveState, what: Chosen['what'], at?: { book: string; theme: string }) =>
  weave.choose({ ...weave.chosen!, ...at, what });
async function o(weave: WeaveState): Promise<void> {
  await weave.toggleFold(foldAt(weave.chosen!.what, weave.book, weave.theme)!);
}

describe('O on a crossing of two folds', () => {
  it('opens what is closed, the one and then the other, and stays with what was chosen', async () => {
    const weave = await folded();
    const [decade, strand] = [weave.book!, weave.theme!];
    await o(weave);
    expect(weave.book).toMatchObject({ folded: false, fold: { key: decade.id } });
    expect(decade.headings).toContain(weave.chosen!.book);
    expect(weave.chosen).toMatchObject({ what: 'knot', theme: strand.id });
    await o(weave);
    expect(weave.theme).toMatchObject({ folded: false, fold: { key: strand.id } });
    expect(weave.chosen!.what).toBe('knot');
    expect(weave.book!.folded).toBe(false);
  });

  it('opens and closes the fold of the whole thread that is chosen', async () => {
    const weave = await folded();
    choose(weave, 'theme');
    await o(weave);
    expect(weave.chosen!.what).toBe('theme');
    expect([weave.book!.folded, weave.theme!.folded]).toEqual([true, false]);
    await o(weave);
    expect([weave.book!.folded, weave.theme!.folded]).toEqual([true, true]);
    choose(weave, 'book');
    await o(weave);
    expect([weave.book!.folded, weave.theme!.folded]).toEqual([false, true]);
  });
});
