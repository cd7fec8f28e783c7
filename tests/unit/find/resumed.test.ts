import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { printOf } from '../../../src/find/documents';
import { FindIndex, type PackedFind } from '../../../src/find/find-index';
import { readJournalFile } from '../../../src/journal/file';
import type { EntryId, HeadingId, Journal } from '../../../src/journal/records';

const NOW = '2026-01-05T12:00:00.000Z';
const QUERIES = ['', 'garden', 'courage storm', '"the river"', 'mary -garden', 'cour', 'reding'];
const text = readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8');

function demo(entries: number): Journal {
  const read = readJournalFile(text);
  if (!read.ok) throw new Error(read.message);
  const { journal } = read;
  for (const id of [...journal.tables.entries.keys()].slice(entries))
    journal.tables.entries.delete(id);
  return journal;
}

function packed(journal: Journal): PackedFind {
  const prints = new Map(
    [...journal.tables.entries.values()].map((one) => [one.id, printOf(journal, one)]),
  );
  return structuredClone(new FindIndex(journal).pack(prints).packed);
}

const found = (index: FindIndex): unknown =>
  QUERIES.map((query) => {
    const told = index.find({ text: query, typing: query === 'cour', limit: 50 }, NOW);
    return {
      ...told,
      hits: told.hits.map((hit) => ({ ...hit, score: hit.score.toFixed(6) })),
    };
  });

/** What happens to one entry between two openings. */
const change = fc.record({
  at: fc.nat(),
  does: fc.constantFrom('alter', 'remove', 'add', 'untie', 'rename'),
});

describe('an index gone on with', () => {
  test('answers as one built anew, whatever has changed since', () => {
    fc.assert(
      fc.property(
        fc.array(change, { maxLength: 12 }),
        fc.nat({ max: 60 }),
        fc.shuffledSubarray([...Array(60).keys()], { minLength: 60 }),
        (changes, early, order) => {
          const before = demo(60);
          const stored = packed(before);
          const now = demo(60);
          const { entries, headings } = now.tables;
          const ids = [...entries.keys()];
          for (const { at, does } of changes) {
            const id = ids[at % ids.length]! as EntryId;
            const held = entries.get(id);
            if (!held) continue;
            if (does === 'remove') entries.delete(id);
            else if (does === 'add')
              entries.set(`${id}-2`, { ...held, id: `${id}-2` as EntryId, text: 'A garden again' });
            else if (does === 'untie') entries.set(id, { ...held, ties: held.ties.slice(1) });
            else if (does === 'alter') entries.set(id, { ...held, text: `${held.text} A storm.` });
            else {
              const tied = held.ties[0] && headings.get(held.ties[0].heading as HeadingId);
              if (tied) headings.set(tied.id, { ...tied, name: `${tied.name} of courage` });
            }
          }
          // Read in any order, and what was stored comes when some have been read.
          const all = [...entries.values()];
          const reading = order.flatMap((at) => all[at] ?? []).concat(all.slice(order.length));
          entries.clear();
          const index = new FindIndex(now);
          reading.forEach((entry, at) => {
            if (at === Math.min(early, reading.length - 1)) index.resume(stored);
            entries.set(entry.id, entry);
            index.put(entry);
          });
          index.allArrived();
          expect(found(index)).toEqual(found(new FindIndex(now)));
          const as = index.asStored();
          const prints = [...before.tables.entries.values()].map((one) => printOf(before, one));
          const same = [...before.tables.entries.keys()].map((id, place) => {
            const held = entries.get(id);
            return held && printOf(now, held) === prints[place] ? id : undefined;
          });
          expect(as.ids).toEqual(same);
          expect(as.places.size).toBe(same.filter((id) => id !== undefined).length);
        },
      ),
      { numRuns: 40 },
    );
  }, 60_000);

  test('finds nothing that has not been read yet', () => {
    const now = demo(60);
    const stored = packed(now);
    const all = [...now.tables.entries.values()];
    now.tables.entries.clear();
    const index = new FindIndex(now);
    index.resume(stored);
    expect(index.find({ text: 'garden' }, NOW)).toMatchObject({ total: 0, hits: [] });
    expect(index.find({ text: 'garden river zzzz' }, NOW).loosen.map((one) => one.without)).toEqual(
      [0, 0, 0],
    );
    now.tables.entries.set(all[0]!.id, all[0]!);
    index.put(all[0]!);
    expect(index.find({ text: '' }, NOW).total).toBe(1);
  });

  test('an entry that is as it was is not taken apart again', () => {
    const now = demo(60);
    const stored = packed(now);
    // What is stored says another word: only an index that goes on from it knows it.
    stored.passages.words = stored.passages.words.replace(/^garden$/m, 'gardenia');
    const index = new FindIndex({ ...now, tables: { ...now.tables, entries: new Map() } });
    index.resume(stored);
    for (const entry of now.tables.entries.values()) {
      index.journal.tables.entries.set(entry.id, entry);
      index.put(entry);
    }
    expect(index.find({ text: 'gardenia', onlyMyWords: true }, NOW).total).toBeGreaterThan(0);
  });

  test('knows what came as it was, and nothing that changed after', () => {
    const now = demo(60);
    const index = new FindIndex(now);
    index.resume(packed(now));
    const { entries, headings } = now.tables;
    const [first, ...rest] = [...entries.values()];
    const known = (): (string | undefined)[] => index.asStored().ids.filter(Boolean);
    expect(known()).toEqual([...entries.keys()]);
    index.put({ ...first!, text: `${first!.text} A storm.` });
    expect(known()).toEqual(rest.map(({ id }) => id));
    const tied = rest.flatMap(({ ties }) => ties)[0]!.heading;
    const renamed = { ...headings.get(tied)!, name: 'Another name' };
    headings.set(tied, renamed);
    index.putHeading(renamed);
    const untouched = rest.filter(({ ties }) => ties.every(({ heading }) => heading !== tied));
    expect(untouched.length).toBeLessThan(rest.length);
    expect(known()).toEqual(untouched.map(({ id }) => id));
  });
});
