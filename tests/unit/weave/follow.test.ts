import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { apply, type Edit } from '../../../src/journal/edits';
import type { EntryId, HeadingId, Journal } from '../../../src/journal/records';
import { meet, printOfId, StoredIds } from '../../../src/language/places';
import { chain } from '../../../src/weave/chain';
import { nearTo } from '../../../src/weave/near';
import { strands } from '../../../src/weave/strands';
import { proposeFor, proposeHeadingsFor } from '../../../src/weave/tied';
import { WeaveIndex } from '../../../src/weave/weave-index';
import { arbitraryJournal, arbitraryStep } from '../journal/arbitrary-journal';
import { entry, journalOf, theme, tieTo } from '../journal/few';
import { thesaurus } from './true-reasons';

function follow(index: WeaveIndex, edit: Edit): void {
  const { entries, headings } = index.journal.tables;
  for (const { table, id } of edit.changes) {
    if (table === 'entries') {
      const row = entries.get(id);
      if (row) index.put(row);
      else index.remove(id as EntryId);
    } else if (table === 'headings') {
      const row = headings.get(id);
      if (row) index.putHeading(row);
      else index.removeHeading(id as HeadingId);
    }
  }
}

/** Answers to one of every question about every row. Scores are told to nine digits: sums in another order differ in the last few. */
function answers(index: WeaveIndex): unknown {
  const { journal } = index;
  const entries = [...journal.tables.entries.keys()].sort() as EntryId[];
  const headings = [...journal.tables.headings.keys()].sort() as HeadingId[];
  const told = JSON.stringify(
    [
      entries.map((id) => nearTo(index, { entries: [id] }, { limit: 6 })),
      headings.map((id) => nearTo(index, { headings: [id] }, { limit: 6 })),
      nearTo(index, { text: 'lorem ipsum dolor' }, { limit: 6 }),
      headings.map((id) => proposeFor(index, id)),
      entries.map((id) => proposeHeadingsFor(index, id)),
      entries.slice(1).map((id, at) => chain(index, entries[at]!, id)),
      strands(index, { seed: 1 }),
    ],
    (_, value: unknown) => (typeof value === 'number' ? Number(value.toPrecision(9)) : value),
  );
  return JSON.parse(told);
}

function build(index: WeaveIndex): void {
  void [
    index.links,
    index.words,
    index.names,
    strands(index, { seed: 1 }),
    index.kinds,
    index.related,
  ];
}

describe('an index that has followed edits', () => {
  it('answers as one built anew', () => {
    fc.assert(
      fc.property(
        arbitraryJournal(),
        fc.array(arbitraryStep(), { minLength: 1, maxLength: 8 }),
        (journal, steps) => {
          const index = new WeaveIndex(journal, thesaurus);
          build(index);
          for (const step of steps) {
            const done = apply(journal, step.make(journal));
            if (done.ok) follow(index, done.inverse);
          }
          expect(answers(index)).toEqual(answers(new WeaveIndex(journal, thesaurus)));
        },
      ),
      { numRuns: 120 },
    );
  }, 60_000);

  it('answers as one built anew once both have learnt what the words mean', () => {
    const learn = (index: WeaveIndex): WeaveIndex => {
      const learning = index.learnMeaning();
      while (!learning.next().done);
      return index;
    };
    const journal = journalOf(theme('s'), theme('t'));
    const index = learn(new WeaveIndex(journal));
    for (let turn = 0; turn < 60; turn++) {
      const row = entry(`e${turn % 20}`, {
        text: `storm${turn % 3} sea${turn % 5} tide${turn % 4} lamp`,
        ties: [tieTo('st'[turn % 2]!)],
      });
      journal.tables.entries.set(row.id, row);
      index.put(row);
    }
    expect(index.unlearnt).toBe(60);
    const found = answers(learn(index));
    expect(index.unlearnt).toBe(0);
    expect(found).toEqual(answers(learn(new WeaveIndex(journal))));
    const [near] = nearTo(index, { text: 'storm1 sea2' }, { limit: 3 });
    expect(near?.type).toBe('entry');
  });

  it('goes on from what was packed as one that never stopped, whatever has changed since', () => {
    const row = (turn: number, more = ''): ReturnType<typeof entry> =>
      entry(`e${String(turn).padStart(2, '0')}`, {
        text: `storm${turn % 3} sea${turn % 5} tide${turn % 4} lamp ${more}`,
        ties: [tieTo('st'[turn % 2]!)],
      });
    fc.assert(
      fc.property(
        fc.array(fc.record({ at: fc.nat({ max: 29 }), gone: fc.boolean() }), { maxLength: 8 }),
        (changes) => {
          const journal = journalOf(
            theme('s'),
            theme('t'),
            ...Array.from({ length: 25 }, (_, turn) => row(turn)),
          );
          const stayed = new WeaveIndex(journal);
          const learning = stayed.learnMeaning();
          while (!learning.next().done);
          const { entries } = journal.tables;
          const before = [...entries.values()];
          const packed = structuredClone(stayed.pack(before.map(({ id }) => id)));
          for (const { at, gone } of changes) {
            const made = row(at, 'a lamp in the window');
            if (gone) entries.delete(made.id);
            else entries.set(made.id, made);
            follow(stayed, { does: '', changes: [{ table: 'entries', id: made.id }] });
          }
          const again = new WeaveIndex(journal);
          const same = before.map(({ id, text }) =>
            entries.get(id)?.text === text ? id : undefined,
          );
          const list = meet(
            new StoredIds(Float64Array.from(before, ({ id }) => printOfId(id))),
            same,
          );
          for (const _ of again.resume(packed, list)) void _;
          expect(again.meaning).toBeDefined();
          expect(again.unlearnt).toBeLessThanOrEqual(changes.length);
          expect(answers(again)).toEqual(answers(stayed));
        },
      ),
      { numRuns: 60 },
    );
  }, 60_000);

  it('answers as one built anew after so many edits that its tables were cleared', () => {
    const journal: Journal = journalOf(theme('s'), theme('t'), theme('u'));
    const index = new WeaveIndex(journal);
    build(index);
    for (let turn = 0; turn < 6000; turn++) {
      const row = entry(`e${turn % 12}`, {
        text: `storm ${turn % 7} sea ${turn % 5} tide${turn % 3}`,
        ties: [tieTo('stu'[turn % 3]!), tieTo('stu'[(turn + 1 + (turn % 2)) % 3]!)],
      });
      journal.tables.entries.set(row.id, row);
      index.put(row);
    }
    expect(answers(index)).toEqual(answers(new WeaveIndex(journal)));
  });

  it('joins entries to a heading that comes only after them', () => {
    const journal = journalOf(
      entry('a', { ties: [tieTo('t')] }),
      entry('b', { ties: [tieTo('t')] }),
    );
    const index = new WeaveIndex(journal);
    expect(chain(index, 'a', 'b')).toBeUndefined();
    journal.tables.headings.set('t', theme('t'));
    index.putHeading(theme('t'));
    expect(chain(index, 'a', 'b')?.steps.map(({ id }) => id)).toEqual(['a', 't', 'b']);
  });

  it('gives the same answer twice', () => {
    fc.assert(
      fc.property(arbitraryJournal(), (journal) => {
        const index = new WeaveIndex(journal);
        expect(answers(index)).toEqual(answers(index));
      }),
      { numRuns: 30 },
    );
  });
});
