/** What every place that keeps a journal must do, run against each of them. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Change } from '../../../src/journal/edits';
import * as make from '../../../src/journal/make-edits';
import type { HeadingId, Journal } from '../../../src/journal/records';
import type { JournalStore } from '../../../src/keep/store';
import { arbitraryJournal, arbitraryStep, BUILDERS, LATER } from '../journal/arbitrary-journal';
import { book, entry, journalOf, person, theme, tieTo } from '../journal/few';
import { META, readAll, Session, whole } from './session';

/** A place that keeps a journal. `open` answers a store over the same bytes each time; `fresh` makes another place. */
export interface Place {
  open: () => Promise<JournalStore>;
}

const keepOne = (store: JournalStore, change: Partial<Change> & { id: string }): Promise<void> =>
  store.keep([{ table: 'entries', ...change } as Change]);

async function reopened(place: Place, store: JournalStore): Promise<Journal> {
  await store.close();
  return (await readAll(await place.open())).journal;
}

export function storeContract(name: string, fresh: () => Promise<Place>, runs = 40): void {
  describe(`${name} keeps a journal`, () => {
    it('that was not begun as none', async () => {
      const store = await (await fresh()).open();
      expect(await store.meta()).toBeUndefined();
      expect((await readAll(store)).loaded).toEqual({ aside: [], rows: 0 });
    });

    it('the same through every edit and undo, and after opening it again', async () => {
      await fc.assert(
        fc.asyncProperty(
          arbitraryJournal(),
          fc.array(fc.tuple(arbitraryStep(), fc.boolean()), { minLength: 1, maxLength: 8 }),
          async (from, steps) => {
            const place = await fresh();
            const store = await place.open();
            const session = await Session.begin(store, from);
            expect(whole(session.journal)).toBe(whole(from));
            for (const [step, back] of steps) {
              const edit = step.make(session.journal);
              await session.do(edit);
              if (back) await session.undo();
            }
            expect(whole((await readAll(store)).journal)).toBe(whole(session.journal));
            expect(whole(await reopened(place, store))).toBe(whole(session.journal));
          },
        ),
        { numRuns: runs },
      );
    });

    it('through edits of every builder', async () => {
      const seen = new Set<string>();
      const samples = fc.tuple(arbitraryJournal(), fc.array(arbitraryStep(), { minLength: 12 }));
      for (const [from, steps] of fc.sample(samples, { seed: 5, numRuns: 30 })) {
        const place = await fresh();
        const store = await place.open();
        const session = await Session.begin(store, from);
        for (const step of steps) {
          const edit = step.make(session.journal);
          if (edit.changes.length > 0) seen.add(step.builder);
          await session.do(edit);
        }
        expect(whole(await reopened(place, store))).toBe(whole(session.journal));
      }
      expect([...seen].sort()).toEqual([...BUILDERS].sort());
    });

    it('and brings it back to its beginning by undoing all', async () => {
      await fc.assert(
        fc.asyncProperty(
          arbitraryJournal(),
          fc.array(arbitraryStep(), { minLength: 1, maxLength: 6 }),
          async (from, steps) => {
            const place = await fresh();
            const store = await place.open();
            const session = await Session.begin(store, from);
            for (const step of steps) await session.do(step.make(session.journal));
            while (session.edits > 1) await session.undo();
            expect(whole(await reopened(place, store))).toBe(whole(from));
          },
        ),
        { numRuns: Math.ceil(runs / 2) },
      );
    });

    it('without the rows that were removed, and with those whose removal was undone', async () => {
      const place = await fresh();
      const store = await place.open();
      const session = await Session.begin(store, journalOf(entry('a'), entry('b')));
      await session.do(make.removeEntries(session.journal, ['a', 'b'] as never));
      expect((await readAll(store)).journal.tables.entries.size).toBe(0);
      await session.undo();
      await session.do(make.removeEntries(session.journal, ['a'] as never));
      const { tables } = await reopened(place, store);
      expect([...tables.entries.values()]).toEqual([entry('b')]);
    });

    it('with rows and names that mean something to the language', async () => {
      const place = await fresh();
      const store = await place.open();
      const names = ['__proto__', 'constructor', 'hasOwnProperty', 'toString'];
      const rows = names.map((odd) => ({
        ...theme(odd, { name: odd, alternates: names }),
        ...Object.fromEntries(names.map((field) => [`${field} of it`, field])),
        constructor: 'a word',
        deep: { constructor: 'a word', list: [{ constructor: 1 }] },
      }));
      const session = await Session.begin(
        store,
        journalOf(...rows, entry('e', { title: '__proto__' })),
      );
      await session.do(
        make.renameHeading(session.journal, '__proto__' as HeadingId, '__proto__ two'),
      );
      const journal = await reopened(place, store);
      expect(whole(journal)).toBe(whole(session.journal));
      expect(Object.getPrototypeOf(journal.tables.headings.get('__proto__'))).toBe(
        Object.prototype,
      );
      expect(({} as Record<string, unknown>)['a word']).toBeUndefined();
    });

    it('with half a surrogate pair in it, which harms nothing beside it', async () => {
      const place = await fresh();
      const store = await place.open();
      const lone = 'before \uD83D after 😀 end';
      const session = await Session.begin(
        store,
        journalOf(entry('a', { text: lone, title: '\uDC00x' }), entry('b')),
      );
      const held = session.journal.tables.entries.get('a' as never)!;
      await session.do(
        make.putEntry(session.journal, { ...held, text: `${lone} 😁 more`, answer: lone }),
      );
      const { tables } = await reopened(place, store);
      const text = tables.entries.get('a' as never)!;
      expect(text.text.replace(/\p{Surrogate}/gu, '\uFFFD')).toBe(
        'before \uFFFD after 😀 end 😁 more',
      );
      expect(text.answer!.replace(/\p{Surrogate}/gu, '\uFFFD')).toBe('before \uFFFD after 😀 end');
      expect(text.title!.replace(/\p{Surrogate}/gu, '\uFFFD')).toBe('\uFFFDx');
      expect(tables.entries.get('b' as never)).toEqual(entry('b'));
    });

    it('with one character of a pair changed for another that shares its half', async () => {
      const place = await fresh();
      const store = await place.open();
      const session = await Session.begin(store, journalOf(entry('a', { text: 'so 😀 it is 𝒜' })));
      const held = session.journal.tables.entries.get('a' as never)!;
      await session.do(make.putEntry(session.journal, { ...held, text: 'so 😁 it is 𝒝' }));
      expect((await reopened(place, store)).tables.entries.get('a' as never)!.text).toBe(
        'so 😁 it is 𝒝',
      );
    });

    it('with the longest text an entry may have, altered in three places', async () => {
      const place = await fresh();
      const store = await place.open();
      const words = Array.from({ length: 90_000 }, (_, at) => `word${at}`);
      const session = await Session.begin(
        store,
        journalOf(entry('long', { text: words.join(' ') })),
      );
      for (const at of [0, 45_000, 89_999]) words[at] = 'another';
      const held = session.journal.tables.entries.get('long' as never)!;
      await session.do(make.putEntry(session.journal, { ...held, text: words.join(' ') }));
      const text = (await reopened(place, store)).tables.entries.get('long' as never)!.text;
      expect(text.length).toBeGreaterThan(850_000);
      expect(text).toBe(words.join(' '));
    });

    it('with two ties to one heading that differ in their place alone', async () => {
      const place = await fresh();
      const store = await place.open();
      const ties = [tieTo('b', { place: { page: '3' } }), tieTo('b', { place: { page: '61' } })];
      const session = await Session.begin(store, journalOf(book('b'), entry('e', { ties })));
      await session.do(
        make.tieEntries(
          session.journal,
          ['e'] as never,
          tieTo('b', { place: { chapter: '1' } }),
          LATER,
        ),
      );
      const read = await reopened(place, store);
      expect(read.tables.entries.get('e' as never)!.ties).toHaveLength(3);
      expect(whole(read)).toBe(whole(session.journal));
    });

    it('that does not keep every rule: ties to a heading that is gone are read as they stand', async () => {
      const place = await fresh();
      const store = await place.open();
      await Session.begin(store, journalOf(entry('e', { ties: [tieTo('nobody')] })));
      expect((await reopened(place, store)).tables.entries.get('e' as never)!.ties).toEqual([
        tieTo('nobody'),
      ]);
    });

    it('through edits asked for at once, in the order they were asked for', async () => {
      const place = await fresh();
      const store = await place.open();
      await store.saveMeta(META);
      const all: Promise<void>[] = [];
      let before;
      for (let n = 0; n < 30; n++) {
        const after = entry('e', { text: `turn ${n}`, minutes: n });
        all.push(keepOne(store, { id: 'e', ...(before ? { before } : {}), after }));
        before = after;
      }
      await Promise.all(all);
      expect((await reopened(place, store)).tables.entries.get('e' as never)).toEqual(before);
    });

    it('with what is known of it as a whole, and tells how many entries are to come', async () => {
      const place = await fresh();
      const store = await place.open();
      await store.saveMeta({ ...META, name: 'Harbour Lane' });
      const meta = {
        ...META,
        name: 'Harbour Lane',
        sinceCopy: 2,
        entries: 1,
        unknown: { later: [1] },
      };
      const changes = [{ table: 'entries', id: 'e', after: entry('e') } as Change];
      await store.keep(changes, meta);
      expect(await store.meta()).toMatchObject(meta);
      await store.close();
      const again = await place.open();
      expect(await again.meta()).toMatchObject({ id: 'j1', name: 'Harbour Lane', made: META.made });
      expect((await again.meta())!.unknown).toEqual({ later: [1] });
      expect(await again.entryCount()).toBe(1);
    });

    it('and hands headings over before the entries tied to them', async () => {
      const place = await fresh();
      const store = await place.open();
      await Session.begin(
        store,
        journalOf(entry('e', { ties: [tieTo('p')] }), person('p'), theme('t')),
      );
      await store.close();
      const tables: string[] = [];
      await (await place.open()).load(({ table }) => void tables.push(table));
      expect(tables).toEqual(['headings', 'entries']);
    });

    it('with its pictures, by digest', async () => {
      const place = await fresh();
      const store = await place.open();
      const bytes = new Uint8Array([137, 80, 78, 71, 0, 255]);
      await store.keepPicture('aa', bytes, 'image/png');
      await store.keepPicture('bb', bytes.slice(2), 'image/webp');
      await store.close();
      const again = await place.open();
      expect((await again.pictures()).sort()).toEqual(['aa', 'bb']);
      const picture = (await again.picture('aa'))!;
      expect([...picture.bytes]).toEqual([...bytes]);
      expect(picture.type).toBe('image/png');
      expect(await again.picture('cc')).toBeUndefined();
    });

    it('the same after its many edits are rewritten, and once more', async () => {
      const place = await fresh();
      const store = await place.open();
      const session = await Session.begin(store, journalOf(theme('t'), entry('a'), entry('b')));
      for (let n = 0; n < 70; n++) {
        const held = session.journal.tables.entries.get('a' as never)!;
        await session.do(make.putEntry(session.journal, { ...held, text: `${held.text} ${n}` }));
      }
      await session.do(make.removeEntries(session.journal, ['b'] as never));
      await store.compact();
      expect(await store.compact()).toBe(0);
      await session.undo();
      expect(whole((await readAll(store)).journal)).toBe(whole(session.journal));
      expect(whole(await reopened(place, store))).toBe(whole(session.journal));
    });

    it('by the rows it was handed, whatever becomes of them afterwards', async () => {
      const place = await fresh();
      const store = await place.open();
      await store.saveMeta(META);
      const row = entry('e', { probes: ['one'] });
      const keeping = keepOne(store, { id: 'e', after: row });
      await keeping;
      row.probes!.push('two');
      row.text = 'other';
      expect((await readAll(store)).journal.tables.entries.get('e' as never)).toEqual(
        entry('e', { probes: ['one'] }),
      );
    });
  });
}
