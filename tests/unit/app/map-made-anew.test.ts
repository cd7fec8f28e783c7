import { describe, expect, it } from 'vitest';
import { MapState } from '../../../src/app/weave/map.svelte';
import type { Engine } from '../../../src/engine/engine';
import { strandsNow } from '../../../src/engine/strands-held';
import type { MapHits } from '../../../src/engine/weave-answers';
import { removeRow } from '../../../src/journal/make-edits';
import type { EntryId } from '../../../src/journal/records';
import { wovenEngine, weaving } from './weave-demo';

const ask = (map: MapState, core: Engine): Promise<void> =>
  map.ask({}, {}, strandsNow(core).strands);
async function mapOver(core: Engine): Promise<MapState> {
  const map = new MapState(weaving(core));
  await ask(map, core);
  return map;
}
const ids = (core: Engine): EntryId[] =>
  [...core.journal.tables.entries.values()].map(({ id }) => id).sort();
const remove = (core: Engine, id: EntryId): void =>
  expect(core.apply(removeRow(core.journal, 'entries', id))).toMatchObject({ ok: true });
async function litEntries(map: MapState): Promise<string[]> {
  const numbers = [...map.litKeys!].flatMap((key) => (key.startsWith('e:') ? +key.slice(2) : []));
  const rows = await map.desk.weave.mapEntries(map.whole!.made, numbers);
  return rows.map(({ id }) => id).sort();
}

describe('a map of the whole journal that is made anew', () => {
  it('keeps chosen and looked at the entries that were, when another is taken back or removed', async () => {
    const core = wovenEngine();
    const all = ids(core);
    remove(core, all[3]!);
    const map = await mapOver(core);
    map.choose('e:10', true);
    map.choose('e:20', true);
    const before = await map.chosenEntries();
    expect(before).toEqual([all[11], all[21]]);
    core.undo();
    await ask(map, core);
    expect(await map.chosenEntries()).toEqual(before);
    expect(map.focus).toBe('e:21');
    remove(core, all[0]!);
    await ask(map, core);
    expect(await map.chosenEntries()).toEqual(before);
  });

  it('lets go of what is no longer there', async () => {
    const core = wovenEngine();
    const map = await mapOver(core);
    const all = ids(core);
    const heading = map.whole!.headings.at(-1)!.id;
    map.choose(heading, true);
    map.choose('e:11', true);
    map.choose('e:10', true);
    remove(core, all[10]!);
    core.apply(removeRow(core.journal, 'headings', heading));
    await ask(map, core);
    expect([...map.chosen]).toEqual(['e:10']);
    expect(await map.chosenEntries()).toEqual([all[11]]);
    expect(map.focus).toBeUndefined();
  });

  it('keeps what is chosen through several makings of which only the last is shown', async () => {
    const core = wovenEngine();
    const map = await mapOver(core);
    const all = ids(core);
    map.choose('e:10', true);
    remove(core, all[0]!);
    const first = ask(map, core);
    remove(core, all[1]!);
    await Promise.all([first, ask(map, core)]);
    expect(await map.chosenEntries()).toEqual([all[10]]);
  });

  it('keeps lit what the words find, with what has come and without what has gone', async () => {
    const core = wovenEngine();
    const map = await mapOver(core);
    await map.lit.search('storm');
    const before = await litEntries(map);
    expect(before.length).toBeGreaterThan(3);
    remove(
      core,
      ids(core).find((id) => !before.includes(id))!,
    );
    await ask(map, core);
    expect(await litEntries(map)).toEqual(before);
    remove(core, before[0] as EntryId);
    await ask(map, core);
    expect(await litEntries(map)).toEqual(before.slice(1));
    core.undo();
    await ask(map, core);
    await expect.poll(() => litEntries(map)).toEqual(before);
  });

  it('is not broken by a heading that was lit and is gone', async () => {
    const core = wovenEngine();
    const map = await mapOver(core);
    const last = map.whole!.headings.at(-1)!;
    await map.lit.search(last.name);
    expect(map.litKeys).toContain(last.id);
    core.apply(removeRow(core.journal, 'headings', last.id));
    await ask(map, core);
    expect(map.litKeys).not.toContain(last.id);
  });
});

describe('a search on the map', () => {
  it('lights nothing once its field is empty, however late its answer is', async () => {
    const core = wovenEngine();
    let answer: (() => void) | undefined;
    const desk = weaving(core, (weave) => ({
      mapHits: async (text): Promise<MapHits> => {
        const hits = await weave.mapHits(text);
        return new Promise((done) => (answer = () => done(hits)));
      },
    }));
    const map = new MapState(desk);
    await ask(map, core);
    const late = map.lit.search('storm');
    await expect.poll(() => answer).toBeDefined();
    await map.lit.search('');
    answer!();
    await late;
    expect(map.litKeys).toBeUndefined();
  });

  it('is over when the map goes elsewhere and comes back, for its field is empty then', async () => {
    const core = wovenEngine();
    const map = await mapOver(core);
    const { id, kind, name } = map.whole!.headings[0]!;
    map.around([{ id, type: 'heading', kind, text: name }]);
    map.wholeJournal();
    await ask(map, core);
    await map.lit.search('storm');
    expect(map.litKeys!.size).toBeGreaterThan(0);
    map.back();
    map.wholeJournal();
    expect(map.litKeys).toBeUndefined();
  });
});
