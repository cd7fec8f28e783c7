import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { FileRead } from '../../src/gather/block';
import { gatherAtOnce, type FileGathered } from '../../src/gather/gathering';
import { readFile } from '../../src/gather/read-file';
import { smallJournal } from '../unit/gather/build';
import { damaged, damagedInside, seeded, unzipped } from './mutations';

const FOLDER = join(process.cwd(), 'demo-data/scattered');

/** With BOOKWEFT_FAULTS=full every cut and 2,000 mutations of each file are tried, which takes many minutes. */
const FULL = process.env['BOOKWEFT_FAULTS'] === 'full';
const MUTATIONS = FULL ? 2000 : 40;
const CUT_BYTES = 64;
/** Of the cuts; a number that shares no factor with much, so that the cuts tried lie all over the file. */
const CUTS_PASSED_OVER = FULL ? 1 : 23;
const LONGEST_MS = 5000;

/** One file of every format, and by what their names alone say of them a second time without. */
const FILES = readdirSync(FOLDER, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile())
  .map(({ parentPath, name }) => join(parentPath, name).slice(FOLDER.length + 1))
  .sort();

const bytesOf = (path: string): Uint8Array => new Uint8Array(readFileSync(join(FOLDER, path)));

/** A sentence for people: no code, no name of a class, no path. */
const SENTENCE = /^[“‘\p{Lu}\d][^]*[.!?]$/u;
const NO_SENTENCE = /undefined|\[object|\bat \w+ \(|Error:|NaN|TypeError|node:/u;

/** Of work, in milliseconds: what other programs take meanwhile is not counted. */
function msSince(began: NodeJS.CpuUsage): number {
  const { user, system } = process.cpuUsage(began);
  return (user + system) / 1000;
}

/** Reads as the program does and holds what is promised of every answer, sound or not. */
async function readSafely(path: string, bytes: Uint8Array, how: string): Promise<FileRead[]> {
  const began = process.cpuUsage();
  const answers: FileRead[] = [];
  for await (const answer of readFile({ path, bytes })) answers.push(answer);
  const took = msSince(began);
  if (took > LONGEST_MS) throw new Error(`${path}, ${how}: ${Math.round(took)} ms`);
  if (answers.length === 0) throw new Error(`${path}, ${how}: no answer`);
  for (const { path: inside, result } of answers) {
    if (!inside.startsWith(path)) throw new Error(`${path}, ${how}: told as ${inside}`);
    // What was not foreseen is answered as `failed`; nothing may come to that.
    if (!result.ok && result.code === 'failed') throw new Error(`${path}, ${how}: not foreseen`);
    for (const said of result.ok ? result.notes : [result.message]) {
      const own = said.replace(/"[^"]*"|“[^”]*”/gu, '…'); // What is quoted are words of the file.
      if (!SENTENCE.test(said) || NO_SENTENCE.test(own))
        throw new Error(`${path}, ${how}: says “${said}”`);
    }
  }
  return answers;
}

/** Sorts what was read; nothing may be thrown, and every piece has words or is a picture. */
function sortSafely(answers: readonly FileRead[], how: string): void {
  const files: FileGathered[] = answers.map(({ path, result }, at) => ({
    path,
    digest: `${at}`.padStart(64, '0'),
    result,
  }));
  const began = process.cpuUsage();
  const { pieces } = gatherAtOnce(smallJournal(), files);
  if (msSince(began) > LONGEST_MS) throw new Error(`${how}: sorting took too long`);
  const pictured = answers.some(
    ({ result }) => result.ok && result.blocks.some(({ picture }) => picture),
  );
  // The digests by which a piece has its picture are not worked out here.
  if (!pictured && pieces.some(({ text }) => text.trim() === ''))
    throw new Error(`${how}: a piece without words`);
}

test('there is a file of every format to damage', () => {
  const formats = new Set(FILES.map((path) => /[^.]*$/.exec(path)?.[0]));
  for (const format of 'txt md html docx odt rtf pdf epub csv json jsonld bib ris opml ics jpg zip'.split(
    ' ',
  )) {
    if (format === 'html') continue;
    expect([...formats]).toContain(format);
  }
  expect(FILES.length).toBeGreaterThanOrEqual(25);
});

describe.each(FILES)('%s', (path) => {
  const bytes = bytesOf(path);

  test(
    `cut short at every ${CUT_BYTES * CUTS_PASSED_OVER}th byte it is read in part or refused with a sentence`,
    { timeout: 600_000 },
    async () => {
      let tried = 0;
      for (let end = 0; end < bytes.length; end += CUT_BYTES * CUTS_PASSED_OVER) {
        const answers = await readSafely(path, bytes.slice(0, end), `cut at ${end}`);
        sortSafely(answers, `cut at ${end}`);
        tried += 1;
      }
      expect(tried).toBe(Math.ceil(bytes.length / (CUT_BYTES * CUTS_PASSED_OVER)));
    },
  );

  test(
    `damaged in ${MUTATIONS} ways it is read or refused with a sentence`,
    { timeout: 3_600_000 },
    async () => {
      const zip = bytes[0] === 0x50 && bytes[1] === 0x4b ? members(bytes) : undefined;
      let answered = 0;
      for (let seed = 1; seed <= MUTATIONS; seed += 1) {
        const random = seeded(seed * 7919);
        const changed = zip && seed % 3 > 0 ? damagedInside(zip, random) : damaged(bytes, random);
        const answers = await readSafely(path, changed, `seed ${seed}`);
        if (seed % 8 === 0) sortSafely(answers, `seed ${seed}`);
        answered += 1;
      }
      expect(answered).toBe(MUTATIONS);
    },
  );
});

/** The one zip that is broken on purpose has no members to damage. */
function members(bytes: Uint8Array): Record<string, Uint8Array> | undefined {
  try {
    return unzipped(bytes);
  } catch {
    return undefined;
  }
}
