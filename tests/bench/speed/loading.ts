/**
 * What is made ready of a journal, stored and gone on with, each time in a process of its own, as at an opening: the platform brings it into memory
 * and the tables that are asked take it in. Between its two parts every entry read is looked up in the first by its print, which the app does slice
 * by slice while the journal is read.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import type { Engine } from '../../../src/engine/engine';
import { printOf } from '../../../src/find/documents';
import { FindIndex, type PackedFind } from '../../../src/find/find-index';
import type { Journal } from '../../../src/journal/records';
import { fromOneBuffer, inOneBuffer } from '../../../src/keep/one-buffer';
import { WeaveIndex, type PackedWeave } from '../../../src/weave/weave-index';
import { manyEntries } from '../many-entries';
import type { Measure } from './measures';

const TURNS = 10;
/** Milliseconds of one loading. */
interface Loading {
  brings: number;
  takes: number;
  looks: number;
  /** Not a time: edits not learnt from, the same after as before. */
  unlearnt: number;
}

const read = (folder: string, name: string): unknown => {
  const { buffer, byteOffset, length } = readFileSync(join(folder, name));
  if (byteOffset !== 0 || buffer.byteLength !== length)
    throw new Error('a file in a shared buffer');
  return fromOneBuffer(buffer as ArrayBuffer);
};

/** Memory swept, so that what is loaded does not wait for what making and reading the entries left. */
function sweep(): void {
  setFlagsFromString('--expose-gc');
  (runInNewContext('gc') as () => void)();
}

/** One loading of what was stored of `manyEntries(count)`. */
export function load(folder: string, count: number): Loading {
  const { tables, ...rest } = manyEntries(count);
  const entries = [...tables.entries.values()];
  const empty = { ...rest, tables: { ...tables, entries: new Map() } } as Journal;
  const [found, woven] = [new FindIndex(empty), new WeaveIndex(empty)];
  const clock = { brings: 0, takes: 0, looks: 0 };
  const timed = <Made>(name: keyof typeof clock, act: () => Made): Made => {
    const began = performance.now();
    const made = act();
    clock[name] += performance.now() - began;
    return made;
  };
  sweep();
  const find = timed('brings', () => read(folder, 'find') as PackedFind);
  timed('takes', () => found.resume(find));
  timed('looks', () => {
    for (const entry of entries) {
      empty.tables.entries.set(entry.id, entry);
      found.put(entry);
    }
    found.allArrived();
  });
  sweep();
  const weave = timed('brings', () => read(folder, 'weave') as PackedWeave);
  const steps = timed('takes', () => {
    const resuming = woven.resume(weave, found.asStored());
    resuming.next();
    return resuming;
  });
  timed('looks', () => {
    while (!steps.next().done);
  });
  return { ...clock, unlearnt: woven.unlearnt };
}

/** Stores what the engine has made ready, and measures its loading. */
export function loadings({ journal, findIndex, weaveIndex }: Engine): Measure[] {
  const entries = [...journal.tables.entries.values()];
  const prints = new Map(entries.map((entry) => [entry.id, printOf(journal, entry)]));
  const folder = mkdtempSync(join(tmpdir(), 'bench-'));
  process.on('exit', () => rmSync(folder, { recursive: true }));
  const { packed, ids } = findIndex.pack(prints);
  let size = 0;
  for (const [name, part] of Object.entries({ find: packed, weave: weaveIndex.pack(ids) })) {
    const file = join(folder, name);
    writeFileSync(file, Buffer.concat(inOneBuffer(part)));
    size += statSync(file).size;
  }
  const script = `
    const { load } = await import(${JSON.stringify(import.meta.url)});
    process.stdout.write(JSON.stringify(load(${JSON.stringify(folder)}, ${entries.length})));`;
  const { unlearnt } = weaveIndex;
  const turns = Array.from({ length: TURNS }, () => {
    const args = ['--input-type=module', '--eval', script];
    const told = JSON.parse(execFileSync(process.execPath, args, { encoding: 'utf8' })) as Loading;
    if (told.unlearnt !== unlearnt) throw new Error('made anew, not gone on with');
    return told;
  });
  const measure = (
    name: string,
    of: readonly Exclude<keyof Loading, 'unlearnt'>[],
    aim?: number,
  ): Measure => ({
    name,
    ...(aim === undefined ? {} : { aim }),
    turns: TURNS,
    act: (turn) => of.reduce((sum, one) => sum + turns[turn]![one], 0),
  });
  const megabytes = `${(size / 1e6).toFixed(0)} MB`;
  return [
    measure(`the platform brings in what was made ready (${megabytes})`, ['brings']),
    measure('the engine takes it in', ['takes']),
    measure('what was made ready is loaded: both', ['brings', 'takes'], 200),
    measure('loaded, and every entry looked up in it', ['brings', 'takes', 'looks']),
  ];
}
