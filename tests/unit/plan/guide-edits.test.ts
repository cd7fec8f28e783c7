import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  addPart,
  asSpare,
  changeItem,
  changePart,
  dropSpare,
  fromSpare,
  letIn,
  moveItem,
  putAside,
  putIn,
  removePart,
  stepFrom,
  takeOut,
  worthKey,
  type At,
} from '../../../src/app/plan/guide-edits';
import type { EntryId, Guide, GuideItem } from '../../../src/journal/records';

const id = (name: string): EntryId => name as EntryId;
const item = (name: string, more: Partial<GuideItem> = {}): GuideItem => ({
  entry: id(name),
  minutes: 5,
  must: false,
  ...more,
});
const BREAK: GuideItem = { free: 'break', text: 'Tea', minutes: 10, must: false, fixed: true };

/** Parts of items by their names: `guideOf('ab', 'c', '')`. */
const guideOf = (...parts: string[]): Guide => ({
  id: 'g' as Guide['id'],
  title: 'Home',
  shape: 'discussion',
  focus: { words: ['home'], headings: [], entries: [] },
  minutes: 60,
  parts: parts.map((names, at) => ({
    name: `Part ${at}`,
    minutes: 15,
    items: [...names].map((name) => item(name)),
  })),
  made: '2026-11-25T12:00:00Z',
});
const names = (guide: Guide): string[] =>
  guide.parts.map(({ items }) => items.map(({ entry, text }) => entry ?? text).join(''));
const touched = (guide: Guide): string[] =>
  guide.parts.flatMap(({ items }) => items.flatMap(({ entry, fixed }) => (fixed ? entry! : [])));

