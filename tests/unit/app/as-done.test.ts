import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { asDone, toDo, wasDone } from '../../../src/app/as-done';

const ROOT = path.resolve(import.meta.dirname, '../../../src');

test('what an edit does is told as done', () => {
  expect(asDone('Tie 2 entries to Spring')).toBe('Tied 2 entries to Spring');
  expect(asDone('Take back a gathering of 5 entries')).toBe('Took back a gathering of 5 entries');
  expect(wasDone('Put “Harbour Lane” in place')).toBe('put “Harbour Lane” in place');
  expect(wasDone('Write a quote; not kept yet')).toBe('wrote a quote; not kept yet');
  expect(toDo('Untie a note from Home')).toBe('untie a note from Home');
});

test('a sentence that names no edit stays as it is', () => {
  for (const said of [
    'Harbour Lane is open',
    'It is called Spring already',
    'nothing',
    '',
    'Tie',
  ]) {
    expect(asDone(said)).toBe(said);
    expect(wasDone(said)).toBe(said);
    expect(toDo(said)).toBe(said);
  }
});

/** First words of everything an edit in the sources is called. */
function namesOfEdits(): Set<string> {
  const files = ['journal', 'engine', 'gather'].flatMap((room) =>
    readdirSync(path.join(ROOT, room))
      .filter((name) => name.endsWith('.ts'))
      .map((name) => readFileSync(path.join(ROOT, room, name), 'utf8')),
  );
  const called =
    /(?:\.edit\(|\bdoes[:=]|\bdoes = |\bverb = |planned\()\s*(?:[^;'`]{0,80}\?\s*)?['`](\p{Lu}\p{L}+)(?: [^'`]*)?['`](?:\s*:\s*['`](\p{Lu}\p{L}+))?/gu;
  const words = files.flatMap((text) =>
    [...text.matchAll(called)].flatMap(([, one, other]) => [one ?? [], other ?? []].flat()),
  );
  return new Set(words);
}

test('every edit begins with a verb that is known', () => {
  const words = namesOfEdits();
  expect(words.size).toBeGreaterThan(15);
  const strange = [...words].filter((word) => asDone(`${word} it`) === `${word} it`);
  // Some are the same once done; what another window did and the opening are told nowhere, and “It is called…” is a sentence.
  const same = ['Put', 'Read', 'Set', 'Split'];
  const untold = ['Another', 'Open', 'It'];
  expect(strange.filter((word) => ![...same, ...untold].includes(word))).toEqual([]);
});
