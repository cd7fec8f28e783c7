import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { RunState } from '../../../src/app/plan/run.svelte';
import type { GuideView, ItemView } from '../../../src/engine/desk';
import type { Guide } from '../../../src/journal/records';
import { storedHere } from './stored-here';

const item = (text: string): ItemView => ({
  key: text,
  clock: '0.00',
  minutes: 5,
  must: false,
  fixed: false,
  text,
  kind: 'free',
  levelProposed: false,
  reworded: false,
  cues: [],
  frame: false,
  ties: [],
  rested: true,
});
const part = { name: 'Opening', items: [item('First'), item('Second'), item('Third')] };
const view = { parts: [part], spare: [] } as unknown as GuideView;
const run = (id = 'a'): RunState =>
  new RunState({ id, circle: 'c', minutes: 60, parts: [] } as unknown as Guide, view);

beforeEach(() => {
  storedHere();
  vi.useFakeTimers({ now: new Date(2027, 0, 7, 19, 0) });
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

/** A meeting whose first item was asked and kept in the journal. */
function begun(id?: string): RunState {
  const first = run(id);
  first.begin();
  first.say({ note: 'Slow to start' });
  first.done();
  first.keptAs('m1');
  return first;
}

test('a meeting goes on by itself when the guide is opened again within the hour', () => {
  begun();
  vi.setSystemTime(new Date(2027, 0, 7, 19, 40));
  const again = run();
  expect(again.earlier).toBeUndefined();
  expect(again.current?.item.text).toBe('Second');
  expect(again.asMeeting()!.id).toBe('m1');
});

test.each([
  ['the next day', new Date(2027, 0, 8, 6, 0)],
  ['a month later', new Date(2027, 1, 7, 19, 0)],
])('%s a guide begun before asks whether to go on, and by itself begins nothing', (_, now) => {
  begun();
  vi.setSystemTime(now);
  const again = run();
  expect(again.earlier).toBe('2027-01-07');
  again.done();
  expect(again.begun).toBe(0);
  expect(run().earlier).toBe('2027-01-07');
});

test('more than twelve hours after it was begun the same day asks too', () => {
  vi.setSystemTime(new Date(2027, 0, 7, 8, 0));
  begun();
  vi.setSystemTime(new Date(2027, 0, 7, 20, 1));
  expect(run().earlier).toBe('2027-01-07');
});

test('begun anew it is another meeting, and the earlier one stays as it was kept', () => {
  begun();
  vi.setSystemTime(new Date(2027, 1, 7, 19, 0));
  const again = run();
  again.beginAnew();
  expect(again.earlier).toBeUndefined();
  again.done();
  const meeting = again.asMeeting()!;
  expect(meeting.id).toBeUndefined();
  expect(meeting.on).toBe('2027-02-07');
  expect(meeting.items[0]!.note).toBeUndefined();
});

test('gone on with, it is the meeting it was', () => {
  begun();
  vi.setSystemTime(new Date(2027, 1, 7, 19, 0));
  const again = run();
  again.goOn();
  expect(again.earlier).toBeUndefined();
  // Opened again within the hour it goes on without asking once more.
  vi.setSystemTime(new Date(2027, 1, 7, 19, 30));
  expect(run().earlier).toBeUndefined();
  vi.setSystemTime(new Date(2027, 1, 7, 19, 0));
  const meeting = again.asMeeting()!;
  expect(meeting.id).toBe('m1');
  expect(meeting.on).toBe('2027-01-07');
  expect(meeting.items[0]!.note).toBe('Slow to start');
  again.done();
  expect(again.asMeeting()!.items[1]!.minutes ?? 0).toBeLessThan(5);
});

test('another guide that is run meanwhile takes nothing from the first', () => {
  begun('a');
  begun('b').forget();
  expect(run('a').current?.item.text).toBe('Second');
  expect(run('b').begun).toBe(0);
});

test('words are held as they are typed, and kept in the journal once they are finished', () => {
  const one = begun();
  let kept = 0;
  one.onstep = () => (kept += 1);
  one.typed({ note: 'They ask' });
  one.typedOfAll('Begin with');
  expect(kept).toBe(0);
  const again = run();
  expect(again.mark?.note).toBe('They ask');
  expect(again.note).toBe('Begin with');
});
