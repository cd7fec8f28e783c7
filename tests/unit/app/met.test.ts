import fc from 'fast-check';
import { expect, test } from 'vitest';
import { itemsOf, linesOf } from '../../../src/app/plan/met';
import type { ItemView } from '../../../src/engine/desk';
import { NOT_HERE } from '../../../src/journal/labels';
import type { EntryId, MeetingItem } from '../../../src/journal/records';

const inGuide = (entry: string, minutes = 10): ItemView =>
  ({ entry, text: `Text of ${entry}`, kind: 'question', minutes }) as unknown as ItemView;
const words = (text: string, minutes = 5): ItemView =>
  ({ text, kind: 'free', minutes }) as unknown as ItemView;
const id = (entry: string): EntryId => entry as EntryId;

test('a meeting not kept yet has all of the guide as asked, in its minutes', () => {
  expect(itemsOf(linesOf([inGuide('a'), words('Break')]))).toEqual([
    { entry: 'a', minutes: 10, used: true },
    { text: 'Break', minutes: 5, used: true },
  ]);
});

test('a question the guide has lost since stays with the meeting, with its minutes and its note', () => {
  const held: MeetingItem[] = [
    { entry: id('gone'), used: true, minutes: 17, went: 'well', note: 'Ask it again' },
    { entry: id('a'), used: true, minutes: 3 },
  ];
  const told = new Map([[id('gone'), { kind: 'question' as const, text: 'Told' }]]);
  const lines = linesOf([inGuide('a')], held, told);
  expect(lines.map(({ text }) => text)).toEqual(['Told', 'Text of a']);
  expect(itemsOf(lines)).toEqual(held);
  expect(linesOf([], held).map(({ text }) => text)).toEqual([NOT_HERE, NOT_HERE]);
});

test('what the guide has had put in since is offered, and kept only once it is ticked', () => {
  const held: MeetingItem[] = [{ entry: id('a'), used: false }];
  const lines = linesOf([inGuide('new'), inGuide('a')], held);
  expect(lines.map(({ item, used }) => [item.entry, used])).toEqual([
    ['a', false],
    ['new', false],
  ]);
  expect(itemsOf(lines)).toEqual(held);
  lines[1]!.used = true;
  expect(itemsOf(lines)).toEqual([...held, { entry: 'new', minutes: 10, used: true }]);
});

test('a meeting that is opened and kept as it is stays the same, whatever became of the guide', () => {
  const name = fc.constantFrom('a', 'b', 'c', 'd');
  const held = fc.record(
    {
      entry: name.map(id),
      used: fc.boolean(),
      minutes: fc.integer({ min: 1, max: 90 }),
      went: fc.constantFrom('well' as const, 'mixed' as const, 'flat' as const),
      note: fc.constantFrom('For next time', 'Slow'),
    },
    { requiredKeys: ['entry', 'used'] },
  );
  const spoken = fc.record({ text: name, used: fc.boolean() });
  const guide = fc.array(
    fc.oneof(
      name.map((entry) => inGuide(entry)),
      name.map((text) => words(text)),
    ),
  );
  fc.assert(
    fc.property(guide, fc.array(fc.oneof(held, spoken)), (items, kept) => {
      expect(itemsOf(linesOf(items, kept))).toEqual(kept);
    }),
  );
});
