import { expect, test } from 'vitest';
import { filesPasted } from '../../../src/app/parts/pasted';
import { pastedFiles } from '../../../src/app/gather/handed';

/** A clipboard as a browser hands it over. */
const clipboard = (text: string, ...names: string[]): DataTransfer =>
  ({
    files: names.map((name) => new File(['bytes'], name, { type: 'image/png' })),
    getData: (type: string) => (type === 'text/plain' ? text : ''),
  }) as unknown as DataTransfer;

test.each([
  ['a picture alone', clipboard('', 'image.png'), ['image.png']],
  ['words beside a picture of them', clipboard('She planted mignonette.', 'image.png'), []],
  [
    'cells of a table beside a picture of them',
    clipboard('Book\tPages\nEmma\t474', 'image.png'),
    [],
  ],
  ['files beside their names', clipboard('a.png\nb.png', 'a.png', 'b.png'), ['a.png', 'b.png']],
  ['a file beside its path', clipboard('/home/reader/a.png', 'a.png'), ['a.png']],
  ['words alone', clipboard('She planted mignonette.'), []],
  ['nothing', null, []],
])('pasted: %s', (_, data, names) => {
  expect(filesPasted(data).map(({ name }) => name)).toEqual(names);
});

test('words beside a picture of them are gathered as words', () => {
  const [file, ...others] = pastedFiles(
    clipboard('She planted mignonette.', 'image.png'),
    new Date(0),
  );
  expect(others).toEqual([]);
  expect(file?.path).toMatch(/\.txt$|\.md$/);
});
