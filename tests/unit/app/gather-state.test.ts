/** The bench as its screen holds it, over a desk. */
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { GatherState } from '../../../src/app/gather/gather.svelte';
import type { House } from '../../../src/app/house.svelte';
import type { DeskOver } from '../../../src/engine/desk-over';
import { ALL as ASK, bench, entriesOf, handed, heldUp } from '../engine/bench-setup';
import { must } from '../engine/desk-setup';

beforeAll(() => void vi.stubGlobal('document', { hidden: true }));
afterAll(() => vi.unstubAllGlobals());

interface Screen {
  desk: DeskOver;
  gather: GatherState;
  said: string[];
}

async function screen(files: [string, string][]): Promise<Screen> {
  const { desk } = await bench(files);
  return screenOver(desk);
}

async function screenOver(desk: DeskOver): Promise<Screen> {
  const said: string[] = [];
  const house = {
    desk,
    revision: 0,
    say: (words: string) => void said.push(words),
    tell: async (doing: Promise<{ said: string }>) => {
      const done = await doing;
      said.push(done.said);
      return done;
    },
  } as unknown as House;
  const gather = new GatherState(house);
  await gather.open();
  return { desk, gather, said };
}

const ANIMALS = ['goat', 'pony', 'kitten', 'badger', 'heron', 'weasel', 'otter'];
const LINES = ANIMALS.map((animal) => `The ${animal} came home.`);
const inHand = ({ gather }: Screen): string | undefined => gather.row?.text;

describe('the piece in hand', () => {
  test('is the one just settled after a step back, and then the one before it', async () => {
    const on = await screen([['a.txt', LINES.join('\n')]]);
    await on.gather.move(4);
    await on.gather.accept();
    expect(inHand(on)).toBe(LINES[5]);
    await on.gather.move(-1);
    expect(inHand(on)).toBe(LINES[4]);
    expect(on.gather.row?.status).toBe('accepted');
    await on.gather.move(-1);
    expect(inHand(on)).toBe(LINES[3]);
    expect(on.gather.rows.map(({ text }) => text)).not.toContain(LINES[4]);
  });

  test('is neither skipped nor made another kind once it is accepted', async () => {
    const on = await screen([['a.txt', LINES[0]!]]);
    await on.gather.accept();
    await on.gather.skip();
    await on.gather.setKind('lesson');
    expect(on.gather.row).toMatchObject({ status: 'accepted', kind: 'note' });
    expect(entriesOf(on.desk)).toEqual([LINES[0]]);
    expect(on.said).toEqual([]);
  });

  test('when keys are pressed fast is the next one', async () => {
    const on = await screen([['a.txt', LINES.join('\n')]]);
    await Promise.all([on.gather.accept(), on.gather.setKind('lesson')]);
    expect(on.gather.row).toMatchObject({ text: LINES[1], kind: 'lesson' });
    expect(on.said).toEqual([]);
  });
});

describe('a piece nearly alike that the reader has altered', () => {
  const LONG =
    'The brooch was never lost at all, it was only caught in a shawl of black lace that hung on the chair.';
  const nearly = async (): Promise<[Screen, string]> => {
    const { desk } = await bench([['a.txt', LONG]]);
    const [row] = (await desk.gathering.bench(ASK)).rows;
    await must(desk.gathering.step({ do: 'accept', ids: [row!.id] }));
    await must(desk.gathering.gather([handed('b.txt', LONG.replace('a shawl', 'the shawl'))]));
    const on = await screenOver(desk);
    return [on, on.gather.row!.id];
  };

  for (const [how, text] of [
    ['a little', LONG.replace('a shawl', 'her best shawl')],
    ['wholly', 'Marilla blames Anne before she has looked herself.'],
  ] as const) {
    test(`${how} is kept beside the other when it is accepted where it was altered`, async () => {
      const [on, id] = await nearly();
      await on.gather.change({ do: 'alter', id, words: { text } });
      await on.gather.acceptAltered(id);
      expect(entriesOf(on.desk)).toEqual([LONG, text]);
    });
  }

  test('is let go by the usual answer where nothing of it was altered', async () => {
    const [on, id] = await nearly();
    await on.gather.accept(id);
    expect(entriesOf(on.desk)).toEqual([LONG]);
  });
});

describe('reading', () => {
  test('is known of by a screen that comes while it goes on, and is over when it is', async () => {
    const { desk } = await bench([]);
    const first = heldUp('old/a.txt', LINES[0]!);
    const doing = desk.gathering.gather([first]);
    await expect.poll(async () => (await desk.gathering.bench(ASK)).progress).toBeDefined();
    const on = await screenOver(desk);
    expect(on.gather.reading).toBe(true);
    first.go();
    await doing;
    await on.gather.look();
    expect(on.gather.reading).toBe(false);
    on.gather.close();
  });

  test('goes on while files brought meanwhile are waited for, and stopped it waits for the reader', async () => {
    const on = await screen([]);
    const { desk, gather } = on;
    const first = heldUp('old/a.txt', LINES[0]!);
    const doing = [gather.gather([first]), gather.gather([handed('b.txt', LINES[1]!)])];
    expect(gather.reading).toBe(true);
    await expect.poll(async () => (await desk.gathering.bench(ASK)).progress).toBeDefined();
    await gather.stop();
    expect(gather.waiting).toBe(2);
    first.go();
    await Promise.all(doing);
    expect(gather.reading).toBe(false);
    expect(gather.waiting).toBe(1);
    expect(new Set(on.said)).toEqual(new Set(['Stopped; 1 still to be read']));
    gather.close();
  });
});
