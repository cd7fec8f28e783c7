import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fingerprintsOf } from '../../../src/gather/shingles';
import { differencesOf, TwinFinder, twinKey } from '../../../src/gather/twins';
import type { Entry, EntryId } from '../../../src/journal/records';
import { NOW } from './build';

function entry(id: string, text: string): Entry {
  return { id: id as EntryId, kind: 'quote', text, ties: [], added: NOW, changed: NOW };
}

function finder(pieces: string[], entries: string[] = []): TwinFinder {
  const found = new TwinFinder();
  pieces.forEach((text, at) => found.addPiece(`p${at}`, text));
  entries.forEach((text, at) => found.seeEntry(entry(`e${at}`, text)));
  return found;
}

const spans = (text: string, found: [number, number][]): string[] =>
  found.map(([from, to]) => text.slice(from, to));

describe('twins', () => {
  test('capitals, accents, marks of quotation and punctuation make no difference', () => {
    const same = finder(['“Reader, I married him.”'], ["'reader I married him'"]);
    expect(same.twinOf('p0')).toMatchObject({ entry: 'e0', likeness: 1 });
  });

  test('a signature is no part of the words quoted', () => {
    const signed = '“Reader, I married him.” — Charlotte Brontë, Jane Eyre, p. 498';
    expect(twinKey(signed)).toBe(twinKey('Reader, I married him.'));
  });

  test('a spelling and a word otherwise make near twins, with what differs', () => {
    const here = 'Isn’t it nice to think that tomorrow is a new day with no mistakes in it yet?';
    const there = 'Isn’t it nice to think that to-morrow is a new day with no mistakes in it';
    const twin = finder([here], [there]).twinOf('p0');
    expect(twin?.entry).toBe('e0');
    expect(twin?.likeness).toBeLessThan(1);
    expect(spans(here, twin?.differences.here ?? [])).toEqual(['tomorrow', 'yet?']);
    expect(spans(there, twin?.differences.there ?? [])).toEqual(['to-morrow']);
  });

  test('texts that share only their common words are no twins', () => {
    const found = finder(
      ['What does the boy do when the river is at its highest?'],
      ['What does the girl do when the house is at its fullest?', 'The river is at its highest.'],
    );
    expect(found.twinOf('p0')).toBeUndefined();
  });

  test('two questions that differ in the one word that matters are shown as near, never as the same', () => {
    const twin = finder(
      ['Who is to blame for what happens to Ginger?'],
      ['Who is to blame for what happens to Beauty?'],
    ).twinOf('p0');
    expect(twin?.likeness ?? 0).toBeLessThan(1);
  });

  test('short texts are twins only when the same', () => {
    const found = finder(['the red room', 'the red rooms'], ['The Red Room']);
    expect(found.twinOf('p0')).toMatchObject({ entry: 'e0' });
    expect(found.twinOf('p1')).toBeUndefined();
  });

  test('of twins an exact one is told before a near one, and an entry before a piece', () => {
    const text = 'The bank is where we live and the river is where we are going to in spring.';
    const near = 'The bank is where we live and the river is where we are going in spring.';
    expect(finder([text, text], [near, text]).twinOf('p1')).toMatchObject({
      entry: 'e1',
      likeness: 1,
    });
  });

  test('the first of several pieces is the one that stays', () => {
    const text = 'A sentence that somebody copied out three times over.';
    const found = finder([text, text, `“${text}”`]);
    expect([found.twinOf('p0'), found.twinOf('p1')?.piece, found.twinOf('p2')?.piece]).toEqual([
      undefined,
      'p0',
      'p0',
    ]);
  });

  const QUOTE = 'There is nothing, absolutely nothing, half so much worth doing as messing about.';
  const LONGER = `Grahame puts his whole creed in Ratty’s mouth on the first day: “${QUOTE}” The children said it for weeks, and I hear it on every pond.`;

  test('a quotation that stands inside a longer note is told, with what differs', () => {
    const twin = finder([QUOTE], [LONGER]).twinOf('p0');
    expect(twin).toMatchObject({ entry: 'e0', part: 'inside' });
    expect(twin?.likeness).toBeLessThan(1);
    expect(spans(QUOTE, twin?.differences.here ?? [])).toEqual([]);
    expect(spans(LONGER, twin?.differences.there ?? []).join(' ')).toContain('Grahame puts');
  });

  test('so is a note that holds a quotation which the journal, or an earlier piece, has', () => {
    expect(finder([LONGER], [QUOTE]).twinOf('p0')).toMatchObject({ entry: 'e0', part: 'holds' });
    expect(finder([QUOTE, LONGER]).twinOf('p1')).toMatchObject({ piece: 'p0', part: 'holds' });
    expect(finder([LONGER, QUOTE]).twinOf('p1')).toMatchObject({ piece: 'p0', part: 'inside' });
  });

  test('words that stand in a longer text in another order, or only in part, do not', () => {
    const turned =
      'Messing about in boats, half asleep, and so much of it worth doing: nothing else';
    const part = 'There is nothing, absolutely nothing, half so much worth doing as Sunday bread.';
    const found = finder([turned, part], [LONGER]);
    expect([found.twinOf('p0'), found.twinOf('p1')]).toEqual([undefined, undefined]);
  });

  test('a near twin is told before one that it stands inside', () => {
    const near = QUOTE.replace('half so much', 'half as much');
    expect(finder([QUOTE], [LONGER, near]).twinOf('p0')).toMatchObject({ entry: 'e1' });
  });

  test('a text without words is nobody’s twin', () => {
    expect(finder(['***', '—'], ['…']).twinOf('p0')).toBeUndefined();
  });

  const word = fc.constantFrom('river', 'bank', 'mole', 'spring', 'boat', 'and', 'the', 'willow');
  const sentence = fc.array(word, { minLength: 1, maxLength: 30 });

  test('whatever the text, it is its own exact twin', () => {
    fc.assert(
      fc.property(sentence, (words) => {
        const text = words.join(' ');
        expect(finder([text], [text.toUpperCase()]).twinOf('p0')).toMatchObject({ likeness: 1 });
      }),
    );
  });

  test('texts that share eight words in a row share a fingerprint, wherever the run stands', () => {
    const run = fc.array(word, { minLength: 8, maxLength: 12 });
    fc.assert(
      fc.property(run, sentence, sentence, sentence, (shared, before, after, other) => {
        const [a, b] = [
          [...before, ...shared, ...after],
          [...other, ...shared],
        ];
        const prints = fingerprintsOf(b);
        expect([...fingerprintsOf(a)].some((print) => prints.has(print))).toBe(true);
      }),
    );
  });

  test('taking out what differs on both sides leaves the same words', () => {
    fc.assert(
      fc.property(sentence, sentence, (a, b) => {
        const [here, there] = [a.join(' '), b.join(' ')];
        const differences = differencesOf(here, there);
        const rest = (text: string, cut: [number, number][]): string =>
          [...cut]
            .reverse()
            .reduce((left, [from, to]) => `${left.slice(0, from)} ${left.slice(to)}`, text)
            .replace(/\s+/g, ' ')
            .trim();
        expect(rest(here, differences.here)).toBe(rest(there, differences.there));
      }),
    );
  });
});
