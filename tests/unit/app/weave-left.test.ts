import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { hintsOf } from '../../../src/app/weave/weave-actions';
import { weaveAsLeft, type WeaveLeft } from '../../../src/app/weave/weave-as-left';
import type { Desk } from '../../../src/engine/desk';
import type { Engine } from '../../../src/engine/engine';
import { thingSaid } from '../../../src/engine/chains';
import { removeRow } from '../../../src/journal/make-edits';
import type { HeadingId } from '../../../src/journal/records';
import { wovenEngine, weaving } from './weave-demo';

interface Sitting {
  core: Engine;
  desk: Desk;
  /** Goes to Weave, after so many changes. */
  come: (revision: number, journal?: string) => WeaveLeft['looked'];
}

function sitting(): Sitting {
  const core = wovenEngine();
  const desk = weaving(core);
  return {
    core,
    desk,
    come: (revision, journal = 'Mine') => weaveAsLeft(desk, { journal, revision }).looked,
  };
}
const remove = (core: Engine, table: 'entries' | 'headings', id: string): void =>
  expect(core.apply(removeRow(core.journal, table, id))).toMatchObject({ ok: true });
const headings = (core: Engine, kind: string): HeadingId[] =>
  [...core.journal.tables.headings.values()]
    .filter((heading) => heading.kind === kind)
    .map(({ id }) => id);

describe('Weave, come back to', () => {
  it('is as it was left while nothing has changed', async () => {
    const { come } = sitting();
    const before = come(1);
    before.weave.showing = 'gaps';
    await before.weave.ask();
    const after = come(1);
    expect(after.weave.showing).toBe('gaps');
    expect(after.weave.cloth).toBe(before.weave.cloth);
    expect(after.map).toBe(before.map);
  });

  it('is looked at in the same way after a change, and shows nothing of before it', async () => {
    const { core, come } = sitting();
    const { weave, map, chain } = come(1);
    await weave.ask();
    weave.setSpan({ from: '2000-01-01', to: '2025-12-31' });
    await weave.ask();
    weave.choose({ ...weave.chosen!, what: 'theme' });
    await weave.look();
    weave.showing = 'map';
    weave.side = 'theme';
    const [root, other] = headings(core, 'theme').map((id) => thingSaid(core, id)!);
    map.around([root!]);
    await map.ask({}, {}, []);
    map.pin(map.view!.nodes[1]!.id);
    await chain.connect(root!, other!);
    const after = come(2);
    expect(after.weave).toMatchObject({
      ...{ showing: 'map', side: 'theme', span: weave.span, chosen: weave.chosen },
      ...{ cloth: undefined, knot: undefined },
    });
    expect(after.map).toMatchObject({
      ...{ standing: map.standing, steps: 2 },
      ...{ view: undefined, scene: undefined, whole: undefined },
    });
    expect(after.chain).toMatchObject({ from: root, to: other, view: undefined });
    await after.weave.ask();
    expect(after.weave.chosen).toEqual(weave.chosen);
  });

  it('is not looked at as another journal was', () => {
    const { come } = sitting();
    come(1).weave.showing = 'gaps';
    expect(come(1, 'Another').weave.showing).toBe('cloth');
  });

  it('chooses nothing that was removed meanwhile', async () => {
    const { core, come } = sitting();
    const { weave } = come(1);
    await weave.ask();
    const gone = weave.chosen!.theme;
    weave.choose({ ...weave.chosen!, what: 'theme' });
    remove(core, 'headings', gone);
    const after = come(2).weave;
    await after.ask();
    expect(after.theme?.id).not.toBe(gone);
    expect(after.chosen).toMatchObject({ what: 'book', book: weave.chosen!.book });
  });
});

