import { describe, expect, test } from 'vitest';
import type { BenchStep } from '../../../src/engine/bench-types';
import type { DeskOver } from '../../../src/engine/desk-over';
import { ALL, bench, entriesOf, handed, idAt, left } from './bench-setup';
import { must } from './desk-setup';

describe('what is accepted', () => {
  const theme = { name: 'Truth', kind: 'theme' } as const;
  const STEPS: [string, (id: string) => BenchStep][] = [
    ['accepted again', (id) => ({ do: 'accept', ids: [id] })],
    ['skipped', (id) => ({ do: 'skip', ids: [id] })],
    ['made another kind', (id) => ({ do: 'kind', ids: [id], kind: 'lesson' })],
    ['tied', (id) => ({ do: 'tie', ids: [id], tie: theme })],
    ['untied', (id) => ({ do: 'untie', id, tie: theme })],
    ['altered', (id) => ({ do: 'alter', id, words: { text: 'Other words.' } })],
    ['split', (id) => ({ do: 'split', id, at: 10 })],
    ['joined', (id) => ({ do: 'join', id })],
  ];
  for (const [how, step] of STEPS) {
    test(`is not ${how} at the bench until it is put back`, async () => {
      const { desk } = await bench();
      const id = await idAt(desk, 1);
      await must(desk.gathering.step({ do: 'accept', ids: [id] }));
      const before = [entriesOf(desk), await desk.gathering.bench({ ...ALL, show: 'accepted' })];
      expect(await desk.gathering.step(step(id))).toMatchObject({ ok: false, code: 'accepted' });
      expect([entriesOf(desk), await desk.gathering.bench({ ...ALL, show: 'accepted' })]).toEqual(
        before,
      );
      await must(desk.gathering.step({ do: 'put-back', ids: [id] }));
      if (how !== 'untied') await must(desk.gathering.step(step(id)));
    });
  }

  test('as a book is not altered at the bench until it is put back', async () => {
    const { desk } = await bench([['old/books.csv', 'Emma']]);
    const id = await idAt(desk, 0);
    await must(desk.gathering.step({ do: 'accept', ids: [id] }));
    const step: BenchStep = { do: 'alter-book', id, book: { finished: '2021' } };
    expect(await desk.gathering.step(step)).toMatchObject({ ok: false, code: 'accepted' });
  });
});

describe('a piece whose words are altered', () => {
  const LONG =
    'The brooch was never lost at all, it was only caught in a shawl of black lace that hung on the chair.';
  const NEARLY =
    'The brooch was never lost at all, it was only caught in the shawl of black lace that hung upon a chair.';

  const nearly = async (): Promise<[DeskOver, string]> => {
    const { desk } = await bench([['old/a.txt', LONG]]);
    await must(desk.gathering.step({ do: 'accept', ids: [await idAt(desk, 0)] }));
    await must(desk.gathering.gather([handed('new/b.txt', NEARLY)]));
    return [desk, await idAt(desk, 0)];
  };

  test('into wholly other ones is no longer nearly alike, and is kept when it is accepted', async () => {
    const [desk, id] = await nearly();
    expect((await left(desk))[0]?.twin).toMatchObject({ exact: false });
    const text = 'Marilla blames Anne before she has looked herself.';
    await must(desk.gathering.step({ do: 'alter', id, words: { text } }));
    expect((await left(desk))[0]?.twin).toBeUndefined();
    await must(desk.gathering.step({ do: 'accept', ids: [id] }));
    expect(entriesOf(desk)).toEqual([LONG, text]);
  });

  test('a little is nearly alike still, and so is one that holds the other', async () => {
    const [desk, id] = await nearly();
    const alter = (text: string): Promise<unknown> =>
      must(desk.gathering.step({ do: 'alter', id, words: { text } }));
    await alter(NEARLY.replace('black lace', 'white lace'));
    expect((await left(desk))[0]?.twin).toMatchObject({ exact: false });
    await alter(
      `${LONG} Marilla blames Anne before she has looked in the shawl herself. ${'What of it? '.repeat(20)}`,
    );
    expect((await left(desk))[0]?.twin).toMatchObject({ exact: false });
  });

  test('is refused where nothing would be left of it', async () => {
    const { desk } = await bench();
    const id = await idAt(desk, 1);
    const before = await left(desk);
    for (const text of ['', ' \n'])
      expect(await desk.gathering.step({ do: 'alter', id, words: { text } })).toMatchObject({
        ok: false,
        code: 'empty',
      });
    expect(await left(desk)).toEqual(before);
    await must(desk.gathering.step({ do: 'alter', id, words: { text: '', title: 'The brooch' } }));
    expect(await desk.gathering.step({ do: 'alter', id, words: { title: '' } })).toMatchObject({
      ok: false,
      code: 'empty',
    });
  });
});
