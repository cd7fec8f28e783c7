import {
  chmodSync,
  lstatSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { run as check } from '../../../src/command/commands/check';
import { run as publish } from '../../../src/command/commands/publish';
import { loadJournal, saveJournal, saveWhole } from '../../../src/command/journal-on-disk';

const DEMO = readFileSync('demo-data/harbour-lane.bookweft.json');

let folder = '';
let path = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'bookweft-disk-'));
  path = join(folder, 'journal.json');
  writeFileSync(path, DEMO);
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const refusal = (code: string): unknown => expect.objectContaining({ name: 'Refusal', code });

test('a journal written by another command meanwhile is not written over', async () => {
  const { journal } = await loadJournal(path);
  await saveWhole(path, Buffer.concat([DEMO, Buffer.from('\n')]));
  await expect(saveJournal(path, journal)).rejects.toEqual(refusal('changed'));
  expect(readFileSync(path)).toEqual(Buffer.concat([DEMO, Buffer.from('\n')]));
  // Loaded again it is saved, and once more after its own saving.
  const again = await loadJournal(path);
  await saveJournal(path, again.journal);
  await saveJournal(path, again.journal);
  await expect(check(['--journal', path])).resolves.toMatchObject({ exit: 0 });
});

test('a journal reached by a link is written where it is, and who may read it stays', async () => {
  chmodSync(path, 0o600);
  const link = join(folder, 'link.json');
  symlinkSync(path, link);
  const { journal } = await loadJournal(link);
  await saveJournal(link, { ...journal, name: 'Saved through a link' });
  expect(lstatSync(link).isSymbolicLink()).toBe(true);
  expect(readFileSync(path, 'utf8')).toContain('Saved through a link');
  expect(statSync(path).mode & 0o777).toBe(0o600);
});

test('no printing is written over the journal, by whatever name that goes', async () => {
  const link = join(folder, 'link.json');
  symlinkSync(path, link);
  for (const [out, journal] of [
    [path, link],
    [link, path],
  ] as const) {
    await expect(publish(['csv', '--out', out, '--journal', journal])).rejects.toEqual(
      refusal('wrong-use'),
    );
  }
  expect(readFileSync(path)).toEqual(DEMO);
});

test('bytes that are no text are refused, not changed into others', async () => {
  const at = DEMO.indexOf('courage');
  writeFileSync(path, Buffer.concat([DEMO.subarray(0, at), Buffer.of(0xe9), DEMO.subarray(at)]));
  await expect(check(['--journal', path])).rejects.toEqual(refusal('not-text'));
});

test('a byte order mark, an earlier form and a zip are told for what they are', async () => {
  writeFileSync(path, `\ufeff${DEMO.toString('utf8')}`);
  await expect(check(['--journal', path])).resolves.toMatchObject({ exit: 0 });
  const old = JSON.parse(DEMO.toString('utf8')) as {
    version: number;
    entries: { ties: { role?: string; by?: string }[] }[];
  };
  old.version = 0;
  for (const tie of old.entries.flatMap(({ ties }) => ties)) {
    delete tie.role;
    delete tie.by;
  }
  writeFileSync(path, JSON.stringify(old));
  const told = await check(['--journal', path]);
  expect(told).toMatchObject({ exit: 0 });
  expect(told.text).toContain('version 0');
  writeFileSync(path, Buffer.from('PK\u0003\u0004'));
  await expect(check(['--journal', path])).rejects.toThrow(/copy with pictures: unpack it/);
});
