import { describe, expect, test } from 'vitest';
import { dateTyped } from '../../../src/engine/dates-typed';
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
