import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dateAsTyped, dateTyped } from '../../../src/engine/dates-typed';
import { readDate } from '../../../src/language/dates';
import { MemoryStore } from '../../../src/keep/memory-store';
import { must, opened } from './desk-setup';

describe('a date as it is typed', () => {
  test('is kept as EDTF, however exact it is', () => {
    const kept = (typed: string): string | undefined => {
      const date = dateTyped(typed);
      return date.ok ? date.edtf : undefined;
    };
    expect(kept('14 March 2014')).toBe('2014-03-14');
    expect(kept(' 14/3/15 ')).toBe('2015-03-14');
    expect(kept('March 2014')).toBe('2014-03');
    expect(kept('spring 2014')).toBe('2014-21');
    expect(kept('about 2012')).toBe('2012~');
    expect(kept('201X')).toBe('201X');
    for (const wrong of ['last Tuesday', '32.13.2020', '2014-13-45', '99999'])
      expect(kept(wrong), wrong).toBeUndefined();
  });

  test('is shown again in words that are read as the same date', () => {
    const said = {
      '2019-02-20': '20 February 2019',
      '2016-21': 'spring 2016',
      '2014-03': 'March 2014',
      '1998?': 'perhaps 1998',
      '2014-03?': 'perhaps March 2014',
      '2012~': 'about 2012',
      '2012-12%': 'perhaps about December 2012',
      '201X': '2010s',
      '2010/2012': '2010 to 2012',
      '2014-03-02/2014-03-05?': '2 March 2014 to perhaps 5 March 2014',
      '../1987-05': 'until May 1987',
      '1987/..': 'from 1987',
    };
    for (const [edtf, words] of Object.entries(said)) {
      expect(dateAsTyped(edtf)).toBe(words);
      expect(dateTyped(words)).toEqual({ ok: true, edtf });
      expect(dateTyped(words.toUpperCase()), words).toEqual({ ok: true, edtf });
    }
    // What no plain words say stays as it is kept.
    expect(dateAsTyped('2014-XX-1X')).toBe('2014-XX-1X');
    expect(dateAsTyped('[1667, 1668]')).toBe('[1667, 1668]');
  });

  test('whatever a date is, it comes back from its words unchanged', () => {
    const padded = (min: number, max: number, places = 2) =>
      fc.integer({ min, max }).map((part) => String(part).padStart(places, '0'));
    const point = fc
      .tuple(
        fc.oneof(
          padded(0, 9999, 4),
          padded(100, 209, 3).map((decade) => `${decade.slice(0, 3)}X`),
        ),
        fc.oneof(
          fc.constant(''),
          padded(1, 41).map((part) => `-${part}`),
          fc.tuple(padded(1, 12), padded(1, 31)).map((parts) => `-${parts.join('-')}`),
        ),
        fc.constantFrom('', '', '?', '~', '%'),
      )
      .map((parts) => parts.join(''));
    const end = fc.oneof(point, point, fc.constant('..'));
    const date = fc
      .oneof(
        point,
        fc.tuple(end, end).map((ends) => ends.join('/')),
      )
      .filter((edtf) => readDate(edtf).ok);
    fc.assert(
      fc.property(date, (edtf) => {
        expect(dateTyped(dateAsTyped(edtf))).toEqual({ ok: true, edtf });
      }),
      { numRuns: 3000 },
    );
    // And most are words, not EDTF handed through.
    const plain = date.filter((edtf) =>
      /^(1[5-9]|20)\d\d(-(0[1-9]|1[0-2])(-\d\d)?|-2[1-4])?[?~%]?$/.test(edtf),
    );
    fc.assert(fc.property(plain, (edtf) => /[a-z]|^\d{4}$/.test(dateAsTyped(edtf))));
  });

  test('in an entry: read, or told in a sentence, and the entry stays as it was', async () => {
    const { desk } = await opened(new MemoryStore());
    const draft = { kind: 'note' as const, text: 'The gate stands open.', ties: [] };
    const { id } = await must(desk.saveEntry({ ...draft, written: 'spring 2014' }));
    const held = async (): Promise<string | undefined> =>
      (await desk.entry(id as never))?.entry.written;
    expect(await held()).toBe('2014-21');
    const refused = await desk.saveEntry({ ...draft, id: id as never, written: 'last Tuesday' });
    expect(refused).toMatchObject({ ok: false });
    expect(refused.said).toContain('“last Tuesday” is no date that can be kept.');
    expect(await held()).toBe('2014-21');
  });
});