describe('moving', () => {
  test('puts an item where it is wanted, in its part or another, and marks only it as set by hand', () => {
    const guide = guideOf('abc', 'd', '');
    const down = moveItem(guide, { part: 0, item: 0 }, { part: 0, item: 1 });
    expect(names(down)).toEqual(['bac', 'd', '']);
    expect(touched(down)).toEqual(['a']);
    expect(names(moveItem(guide, { part: 0, item: 1 }, { part: 2, item: 0 }))).toEqual([
      'ac',
      'd',
      'b',
    ]);
  });

  test('a step past the edge of a part goes into the next one, and ends at the ends', () => {
    const guide = guideOf('ab', '', 'c');
    expect(stepFrom(guide, { part: 0, item: 0 }, 1)).toEqual({ part: 0, item: 1 });
    expect(stepFrom(guide, { part: 0, item: 1 }, 1)).toEqual({ part: 1, item: 0 });
    expect(stepFrom(guide, { part: 2, item: 0 }, -1)).toEqual({ part: 1, item: 0 });
    expect(stepFrom(guide, { part: 0, item: 0 }, -1)).toBeUndefined();
    expect(stepFrom(guide, { part: 2, item: 0 }, 1)).toBeUndefined();
  });

  test('down and up again comes back to where it was, whatever the guide', () => {
    const partsArb = fc.array(fc.nat(4), { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(partsArb, fc.nat(30), fc.boolean(), (sizes, pick, up) => {
        let next = 0;
        const letters = sizes.map((size) =>
          Array.from({ length: size }, () => String.fromCharCode(97 + (next += 1))).join(''),
        );
        const guide = guideOf(...letters);
        const places = guide.parts.flatMap((part, p) =>
          part.items.map((_, i): At => ({ part: p, item: i })),
        );
        fc.pre(places.length > 0);
        const at = places[pick % places.length]!;
        const step = up ? -1 : 1;
        const to = stepFrom(guide, at, step);
        if (!to) return;
        const moved = moveItem(guide, at, to);
        expect(names(moved).join('').length).toBe(places.length);
        const back = stepFrom(moved, to, -step)!;
        expect(names(moveItem(moved, to, back))).toEqual(names(guide));
      }),
    );
  });
});

describe('altering', () => {
  const guide = guideOf('ab', 'c');
  const at = { part: 0, item: 1 };

  test('keeps the wording, minutes and level, and marks the item as set by hand', () => {
    const altered = changeItem(guide, at, { text: 'Put another way?', minutes: 7, level: 'apply' });
    expect(altered.parts[0]!.items[1]).toEqual({
      ...item('b'),
      text: 'Put another way?',
      minutes: 7,
      level: 'apply',
      fixed: true,
    });
    expect(altered.parts[0]!.items[0]).toBe(guide.parts[0]!.items[0]);
    expect(guide.parts[0]!.items[1]).toEqual(item('b'));
  });

  test('a wording that is taken back leaves no empty field behind', () => {
    const reworded = changeItem(guide, at, { text: 'Otherwise' });
    const [, back] = changeItem(reworded, at, { text: undefined }).parts[0]!.items;
    expect(Object.keys(back!)).not.toContain('text');
  });

  test('what is not there is not altered', () => {
    expect(names(changeItem(guide, { part: 4, item: 0 }, { minutes: 1 }))).toEqual(names(guide));
    expect(changePart(guide, 9, { name: 'No' })).toEqual(guide);
  });
});

describe('putting in and taking out', () => {
  test('a break goes where it is put, and out again without a trace', () => {
    const guide = guideOf('ab', 'c');
    const put = putIn(guide, { part: 0, item: 1 }, BREAK);
    expect(names(put)).toEqual(['aTeab', 'c']);
    expect(takeOut(put, { part: 0, item: 1 }, 'aside')).toEqual(guide);
  });

  test('put aside, an entry is refused once, leaves the spares, and can be let in again', () => {
    const guide = { ...guideOf('ab'), spare: [item('a'), item('x')] };
    const aside = takeOut(guide, { part: 0, item: 0 }, 'aside');
    expect(names(aside)).toEqual(['b']);
    expect(aside.refused).toEqual(['a']);
    expect(aside.spare).toEqual([item('x')]);
    expect(putAside(aside, id('a')).refused).toEqual(['a']);
    expect(letIn(aside, id('a')).refused).toEqual([]);
  });

  test('held ready, an item is no must any more and stands before the spares that were found', () => {
    const guide = {
      ...guideOf('ab'),
      spare: [item('k', { fixed: true }), item('f'), item('a')],
    };
    guide.parts[0]!.items[0] = item('a', { must: true, text: 'Mine' });
    const { spare, parts } = takeOut(guide, { part: 0, item: 0 }, 'spare');
    expect(parts[0]!.items).toEqual([item('b')]);
    expect(spare).toEqual([
      item('k', { fixed: true }),
      item('a', { text: 'Mine', fixed: true }),
      item('f'),
    ]);
  });

  test('words of one’s own are held ready beside others, not instead of them', () => {
    const own: GuideItem = { text: 'One', minutes: 3, must: false };
    const other: GuideItem = { text: 'Two', minutes: 3, must: false };
    expect(asSpare(asSpare(guideOf(''), own), other).spare).toHaveLength(2);
  });

  test('a spare is put in whole, and others stay in their order', () => {
    const guide = { ...guideOf('ab'), spare: [item('x'), item('y', { text: 'Y?' }), item('z')] };
    const put = fromSpare(guide, 1, { part: 0, item: 2 });
    expect(put.parts[0]!.items[2]).toEqual(item('y', { text: 'Y?', fixed: true }));
    expect(put.spare).toEqual([item('x'), item('z')]);
    expect(fromSpare(guide, 7, { part: 0, item: 0 })).toBe(guide);
    expect(dropSpare(guide, 0).spare).toEqual([item('y', { text: 'Y?' }), item('z')]);
  });

  test('nothing is taken out where nothing is', () => {
    const guide = guideOf('a');
    expect(takeOut(guide, { part: 0, item: 3 }, 'away')).toBe(guide);
  });
});

describe('parts', () => {
  test('another part stands before the closing', () => {
    const guide = addPart(guideOf('a', 'b'), 'Tea', 10);
    expect(guide.parts.map(({ name }) => name)).toEqual(['Part 0', 'Tea', 'Part 1']);
    expect(guide.parts[1]).toEqual({ name: 'Tea', minutes: 10, items: [] });
  });

  test('what stood in a part that is taken out goes to its neighbour, set by hand', () => {
    expect(names(removePart(guideOf('a', 'bc', 'd'), 1))).toEqual(['abc', 'd']);
    expect(names(removePart(guideOf('ab', 'c'), 0))).toEqual(['abc']);
    expect(touched(removePart(guideOf('a', 'bc', 'd'), 1))).toEqual(['b', 'c']);
  });

  test('the last part cannot be taken out', () => {
    expect(names(removePart(guideOf('ab'), 0))).toEqual(['ab']);
  });
});

describe('the key of what a guide is worth', () => {
  const guide = guideOf('ab', 'c');
  const at = { part: 0, item: 0 };

  test('changes with what is held, its time, its level and its place', () => {
    const keys = [
      guide,
      changeItem(guide, at, { minutes: 6 }),
      changeItem(guide, at, { level: 'apply' }),
      moveItem(guide, at, { part: 1, item: 0 }),
      putIn(guide, at, BREAK),
      putAside(guide, id('x')),
      changePart(guide, 0, { minutes: 20 }),
    ].map(worthKey);
    expect(new Set(keys).size).toBe(keys.length);
  });

  test('does not change with a title, a day or a cue', () => {
    const set = changeItem(guide, at, {});
    const same = changeItem({ ...guide, title: 'Other', starts: '2026-12-03T19:00' }, at, {
      cue: 'Slowly',
    });
    expect(worthKey(same)).toBe(worthKey(set));
  });
});
