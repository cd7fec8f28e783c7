import { describe, expect, test } from 'vitest';
import type { DeskOver } from '../../../src/engine/desk-over';
import { ALL, bench, entriesOf, handed, left } from './bench-setup';
import { must } from './desk-setup';

const OLD = 'The goats were patient with the children.';
const NEW = 'Words that were pasted and are nowhere else.';

const paths = async (desk: DeskOver): Promise<string[]> =>
  (await desk.gathering.bench(ALL)).files!.map(({ path }) => path);
const texts = async (desk: DeskOver): Promise<string[]> =>
  (await left(desk)).map(({ text }) => text);

async function replaced(): Promise<DeskOver> {
  const { desk } = await bench([['old/a.txt', OLD]]);
  await must(desk.gathering.step({ do: 'put-away' }));
  await must(desk.gathering.gather([handed('Pasted.txt', NEW)]));
  return desk;
}

describe('a gathering put away, and another on the bench', () => {
  test('comes back beside the other, and is put away from beside it again', async () => {
    const desk = await replaced();
    const { gathering } = await desk.gathering.bench(ALL);
    await must(desk.undo());
    expect(await texts(desk)).toEqual([OLD, NEW]);
    expect((await desk.gathering.bench(ALL)).name).toBe('old');
    await must(desk.redo());
    expect(await texts(desk)).toEqual([NEW]);
    expect((await desk.gathering.bench(ALL)).gathering).toBe(gathering);
    await must(desk.undo());
    expect(await texts(desk)).toEqual([OLD, NEW]);
  });

  test('is sorted with the other, what is accepted of both being of one gathering', async () => {
    const desk = await replaced();
    await must(desk.undo());
    await must(desk.gathering.step({ do: 'accept', ids: (await left(desk)).map(({ id }) => id) }));
    expect(entriesOf(desk)).toEqual([OLD, NEW]);
    const [record, more] = desk.engine.journal.tables.gatherings.values();
    expect(more).toBeUndefined();
    expect(record?.files.map(({ path }) => path)).toEqual(['old/a.txt', 'Pasted.txt']);
  });

  test('what was decided of either is as it was', async () => {
    const { desk } = await bench([['old/a.txt', `${OLD}\nA second line of the old ones.`]]);
    const [first] = await left(desk);
    await must(desk.gathering.step({ do: 'skip', ids: [first!.id] }));
    await must(desk.gathering.step({ do: 'put-away' }));
    await must(desk.gathering.gather([handed('Pasted.txt', NEW)]));
    await must(desk.undo());
    expect((await desk.gathering.bench(ALL)).counts).toMatchObject({ skipped: 1, left: 2 });
    await must(desk.undo());
    expect((await desk.gathering.bench(ALL)).counts).toMatchObject({ skipped: 0, left: 3 });
  });

  test('a file that is in both is there once', async () => {
    const { desk } = await bench([['old/a.txt', OLD]]);
    await must(desk.gathering.step({ do: 'put-away' }));
    await must(desk.gathering.gather([handed('copy of a.txt', OLD), handed('Pasted.txt', NEW)]));
    await must(desk.undo());
    expect(await paths(desk)).toEqual(['old/a.txt', 'Pasted.txt']);
    await must(desk.redo());
    expect(await paths(desk)).toEqual(['copy of a.txt', 'Pasted.txt']);
  });

  test('what is gathered after it came back stays when it is put away again', async () => {
    const { desk } = await bench([['old/a.txt', OLD]]);
    const { gathering } = await desk.gathering.bench(ALL);
    await must(desk.gathering.step({ do: 'put-away' }));
    await must(desk.undo());
    await must(desk.gathering.gather([handed('Pasted.txt', NEW)]));
    await must(desk.redo());
    expect(await texts(desk)).toEqual([NEW]);
    const view = await desk.gathering.bench(ALL);
    expect(view.gathering).toBeDefined();
    expect(view.gathering).not.toBe(gathering);
  });
});
