import { describe, expect, test } from 'vitest';
import type { BenchFile } from '../../../src/engine/bench-types';
import type { DeskOver } from '../../../src/engine/desk-over';
import { ALL, bench, entriesOf, handed, heldUp, left } from './bench-setup';
import { must } from './desk-setup';

const filesOf = async (desk: DeskOver): Promise<BenchFile[]> =>
  (await desk.gathering.bench(ALL)).files ?? [];
const texts = async (desk: DeskOver): Promise<string[]> =>
  (await left(desk)).map(({ text }) => text);
/** Until reading has begun. */
const underWay = (desk: DeskOver): Promise<void> =>
  expect.poll(async () => (await desk.gathering.bench(ALL)).progress?.stage).toBe('reading');

describe('files handed over while others are read', () => {
  test('are read after them, and what is said of them waits until they are', async () => {
    const { desk } = await bench([]);
    const first = heldUp('A/1.txt', 'Something in a.');
    const said: string[] = [];
    const note = ({ said: words }: { said: string }): void => void said.push(words);
    const doing = desk.gathering.gather([first]).then(note);
    await underWay(desk);
    const others = [
      desk.gathering.gather([handed('B/2.txt', 'Another thing in b.')]).then(note),
      desk.gathering.gather([]).then(note),
    ];
    await desk.gathering.bench(ALL, true);
    expect(said).toEqual([]);
    first.go();
    await Promise.all([doing, ...others]);
    expect(await texts(desk)).toEqual(['Something in a.', 'Another thing in b.']);
    expect(new Set(said)).toEqual(new Set(['2 pieces to look at']));
  });

  test('and right after these were stopped, are read and so is what was stopped', async () => {
    const { desk } = await bench([]);
    const first = heldUp('A/1.txt', 'Something in a.');
    const doing = desk.gathering.gather([first, handed('A/2.txt', 'More in a.')]);
    await underWay(desk);
    await desk.gathering.stop();
    const on = desk.gathering.gather([handed('B/3.txt', 'Another thing in b.')]);
    first.go();
    await doing;
    await must(on);
    expect((await desk.gathering.bench(ALL)).progress).toBeUndefined();
    expect(await texts(desk)).toEqual(['Something in a.', 'More in a.', 'Another thing in b.']);
  });

  test('that are all hidden are not said to be on the bench already', async () => {
    const { desk } = await bench([]);
    const { said } = await desk.gathering.gather([handed('old/.DS_Store', 'x')]);
    expect(said).toBe('Nothing to read in what was brought; 1 hidden file left alone');
  });
});

/** One file is read, the second is being read and the third waits when the gathering is put away. */
async function awayWhileRead() {
  const { desk } = await bench([['old/a.txt', 'The first thing.']]);
  const second = heldUp('old/b.txt', 'Something in b.');
  const doing = desk.gathering.gather([second, handed('old/c.txt', 'Something in c.')]);
  await underWay(desk);
  const away = desk.gathering.step({ do: 'put-away' });
  second.go();
  return { desk, doing, away };
}

describe('a gathering put away while its files are read', () => {
  test('is put away with what was being read, and nothing of it comes after', async () => {
    const { desk, doing, away } = await awayWhileRead();
    expect((await doing).said).toBe('Stopped; 1 still to be read');
    await must(away);
    const view = await desk.gathering.bench(ALL);
    expect(view.gathering).toBeUndefined();
    expect(view.progress).toBeUndefined();
    expect(await filesOf(desk)).toEqual([]);
  });

  test('comes back with what was read and what was waiting', async () => {
    const { desk, doing, away } = await awayWhileRead();
    await doing;
    await must(away);
    await must(desk.undo());
    expect(await texts(desk)).toEqual(['The first thing.', 'Something in b.']);
    await expect
      .poll(async () => (await desk.gathering.bench(ALL)).progress)
      .toMatchObject({ stage: 'stopped' });
    await must(desk.gathering.gather([]));
    expect(await texts(desk)).toEqual(['The first thing.', 'Something in b.', 'Something in c.']);
    expect(entriesOf(desk)).toEqual([]);
  });

  test('takes along nothing that is brought meanwhile', async () => {
    const { desk } = await bench([]);
    const first = heldUp('old/a.txt', 'The first thing.');
    const doing = desk.gathering.gather([first]);
    await underWay(desk);
    const away = desk.gathering.step({ do: 'put-away' });
    const next = heldUp('Pasted.txt', 'Words that are nowhere else.');
    const later = desk.gathering.gather([next]);
    first.go();
    await doing;
    await must(away);
    next.go();
    await must(later);
    expect(await texts(desk)).toEqual(['Words that are nowhere else.']);
  });

  test('before any of them was, takes those that wait along', async () => {
    const { desk } = await bench([]);
    const first = heldUp('old/a.txt', 'The first thing.');
    const doing = desk.gathering.gather([first, handed('old/b.txt', 'Another thing.')]);
    await underWay(desk);
    await desk.gathering.stop();
    first.go();
    await doing;
    await must(desk.gathering.step({ do: 'put-away' }));
    expect(await filesOf(desk)).toEqual([]);
    expect((await desk.gathering.bench(ALL)).progress).toBeUndefined();
  });
});
