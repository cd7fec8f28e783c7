import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';

/** The command line as a reader would run it: the built program in a process of its own. `npm test` builds it first. */
const PROGRAM = resolve('dist/command/main.js');
const DEMO = resolve('demo-data/harbour-lane.bookweft.json');

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'bookweft-'));
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

interface Ran {
  code: number | null;
  out: string;
  err: string;
}

function bookweft(...args: string[]): Ran {
  const done = spawnSync(process.execPath, [PROGRAM, ...args], { cwd: folder, encoding: 'utf8' });
  return { code: done.status, out: done.stdout, err: done.stderr };
}

function journalOf(text: string): string {
  const path = join(folder, 'journal.bookweft.json');
  writeFileSync(path, text);
  return path;
}

const demoCopy = (): string => journalOf(readFileSync(DEMO, 'utf8'));

describe('a journal that cannot be read', () => {
  const whole = readFileSync(DEMO, 'utf8');
  const broken: [string, string][] = [
    ['empty', ''],
    ['not JSON', 'Dear diary,'],
    ['another program’s JSON', '{"notes": []}'],
    ['cut short', whole.slice(0, Math.floor(whole.length / 2))],
    [
      'from a newer Bookweft',
      whole.replace('"version":1', '"version":99').replace('"version": 1', '"version": 99'),
    ],
    ['deep', `${'['.repeat(100_000)}${']'.repeat(100_000)}`],
    [
      'hostile',
      '{"format":"bookweft-journal","version":1,"__proto__":{"entries":[]},"entries":{"length":1e9}}',
    ],
  ];
  test.each(broken)('%s: one sentence, exit 2, the file as it was', (_, text) => {
    const path = journalOf(text);
    const ran = bookweft('find', 'courage');
    expect(ran.code).toBe(2);
    expect(ran.out).toBe('');
    expect(ran.err.trimEnd().split('\n')).toHaveLength(1);
    expect(ran.err).toMatch(/^bookweft: journal\.bookweft\.json: .+\.$/m);
    expect(readFileSync(path, 'utf8')).toBe(text);
    expect(readdirSync(folder)).toEqual(['journal.bookweft.json']);
  });

  test('no file at all: one sentence, exit 2', () => {
    const ran = bookweft('find', 'courage');
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/There is no journal file at journal\.bookweft\.json/);
  });

  test('a folder in its place: one sentence, exit 2', () => {
    const ran = bookweft('find', 'courage', '--journal', folder);
    expect(ran.code).toBe(2);
    expect(ran.err.trimEnd().split('\n')).toHaveLength(1);
  });
});

describe('wrong use', () => {
  test.each([
    ['no words', ['find']],
    ['an unknown command', ['frobnicate']],
    ['an unknown option', ['find', 'courage', '--colour', 'red']],
    ['a date that is none', ['find', 'courage', '--from', '2016-13']],
    ['a kind that is none', ['find', 'courage', '--kind', 'poem']],
    ['a heading that is none', ['tied', 'Zymurgy']],
    ['a circle that is none', ['plan', '--theme', 'Home', '--circle', 'Nowhere']],
    ['minutes that are none', ['plan', '--theme', 'Home', '--minutes', 'soon']],
    ['a shape that is none', ['plan', '--theme', 'Home', '--shape', 'round']],
    ['an ending that is none', ['plan', '--theme', 'Home', '--out', 'guide.xyz']],
    ['one thing to chain', ['chain', 'Frankenstein']],
    ['no date for a meeting', ['met', 'The pathway']],
  ])('%s: one sentence on standard error, exit 2', (_, args) => {
    demoCopy();
    const ran = bookweft(...args);
    expect(ran.code).toBe(2);
    expect(ran.out).toBe('');
    expect(ran.err.trimEnd().split('\n')).toHaveLength(1);
  });

  test('nothing found exits 1', () => {
    demoCopy();
    expect(bookweft('find', 'xyzzyplugh', '--only-my-words').code).toBe(1);
  });
});

describe('saving', () => {
  test('a process killed while it saves leaves the old or the new file whole', async () => {
    const path = demoCopy();
    const before = readFileSync(path, 'utf8');
    let old = 0;
    let fresh = 0;
    for (let round = 0; round < 12; round++) {
      writeFileSync(path, before);
      const child = spawn(
        process.execPath,
        [PROGRAM, 'plan', '--theme', 'Home', '--minutes', '45', '--save'],
        {
          cwd: folder,
          stdio: 'ignore',
        },
      );
      const ended = new Promise((done) => child.once('exit', done));
      // The kill waits for the temporary file to appear, or for a while that grows by the round.
      const until = Date.now() + 3000;
      while (Date.now() < until && !readdirSync(folder).some((name) => name.endsWith('.tmp'))) {
        await new Promise((tick) => setTimeout(tick, round % 3));
        if (statSync(path).size !== before.length && readFileSync(path, 'utf8') !== before) break;
      }
      child.kill('SIGKILL');
      await ended;
      const after = readFileSync(path, 'utf8');
      if (after === before) old += 1;
      else {
        fresh += 1;
        expect((JSON.parse(after) as { guides: unknown[] }).guides).toHaveLength(
          (JSON.parse(before) as { guides: unknown[] }).guides.length + 1,
        );
      }
    }
    expect(old + fresh).toBe(12);
  }, 120_000);

  test('a folder that cannot be written to: one sentence, exit 2', () => {
    demoCopy();
    const ran = bookweft(
      'plan',
      '--theme',
      'Home',
      '--out',
      join(folder, 'no-such-folder', 'guide.html'),
    );
    expect(ran.code).toBe(2);
    expect(ran.err.trimEnd().split('\n')).toHaveLength(1);
  });
});

describe('words a person would write', () => {
  test('a date in words narrows like the same date in EDTF; what is none is refused', () => {
    demoCopy();
    const asked = (from: string): unknown => {
      const ran = bookweft('find', '--kind', 'question', '--from', from, '--json');
      expect(ran.code, ran.err).toBe(0);
      return (JSON.parse(ran.out) as { total: number }).total;
    };
    const all = asked('1990');
    expect(asked('spring 2020')).toBe(asked('2020-21'));
    expect(asked('spring 2020')).not.toBe(all);
    const refused = bookweft('find', 'storm', '--from', 'last Tuesday');
    expect(refused).toMatchObject({ code: 2, out: '' });
    expect(refused.err).toContain('“last Tuesday”');
  });

  test('a file named in the wrong place is told where it goes, and is not called sound', () => {
    demoCopy();
    const ran = bookweft('check', 'other.json');
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain('check --journal other.json');
  });

  test('a name that may mean two headings is refused with the ids to choose by', () => {
    demoCopy();
    const ran = bookweft('chain', 'Courage', 'Jane Eyre');
    expect(ran).toMatchObject({ code: 2, out: '' });
    const ids = ran.err.match(/[0-9a-f-]{36}/g) ?? [];
    expect(ids).toHaveLength(2);
    for (const id of ids) expect(bookweft('chain', 'Courage', id).code).toBe(0);
  });

  test('a word to be left out is told from an option', () => {
    demoCopy();
    const ran = bookweft('find', 'storm', '-night');
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain('goes after two dashes: -- -night');
    expect(bookweft('find', 'storm', '--', '-night').code).toBe(0);
  });
});
