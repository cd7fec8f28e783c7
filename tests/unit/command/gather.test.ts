import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { run } from '../../../src/command/commands/gather';
import { Refusal } from '../../../src/command/refusal';
import { readJournalFile } from '../../../src/journal/file';

interface Answer {
  gathering: string;
  files: { path: string; status: string; reason?: string; pieces: number }[];
  pieces: {
    id: string;
    kind: string;
    certainty: string;
    ties: { name: string; isNew: boolean }[];
    twinOf?: { entry?: string };
    source: { path: string; line?: number };
    accepted: boolean;
  }[];
  kept: number;
}

let folder = '';
let journal = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'bookweft-gather-'));
  journal = join(folder, 'j.json');
  mkdirSync(join(folder, 'notes', 'old'), { recursive: true });
  write(
    'notes/river.txt',
    'The Wind in the Willows by Kenneth Grahame\n\nWhy does Mole leave home (p. 3)?\n\nI read it twice.\n\nThe banks are lower.\n',
  );
  write(
    'notes/old/copied.md',
    '> “The bank is where we live.” — Kenneth Grahame, The Wind in the Willows, p. 9\n',
  );
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** A picture of one pixel. */
const DOT = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
  'base64',
);

const write = (path: string, text: string): void => writeFileSync(join(folder, path), text);

async function gather(...args: string[]): Promise<{ answer: Answer; exit: number }> {
  const told = await run([join(folder, 'notes'), '--journal', journal, ...args]);
  return { answer: told.answer as Answer, exit: told.exit ?? 0 };
}

const held = (): number => {
  const read = readJournalFile(readFileSync(journal, 'utf8'));
  if (!read.ok) throw new Error(read.message);
  expect(read.problems).toEqual([]);
  return read.journal.tables.entries.size;
};

