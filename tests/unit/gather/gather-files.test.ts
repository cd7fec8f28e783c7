import { describe, expect, test } from 'vitest';
import { Engine } from '../../../src/engine/engine';
import {
  acceptablePieces,
  acceptPieces,
  gatherFiles,
  type FileOffered,
  type FileReader,
} from '../../../src/engine/gathering';
import { block, ids, NOW, smallJournal } from './build';

const engine = (): Engine => new Engine(smallJournal(), { now: () => new Date(NOW), newId: ids() });

/** Every line a paragraph; a file called bad is refused. */
const read: FileReader = async function* ({ path, bytes }) {
  if (path.startsWith('throws')) throw new Error('out of reach');
  const lines = new TextDecoder().decode(bytes).split('\n').filter(Boolean);
  yield { path, result: { ok: true, blocks: lines.map((line) => block(line)), notes: [] } };
};
const offered = (path: string, text: string): FileOffered => ({
  path,
  bytes: () => new TextEncoder().encode(text),
});

describe('gathering files through the engine', () => {
  test('reads, sorts and keeps, and gathering again keeps nothing', async () => {
    const own = engine();
    const files = [
      offered('a.txt', 'Why does Mole leave home?\nI read it twice.'),
      offered('b.txt', 'I read it twice!'),
    ];
    const result = await gatherFiles(own, files, undefined, undefined, read);
    expect(result.pieces.map(({ kind }) => kind)).toEqual(['question', 'note', 'note']);
    const accepted = acceptPieces(own, result, acceptablePieces(result.pieces, 'all'));
    expect(own.apply(accepted.edit)).toMatchObject({ ok: true });
    expect(own.journal.tables.entries.size).toBe(2);
    const again = await gatherFiles(own, files, undefined, undefined, read);
    expect(again.pieces.map(({ twinOf }) => twinOf?.entry !== undefined)).toEqual([
      true,
      true,
      true,
    ]);
    expect(acceptPieces(own, again, again.pieces).edit.changes).toEqual([]);
  });

  test('a file that fails fails alone', async () => {
    const result = await gatherFiles(
      engine(),
      [offered('throws.txt', 'x'), offered('a.txt', 'I read it twice.')],
      undefined,
      undefined,
      read,
    );
    expect(result.files.map(({ status }) => status)).toEqual(['unreadable', 'read']);
    expect(result.pieces).toHaveLength(1);
  });

  test('stopped, it answers with what was read and says so', async () => {
    const stop = new AbortController();
    const files = ['a', 'b', 'c'].map((name) => offered(`${name}.txt`, `I read ${name} twice.`));
    const onProgress = ({ path }: { path: string }): void => {
      if (path === 'b.txt') stop.abort();
    };
    const result = await gatherFiles(engine(), files, onProgress, stop.signal, read);
    expect(result.stopped).toBe(true);
    expect(result.files.map(({ path }) => path)).toEqual(['a.txt', 'b.txt']);
  });

  test('many pieces do not hold the thread for long', async () => {
    const lines = Array.from(
      { length: 3000 },
      (_, at) => `Note number ${at} on how Mole and Marilla see the river, page ${at % 300}.`,
    );
    let longest = 0;
    const began = performance.now();
    let last = began;
    const timer = setInterval(() => {
      longest = Math.max(longest, performance.now() - last);
      last = performance.now();
    }, 1);
    const slow: FileReader = async function* (file) {
      yield* read(file);
      last = performance.now();
    };
    const result = await gatherFiles(
      engine(),
      [offered('long.txt', lines.join('\n'))],
      undefined,
      undefined,
      slow,
    );
    clearInterval(timer);
    expect(result.pieces).toHaveLength(3000);
    // A busy machine stretches everything; a single uninterrupted run would last as long as the whole.
    expect(longest).toBeLessThan(Math.max(400, (performance.now() - began) / 4));
  });
});
