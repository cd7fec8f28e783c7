import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Engine } from '../../../src/engine/engine';
import {
  forwardStrand,
  nameStrand,
  placeHeading,
  takeOver,
} from '../../../src/engine/strands-kept';
import { strandsNow } from '../../../src/engine/strands-held';
import type { StrandsView } from '../../../src/engine/weave-answers';
import type { Edit } from '../../../src/journal/edits';
import { readJournalFile, writeJournalFile } from '../../../src/journal/file';
import type { Journal } from '../../../src/journal/records';

const NOW = '2026-03-01T10:00:00.000Z';
const over = (journal: Journal): Engine =>
  new Engine(journal, { now: () => new Date(NOW), newId: () => 'new' });

function read(text: string): Journal {
  const done = readJournalFile(text);
  if (!done.ok) throw new Error(done.message);
  return done.journal;
}
const demo = (): Journal => read(readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8'));
/** The journal as somebody else opens it from a copy: nothing else is known there. */
const copied = (engine: Engine): Engine => over(read(writeJournalFile(engine.journal)));

function done(engine: Engine, edit: Edit | undefined): StrandsView {
  if (!edit) throw new Error('nothing to do');
  expect(engine.apply(edit)).toMatchObject({ ok: true });
  return strandsNow(engine);
}
const looks = ({ strands }: StrandsView): unknown[] =>
  strands.map(({ id, name, dye, placed }) => [id, name, dye, placed]);
/** What lies in each strand. */
const holds = ({ strands }: StrandsView): unknown[] =>
  strands.map(({ id, central, entries }) => [id, [...central].sort(), entries]);

describe('what a reader says of strands', () => {
  it('goes along with a copy: names, dyes, who was brought forward and where headings were put', () => {
    const engine = over(demo());
    let view = strandsNow(engine);
    const { journal } = engine;
    const [first, second] = view.strands;
    view = done(engine, nameStrand(journal, view, second!.id, ' Letters and lessons '));
    const moved = first!.themes.at(-1)!.id;
    view = done(engine, placeHeading(journal, view, moved, second!.id));
    expect(view.strands.find(({ id }) => id === second!.id)).toMatchObject({
      name: 'Letters and lessons',
      found: second!.name,
      placed: [moved],
    });
    expect(view.strands[0]!.central).not.toContain(moved);
    const there = strandsNow(copied(engine));
    expect(looks(there)).toEqual(looks(view));
    expect(there.resolution).toBe(view.resolution);
  });

  it('brings a strand without a dye forward, in a copy too', () => {
    const engine = over(demo());
    let view = strandsNow(engine, { resolution: 2 });
    const inInk = view.strands.find(({ dye }) => dye === undefined)!;
    view = done(engine, forwardStrand(engine.journal, view, inInk.id, NOW));
    const dye = view.strands.find(({ id }) => id === inInk.id)?.dye;
    expect(dye).toBeTypeOf('number');
    expect(looks(strandsNow(copied(engine)))).toEqual(looks(view));
  });

  it('is taken back like any other edit', () => {
    const engine = over(demo());
    const before = strandsNow(engine);
    const { id } = before.strands[1]!;
    done(engine, nameStrand(engine.journal, before, id, 'Another'));
    expect(engine.undo()).toMatchObject({ ok: true, does: expect.stringMatching(/^Call the str/) });
    expect(looks(strandsNow(engine))).toEqual(looks(before));
    expect(engine.journal.tables.strands.size).toBe(0);
  });

  it('gives a strand back the name that was found, and a heading back its place', () => {
    const engine = over(demo());
    const before = strandsNow(engine);
    const [first, second] = before.strands;
    const theme = first!.themes.at(-1)!.id;
    let view = done(engine, nameStrand(engine.journal, before, second!.id, 'Another'));
    view = done(engine, placeHeading(engine.journal, view, theme, second!.id));
    view = done(engine, placeHeading(engine.journal, view, theme));
    view = done(engine, nameStrand(engine.journal, view, second!.id, ''));
    expect(looks(view)).toEqual(looks(before));
    expect(holds(view)).toEqual(holds(before));
  });

  it('leaves every strand as it was found when putting a heading elsewhere is taken back', () => {
    const engine = over(demo());
    const before = strandsNow(engine);
    for (const strand of before.strands) {
      const other = before.strands.find(({ id }) => id !== strand.id)!;
      for (const { id } of strand.themes.slice(0, 4)) {
        const view = done(engine, placeHeading(engine.journal, before, id, other.id));
        expect(view.strands.find(({ central }) => central.includes(id))?.id).toBe(other.id);
        engine.undo();
        expect(holds(strandsNow(engine))).toEqual(holds(before));
      }
    }
  });

  it('goes on from what was found in the next sitting too, whatever was put where in this one', () => {
    const engine = over(demo());
    const before = strandsNow(engine);
    const [first, second] = before.strands;
    const theme = first!.themes[0]!.id;
    const { kept } = done(engine, placeHeading(engine.journal, before, theme, second!.id));
    const later = copied(engine);
    strandsNow(later, kept);
    const view = done(later, placeHeading(later.journal, strandsNow(later, kept), theme));
    expect(view.strands.find(({ central }) => central.includes(theme))?.id).toBe(first!.id);
  });

  it('puts a heading in one strand only, the last it was put in', () => {
    const engine = over(demo());
    let view = strandsNow(engine);
    const [first, second, third] = view.strands;
    const theme = first!.themes.at(-1)!.id;
    view = done(engine, placeHeading(engine.journal, view, theme, second!.id));
    view = done(engine, placeHeading(engine.journal, view, theme, third!.id));
    const holders = view.strands.filter(({ central }) => central.includes(theme));
    expect(holders.map(({ id }) => id)).toEqual([third!.id]);
  });

  it('is taken over once from what a screen kept before, and never over what the journal holds', () => {
    const engine = over(demo());
    const view = strandsNow(engine);
    const { journal } = engine;
    const [first, second] = view.strands;
    const theme = first!.themes.at(-1)!.id;
    const old = {
      names: { [first!.id]: 'Old name', 'strand-gone': 'Nobody' },
      moved: { [theme]: second!.id },
      forward: [second!.id],
    };
    const now = done(engine, takeOver(journal, view, old, NOW));
    expect(now.strands.find(({ id }) => id === first!.id)?.name).toBe('Old name');
    expect(now.strands.find(({ id }) => id === second!.id)?.placed).toEqual([theme]);
    expect(journal.tables.strands.get(second!.id)?.forward).toBe(NOW);
    expect(takeOver(journal, now, old, NOW)).toBeUndefined();
  });

  it('says nothing of a strand or a heading that is not there', () => {
    const engine = over(demo());
    const view = strandsNow(engine);
    expect(nameStrand(engine.journal, view, 'gone', 'x')).toBeUndefined();
    expect(forwardStrand(engine.journal, view, 'gone', NOW)).toBeUndefined();
    expect(
      placeHeading(engine.journal, view, 'gone' as never, view.strands[0]!.id),
    ).toBeUndefined();
  });
});
