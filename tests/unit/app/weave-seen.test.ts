import { describe, expect, it } from 'vitest';
import { MapState } from '../../../src/app/weave/map.svelte';
import { seeInWeave } from '../../../src/app/weave/see-in-weave';
import { WeaveState } from '../../../src/app/weave/weave.svelte';
import { Engine } from '../../../src/engine/engine';
import type { Entry, Heading } from '../../../src/journal/records';
import { book, entry, journalOf, person, theme, tieTo } from '../journal/few';
import { weaving } from './weave-demo';

interface Woven {
  weave: WeaveState;
  map: MapState;
}

async function woven(...rows: (Entry | Heading)[]): Promise<Woven> {
  const core = new Engine(journalOf(...rows), {
    now: () => new Date('2026-11-25T12:00:00Z'),
    newId: () => 'new',
  });
  const desk = weaving(core);
  const weave = new WeaveState(desk);
  await weave.ask();
  return { weave, map: new MapState(desk) };
}
const tied = (id: string, ...to: string[]): Entry =>
  entry(id, { ties: to.map((heading) => tieTo(heading)) });
const BOOKS = [book('b'), book('c'), book('d')];
const cloth = (): Promise<Woven> =>
  woven(
    ...[...BOOKS, book('bare'), theme('t'), person('p')],
    ...[tied('e1', 'b', 't', 'p'), tied('e2', 'c', 't'), tied('e3', 'd', 't')],
  );
/** What stands in the middle of the map, where that is shown. */
const middle = ({ weave, map }: Woven): string[] =>
  weave.showing === 'map' ? map.standing.roots.map(({ id, text }) => `${id}: ${text}`) : [];

describe('what is to be seen in the weave', () => {
  it.each([
    ['an entry', 'e1', 'e1: Text of e1'],
    ['a person', 'p', 'p: Person p'],
    ['a book without an entry', 'bare', 'bare: Book bare'],
  ])('is in the middle of a map where it is no thread of the cloth: %s', async (_, id, said) => {
    const at = await cloth();
    expect(await seeInWeave(at.weave, at.map, id)).toBe(true);
    expect(middle(at)).toEqual([said]);
  });

  it.each([
    ['b', 'book'],
    ['t', 'theme'],
  ] as const)('is the whole thread where it lies on the cloth: %s', async (id, what) => {
    const { weave, map } = await cloth();
    weave.showing = 'gaps';
    expect(await seeInWeave(weave, map, id)).toBe(true);
    expect(weave).toMatchObject({ showing: 'cloth', side: what, chosen: { what, [what]: id } });
  });

  it('stays on the table where that is shown, for it tells of the thread too', async () => {
    const { weave, map } = await cloth();
    weave.showing = 'table';
    await seeInWeave(weave, map, 'b');
    expect(weave.showing).toBe('table');
  });

  it('is in the middle of a map where there is no cloth to lie on', async () => {
    const few = await woven(book('b'), theme('t'), tied('e1', 'b', 't'));
    await seeInWeave(few.weave, few.map, 'b');
    expect(middle(few)).toEqual(['b: Book b']);
  });

  it('is told to be gone where the journal has it no more, and all stays as it is', async () => {
    const at = await cloth();
    expect(await seeInWeave(at.weave, at.map, 'gone')).toBe(false);
    expect([at.weave.showing, at.map.isWhole]).toEqual(['cloth', true]);
  });
});

describe('books with entries of which none is tied to a theme', () => {
  const plain = (): Promise<Woven> =>
    woven(...BOOKS, tied('e1', 'b'), tied('e2', 'c'), tied('e3', 'd'));

  it('are no cloth, and the other showings can be looked at', async () => {
    const { weave } = await plain();
    expect(weave.bare).toBe(true);
    weave.showing = 'map';
    expect(weave.bare).toBe(false);
  });

  it('are each seen in the middle of a map', async () => {
    const at = await plain();
    await seeInWeave(at.weave, at.map, 'b');
    expect(middle(at)).toEqual(['b: Book b']);
  });
});
