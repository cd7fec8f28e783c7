/** A desk with files on its bench, read line by line, for tests of gathering. */
import type { BenchAsk, BenchRow, BenchView, FileHanded } from '../../../src/engine/bench-types';
import type { DeskOver } from '../../../src/engine/desk-over';
import type { FileReader } from '../../../src/engine/gathering';
import { MemoryBeside, type RecordsBeside } from '../../../src/keep/beside';
import { MemoryStore } from '../../../src/keep/memory-store';
import type { JournalStore } from '../../../src/keep/store';
import { block } from '../gather/build';
import { must, opened, type Setup } from './desk-setup';

/** Every line a paragraph under its file's name; `bad` files are refused, in `.csv` every line is a book, with its list after a `|`; in `.ics` a meeting. */
export const reader: FileReader = async function* ({ path, bytes }) {
  const text = new TextDecoder().decode(bytes);
  if (path.includes('bad')) {
    yield {
      path,
      result: { ok: false, code: 'damaged', message: 'It is damaged. Save it again.' },
    };
    return;
  }
  const lines = text.split('\n').filter(Boolean);
  const place = (at: number): { line: number; note: string } => ({
    line: at + 1,
    note: `line ${at + 1}`,
  });
  if (path.endsWith('.csv')) {
    const books = lines.map((line, at) => {
      const [title = '', list] = line.split('|');
      const more = list ? { list } : {};
      return { title, authors: ['Anna Sewell'], finished: '2019', ...more, place: place(at) };
    });
    yield { path, result: { ok: true, blocks: [], books, notes: [] } };
    return;
  }
  if (path.endsWith('.ics')) {
    const meetings = lines.map((title, at) => ({ title, on: '2019-05-04', place: place(at) }));
    yield { path, result: { ok: true, blocks: [], meetings, notes: [] } };
    return;
  }
  const blocks = lines.map((line, at) => block(line, { place: place(at), under: [path] }));
  yield { path, result: { ok: true, blocks, notes: [] } };
};

export const handed = (path: string, text: string): { path: string; file: Blob } => ({
  path,
  file: new Blob([text]),
});

/** A file that is not read until it is let go. */
export function heldUp(path: string, text: string): FileHanded & { go: () => void } {
  const { file } = handed(path, text);
  const read = file.arrayBuffer.bind(file);
  let go = (): void => undefined;
  const gone = new Promise<void>((resolve) => (go = resolve));
  file.arrayBuffer = () => gone.then(read);
  return { path, file, go };
}

export const ALL: BenchAsk = { show: 'left', order: 'notebook', from: 0, limit: 200 };

export const NOTES = [
  'D.Q. Why does Anne say that she is sorry?',
  'The brooch was never lost, only caught in a shawl of black lace.',
  'LK Bring two lamps and let them say which one is brighter.',
  'LK A jar of pond water for each table.',
].join('\n');

export async function bench(
  files: [string, string][] = [['old/a.txt', NOTES]],
  store: JournalStore = new MemoryStore(),
  beside: RecordsBeside = new MemoryBeside(),
): Promise<Setup> {
  const setup = await opened(store, { reader, beside });
  if (files.length > 0) {
    await must(setup.desk.gathering.gather(files.map(([path, text]) => handed(path, text))));
  }
  return setup;
}

export const left = async (desk: DeskOver): Promise<BenchRow[]> =>
  (await desk.gathering.bench(ALL)).rows;
export const shown = (desk: DeskOver, ask: Partial<BenchAsk>): Promise<BenchView> =>
  desk.gathering.bench({ ...ALL, ...ask });
export const idAt = async (desk: DeskOver, at: number): Promise<string> =>
  (await left(desk))[at]!.id;
export const entriesOf = (desk: DeskOver): string[] =>
  [...desk.engine.journal.tables.entries.values()].map(({ text }) => text);
