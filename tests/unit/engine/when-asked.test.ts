import { expect, test } from 'vitest';
import { whenAsked } from '../../../src/engine/when-asked';

interface Part {
  double(of: number): Promise<number>;
}

test('a part of the desk is loaded once, at the first question, and answers it', async () => {
  let loads = 0;
  const part = whenAsked<Part>(async () => {
    loads += 1;
    return { double: async (of) => of * 2 };
  });
  expect(loads).toBe(0);
  expect(await Promise.all([part.double(2), part.double(5)])).toEqual([4, 10]);
  expect(loads).toBe(1);
});

test('a loading that failed is told, and tried again at the next question', async () => {
  let loads = 0;
  const part = whenAsked<Part>(async () => {
    loads += 1;
    if (loads === 1) throw new Error('no network');
    return { double: async (of) => of * 2 };
  });
  await expect(part.double(1)).rejects.toThrow('no network');
  expect(await part.double(1)).toBe(2);
  expect(loads).toBe(2);
});
