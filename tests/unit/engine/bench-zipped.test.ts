import { strToU8, zipSync } from 'fflate';
import { expect, test } from 'vitest';
import { MemoryBeside } from '../../../src/keep/beside';
import { MemoryStore } from '../../../src/keep/memory-store';
import { ALL, left } from './bench-setup';
import { must, opened } from './desk-setup';

const TABLE =
  'Quotation,Book\n"There is no religion without love.",Black Beauty\n"I want to go home to the mountain.",Heidi\n';

test('a table inside a zip is not offered to be read again: its bytes are not kept', async () => {
  const { desk } = await opened(new MemoryStore(), { beside: new MemoryBeside() });
  const zip = zipSync({ 'notes/quotes.csv': strToU8(TABLE) });
  const files = [
    { path: 'old.zip', file: new Blob([zip as Uint8Array<ArrayBuffer>]) },
    { path: 'other.csv', file: new Blob([TABLE.replace('mountain', 'goats')]) },
  ];
  await must(desk.gathering.gather(files));
  expect((await left(desk)).length).toBeGreaterThan(2);
  const told = (await desk.gathering.bench(ALL)).files!;
  expect(told.map(({ path, table }) => [path, table])).toEqual([
    ['old.zip/notes/quotes.csv', undefined],
    ['other.csv', true],
  ]);
});
