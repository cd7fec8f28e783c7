import { expect, test } from 'vitest';
import { droppedFiles } from '../../../src/app/gather/handed';

/** A folder dropped, as a browser hands it over: what is in it a part at a time. */
function dropped(files: number): DataTransfer {
  const file = (at: number): unknown => ({
    isFile: true,
    name: `${at}.txt`,
    fullPath: `/old/${at}.txt`,
    file: (done: (file: File) => void) => done(new File(['x'], `${at}.txt`)),
  });
  let read = 0;
  const entry = {
    isFile: false,
    name: 'old',
    fullPath: '/old',
    createReader: () => ({
      readEntries: (done: (some: unknown[]) => void) => {
        const some = Array.from({ length: Math.min(100, files - read) }, (_, at) =>
          file(read + at),
        );
        read += some.length;
        done(some);
      },
    }),
  };
  const item = { kind: 'file', webkitGetAsEntry: () => entry, getAsFile: () => null };
  return { items: [item] } as unknown as DataTransfer;
}

test('of a folder with more files than are taken at once it is told that there are more', async () => {
  const { files, more } = await droppedFiles(dropped(20_001));
  expect(files).toHaveLength(20_000);
  expect(more).toBe(true);
});

test('a folder that is taken whole is not said to hold more', async () => {
  const { files, more } = await droppedFiles(dropped(250));
  expect(files.map(({ path }) => path).slice(0, 2)).toEqual(['old/0.txt', 'old/1.txt']);
  expect(files).toHaveLength(250);
  expect(more).toBe(false);
});
