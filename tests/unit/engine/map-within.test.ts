import { describe, expect, it } from 'vitest';
import { shownDots, shownHeadings, shownIn, wholeScene } from '../../../src/app/weave/map-whole';
import type { SceneNode } from '../../../src/app/weave/map-scene';
import { mapSvg } from '../../../src/app/weave/map-svg';
import { Engine } from '../../../src/engine/engine';
import { journalMap, mapWithin } from '../../../src/engine/journal-map';
import type { JournalMap } from '../../../src/engine/weave-answers';
import { wovenJournal } from '../../bench/woven-journal';

const engine = (): Engine =>
  new Engine(wovenJournal({ books: 12, themes: 8, strands: 3, each: 8 }), {
    now: () => new Date('2026-01-01T00:00:00.000Z'),
    newId: () => 'new',
  });
const ALL = { kinds: ['book', 'theme', 'person'] as const };
const number = (whole: JournalMap, id: string): number =>
  whole.headings.findIndex((heading) => heading.id === id);

describe('the map of the whole journal', () => {
  it('shows of a stretch of time the entries written in it, and counts those of each heading', () => {
    const core = engine();
    const whole = journalMap(core);
    const span = { from: '2015-01-01', to: '2019-12-31' };
    const within = mapWithin(core, whole.made, { span });
    const ids = [...core.journal.tables.entries.keys()].sort();
    const wanted = ids.map((id) => {
      const { written = '' } = core.journal.tables.entries.get(id)!;
      return Number(written >= span.from && written <= span.to);
    });
    expect([...within.entries]).toEqual(wanted);
    expect(wanted.filter(Boolean).length).toBeGreaterThan(10);
    expect(wanted.filter(Boolean).length).toBeLessThan(ids.length - 10);
    for (const heading of whole.headings) {
      const held = ids.filter(
        (id, at) =>
          wanted[at] === 1 &&
          core.journal.tables.entries.get(id)!.ties.some((tie) => tie.heading === heading.id),
      );
      expect(within.headings[number(whole, heading.id)]).toBe(held.length);
    }
    const shown = shownHeadings(whole, ALL, within);
    expect(shown.every(({ entries }) => entries > 0)).toBe(true);
    expect(shown.length).toBeLessThan(whole.headings.length);
  });

  it('shows of a role the entries that have such a tie, and the headings at the other end', () => {
    const core = engine();
    const whole = journalMap(core);
    const within = mapWithin(core, whole.made, { roles: ['from'] });
    expect(within.entries.every((shown) => shown === 1)).toBe(true);
    const kinds = new Set(shownHeadings(whole, ALL, within).map(({ kind }) => kind));
    expect([...kinds]).toEqual(['book']);
    expect(mapWithin(core, whole.made, { roles: ['by'] }).entries).not.toContain(1);
  });

  it('leaves out other strands and kinds, in the scene and in the picture that is saved', () => {
    const core = engine();
    const whole = journalMap(core);
    const strand = whole.regions.at(-1)!.id!;
    const filters = { kinds: ['book', 'quote'] as const, strand };
    const dots = shownDots(whole, filters, undefined);
    const many = [...whole.regionOf.keys()].filter(dots).length;
    expect(many).toBeGreaterThan(0);
    expect(shownIn(whole, dots)).toEqual(whole.regions.map(({ id }) => (id === strand ? many : 0)));
    const scene = wholeScene(whole, filters, undefined);
    expect(new Set(scene.nodes.map(({ kind }) => kind))).toEqual(new Set(['book']));
    expect(scene.regions.map(({ name }) => name)).toEqual([whole.regions.at(-1)!.name]);
    const svg = mapSvg(scene, 800, (token) => token, 'Some of it');
    expect(svg.match(/h0/g)).toHaveLength(many);
    expect(svg).not.toContain('undefined');
  });

  it('is saved in a picture not much higher than wide, its few things in the middle of it', () => {
    const node = (key: string, y: number): SceneNode => ({
      ...{ key, kind: 'book', label: key, x: 0, y, size: 9 },
    });
    const scene = {
      nodes: [node('a', 0), node('b', -100), node('c', 100)],
      links: [],
      regions: [],
    };
    const svg = mapSvg(scene, 1600, (token) => token, 'Three above each other');
    const [, wide, high] = /width="(\d+)" height="(\d+)"/.exec(svg)!.map(Number);
    expect(wide).toBe(1600);
    expect(high).toBeLessThan(2100);
    const [left, size] = /<svg x="([\d.]+)" y="[\d.]+" width="([\d.]+)"/
      .exec(svg)!
      .slice(1)
      .map(Number);
    expect(left! + size! / 2).toBeCloseTo(800);
  });

  it('is not made anew while nothing has changed, and is after an edit', () => {
    const core = engine();
    const first = journalMap(core);
    expect(journalMap(core).made).toBe(first.made);
    const { id } = [...core.journal.tables.entries.values()][0]!;
    const before = core.journal.tables.entries.get(id)!;
    const after = { ...before, text: 'Other words' };
    core.apply({ does: 'Change', changes: [{ table: 'entries', id, before, after }] });
    expect(journalMap(core).made).not.toBe(first.made);
    expect(mapWithin(core, first.made, {}).entries).toHaveLength(0);
  });
});