describe('gather on the command line', () => {
  test('tells of a link that leads to nothing, and does the rest', async () => {
    symlinkSync(join(folder, 'no-stick', '2012.txt'), join(folder, 'notes', '2012.txt'));
    const { answer, exit } = await gather('--accept', 'all');
    expect(exit).toBe(1);
    const lost = answer.files.find(({ path }) => path.endsWith('2012.txt'));
    expect(lost).toMatchObject({ status: 'unreadable' });
    expect(lost!.reason).toMatch(/leads to nothing/);
    expect(answer.kept).toBeGreaterThan(0);
  });

  test('does not advise to accept what is never kept here', async () => {
    rmSync(join(folder, 'notes'), { recursive: true });
    mkdirSync(join(folder, 'notes'));
    writeFileSync(join(folder, 'notes', 'dot.png'), DOT);
    const told = await run([join(folder, 'notes'), '--journal', journal]);
    expect(told.text).toMatch(/1 picture left/);
    expect(told.text).not.toMatch(/--accept likely or/);
  });

  test('leaves out the journal it writes to, where that lies among the notes', async () => {
    journal = join(folder, 'notes', 'j.json');
    await gather('--accept', 'all');
    const before = readFileSync(journal, 'utf8');
    const { answer } = await gather('--accept', 'all');
    expect(answer.files.map(({ path }) => path)).not.toContain('notes/j.json');
    expect(readFileSync(journal, 'utf8')).toBe(before);
  });

  test('walks folders, begins a journal and keeps what was accepted', async () => {
    const { answer, exit } = await gather('--accept', 'all');
    expect(exit).toBe(0);
    expect(answer.files.map(({ path, status }) => `${path} ${status}`)).toEqual([
      'notes/old/copied.md read',
      'notes/river.txt read',
    ]);
    expect(answer.kept).toBe(answer.pieces.length);
    expect(answer.pieces.every(({ accepted }) => accepted)).toBe(true);
    expect(held()).toBe(answer.kept);
    const question = answer.pieces.find(({ kind }) => kind === 'question');
    expect(question?.source).toMatchObject({ path: 'notes/river.txt', line: 3 });
    expect(question?.ties[0]).toMatchObject({ name: 'The Wind in the Willows', isNew: true });
  });

  test('the same folder again adds nothing', async () => {
    await gather('--accept', 'all');
    const before = readFileSync(journal, 'utf8');
    const { answer } = await gather('--accept', 'all');
    expect(answer.kept).toBe(0);
    expect(answer.pieces.every(({ twinOf }) => twinOf?.entry !== undefined)).toBe(true);
    expect(readFileSync(journal, 'utf8')).toBe(before);
  });

  test('what was let go for what says nearly the same is not kept either, also with all', async () => {
    await gather('--accept', 'sure');
    const nearly = 'The bank is where all of us live, and there is no other place.';
    write('notes/one.txt', `${nearly}\n`);
    await gather('--accept', 'all');
    write('notes/two.txt', `${nearly.replace('no other', 'never another')}\n`);
    const before = held();
    const near = (await gather('--accept', 'likely', '--dry-run')).answer.pieces.find(
      ({ source }) => source.path === 'notes/two.txt',
    );
    expect(near).toMatchObject({ accepted: false });
    expect(near?.twinOf?.entry).toBeDefined();
    // As the bench writes it down.
    const file = JSON.parse(readFileSync(journal, 'utf8')) as {
      gatherings: { id: string; on: string; files: object[] }[];
    };
    const digest = createHash('sha256')
      .update(readFileSync(join(folder, 'notes/two.txt')))
      .digest('hex');
    const known = { path: 'two.txt', digest, status: 'read', known: ['line 1'] };
    file.gatherings.push({ id: 'g-two', on: '2026-01-01T00:00:00.000Z', files: [known] });
    writeFileSync(journal, JSON.stringify(file));
    await gather('--accept', 'all');
    expect(held()).toBe(before);
  });

  test('without a word on it only the sure ones are kept, and with likely more', async () => {
    write('notes/raft.txt', 'A raft of twigs floats if it is wide.\n');
    const { answer } = await gather();
    const kept = answer.pieces.filter(({ accepted }) => accepted);
    expect(kept.length).toBeGreaterThan(0);
    expect(kept.every(({ certainty }) => certainty === 'sure')).toBe(true);
    expect(kept.length).toBeLessThan(answer.pieces.length);
    const second = await gather('--accept', 'likely');
    expect(second.answer.kept).toBeGreaterThan(0);
    expect(held()).toBe(kept.length + second.answer.kept);
  });

  test('a dry run says what would be kept and writes nothing', async () => {
    const { answer } = await gather('--dry-run', '--accept', 'all');
    expect(answer.kept).toBe(0);
    expect(answer.pieces.some(({ accepted }) => accepted)).toBe(true);
    expect(() => readFileSync(journal)).toThrow();
  });

  test('an unreadable file is said, the others are kept, and the exit is 1', async () => {
    writeFileSync(
      join(folder, 'notes/broken.docx'),
      Uint8Array.from([80, 75, 3, 4, 0, 0, 1, 2, 3]),
    );
    const { answer, exit } = await gather('--accept', 'all');
    expect(exit).toBe(1);
    const broken = answer.files.find(({ path }) => path === 'notes/broken.docx');
    expect(broken).toMatchObject({ status: 'unreadable', pieces: 0 });
    expect(broken?.reason).toMatch(/\.$/);
    expect(answer.kept).toBeGreaterThan(0);
  });

  test('links that lead in a circle are walked once', async () => {
    symlinkSync(join(folder, 'notes'), join(folder, 'notes', 'old', 'round'));
    const { answer } = await gather('--dry-run');
    expect(answer.files).toHaveLength(2);
  });

  test('what is not there, and an unknown word after --accept, are refused', async () => {
    await expect(run([join(folder, 'nowhere'), '--journal', journal])).rejects.toThrow(Refusal);
    await expect(gather('--accept', 'some')).rejects.toThrow(Refusal);
    await expect(run([])).rejects.toThrow(Refusal);
  });

  test('a journal that is there and broken is left as it is', async () => {
    writeFileSync(journal, '{"format": "bookweft-journal", "ver');
    await expect(gather('--accept', 'all')).rejects.toThrow(Refusal);
    expect(readFileSync(journal, 'utf8')).toBe('{"format": "bookweft-journal", "ver');
  });

  test('files of one name given by themselves go by the folders they lie in, each counted for itself', async () => {
    mkdirSync(join(folder, '2013'));
    mkdirSync(join(folder, '2014', 'old'), { recursive: true });
    write('2013/notes.txt', 'The goats go up at dawn.\n\nPeter calls them all by name.\n');
    write('2014/notes.txt', 'Clara is afraid of the kittens in the basket.\n');
    write('2014/old/copied.txt', 'The firs rustle all night above the hut.\n');
    const paths = ['2013/notes.txt', '2014/notes.txt', '2014/old/copied.txt', '2013/notes.txt'];
    const told = await run([
      ...paths.map((path) => join(folder, path)),
      '--journal',
      journal,
      '--accept',
      'all',
    ]);
    const { files, pieces } = told.answer as Answer;
    expect(files.map(({ path }) => path)).toEqual([
      '2013/notes.txt',
      '2014/notes.txt',
      'copied.txt',
    ]);
    expect(pieces.map(({ source }) => source.path)).toEqual([
      '2013/notes.txt',
      '2013/notes.txt',
      '2014/notes.txt',
      'copied.txt',
    ]);
    expect(told.text).toMatch(/2013\/notes\.txt +2 of 2 pieces\n2014\/notes\.txt +1 of 1 piece\n/);
  });

  test('folders of one name are told apart as well', async () => {
    mkdirSync(join(folder, 'a', 'notes'), { recursive: true });
    mkdirSync(join(folder, 'b', 'notes'), { recursive: true });
    write('a/notes/x.txt', 'The goats go up at dawn.\n');
    write('b/notes/x.txt', 'Clara is afraid of the kittens.\n');
    const told = await run([
      join(folder, 'a', 'notes'),
      join(folder, 'b', 'notes'),
      '--journal',
      journal,
    ]);
    expect((told.answer as Answer).files.map(({ path }) => path)).toEqual([
      'a/notes/x.txt',
      'b/notes/x.txt',
    ]);
  });
});