describe('a map, come back to', () => {
  it('is of the whole journal where what stood in its middle was removed', async () => {
    const { core, come } = sitting();
    const [id] = headings(core, 'theme');
    const { map } = come(1);
    map.around([thingSaid(core, id!)!]);
    await map.ask({}, {}, []);
    remove(core, 'headings', id!);
    const after = come(2).map;
    await after.ask({}, {}, []);
    expect([after.title, after.focus]).toEqual(['The whole journal', undefined]);
    expect(after.scene!.nodes.map(({ key }) => key)).not.toContain(id);
  });

  it('calls what stands in its middle as it is called now', async () => {
    const { core, come } = sitting();
    const [id] = headings(core, 'theme');
    const { map } = come(1);
    map.around([{ ...thingSaid(core, id!)!, text: 'As it was called' }]);
    const after = come(2).map;
    await after.ask({}, {}, []);
    expect(after.title).toBe(`Around ${core.journal.tables.headings.get(id!)!.name}`);
  });

  it('keeps chosen the entries that were, and none that was removed', async () => {
    const { core, come } = sitting();
    const all = [...core.journal.tables.entries.keys()].sort();
    const { map } = come(1);
    await map.ask({}, {}, []);
    map.choose('e:10', true);
    map.choose('e:20', true);
    remove(core, 'entries', all[10]!);
    remove(core, 'entries', all[0]!);
    const after = come(3).map;
    await after.ask({}, {}, []);
    expect(await after.chosenEntries()).toEqual([all[20]]);
    expect(after.chosen.size).toBe(1);
  });

  it('keeps chosen around something what is still there', async () => {
    const { core, come } = sitting();
    const { map } = come(1);
    map.around([thingSaid(core, headings(core, 'theme')[0]!)!]);
    await map.ask({}, {}, []);
    const [, stays, goes] = map.view!.nodes.filter(({ type }) => type === 'heading');
    map.choose(stays!.id, true);
    map.choose(goes!.id, true);
    remove(core, 'headings', goes!.id);
    const after = come(2).map;
    await after.ask({}, {}, []);
    expect([...after.chosen]).toEqual([stays!.id]);
  });

  it('stays lit by the words that were looked for', async () => {
    const { core, come } = sitting();
    const { map } = come(1);
    await map.ask({}, {}, []);
    await map.lit.search('storm');
    const lit = map.litKeys!.size;
    expect(lit).toBeGreaterThan(1);
    remove(core, 'entries', [...core.journal.tables.entries.keys()].sort()[0]!);
    const after = come(2).map;
    expect(after.lit.words).toBe('storm');
    await after.ask({}, {}, []);
    await expect.poll(() => after.litKeys?.size ?? 0).toBeGreaterThanOrEqual(lit - 1);
  });
});

describe('a link into the weave', () => {
  let state: unknown;
  beforeEach(() => {
    state = null;
    vi.stubGlobal('history', {
      get state() {
        return state;
      },
      replaceState: (next: unknown) => (state = next),
    });
  });
  afterEach(() => vi.unstubAllGlobals());

  it('is followed whenever it is pressed, and not where the reader is back at it', () => {
    const { desk } = sitting();
    const come = (): WeaveLeft => weaveAsLeft(desk, { journal: 'Mine', revision: 1 });
    expect(come().follows('one')).toBe(true);
    expect(come().follows('one')).toBe(false);
    // Back at it after a change of the journal.
    expect(weaveAsLeft(desk, { journal: 'Mine', revision: 2 }).follows('one')).toBe(false);
    const first = state;
    state = null;
    expect(come().follows('one')).toBe(true);
    state = null;
    expect(come().follows('two')).toBe(true);
    // Back past another that was followed: what is shown is the other's.
    state = first;
    expect(come().follows('one')).toBe(true);
  });
});

describe('the keys that are told', () => {
  it('have that of folds where the cloth has folds, and nowhere else', async () => {
    const { weave } = sitting().come(1);
    await weave.ask();
    const told = (): string[] => hintsOf(weave).flatMap(({ keys }) => keys);
    expect(told()).not.toContain('O');
    weave.settings = { ...weave.settings, foldBooks: 'decade' };
    await weave.ask();
    expect(told()).toContain('O');
    weave.showing = 'map';
    expect(told()).not.toContain('O');
  });
});
