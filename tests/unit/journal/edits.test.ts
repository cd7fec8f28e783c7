import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { apply, type Edit } from '../../../src/journal/edits';
import { writeJournalFile } from '../../../src/journal/file';
import { forgetIndexes, rowsNaming } from '../../../src/journal/indexes';
import { emptyJournal } from '../../../src/journal/journal';
import { putEntry, putHeading, tieEntries, untieEntries } from '../../../src/journal/make-edits';
import {
  TABLES,
  type Entry,
  type HeadingId,
  type Journal,
  type ThemeHeading,
} from '../../../src/journal/records';
import { checkJournal } from '../../../src/journal/rules';
import { arbitraryJournal, arbitraryStep, BUILDERS, LATER } from './arbitrary-journal';
import { entry, journalOf, theme, tieTo } from './few';

/** All rows, whatever their order, as text to be compared. */
const whole = (journal: Journal): string => writeJournalFile(journal);

function must(journal: Journal, edit: Edit): Edit {
  const done = apply(journal, edit);
  if (!done.ok) throw new Error(`${edit.does}: ${done.code} ${done.message}`);
  return done.inverse;
}

describe('random edits', () => {
  it('begin from journals that keep every rule', () => {
    fc.assert(
      fc.property(arbitraryJournal(), (journal) => {
        expect(checkJournal(journal)).toEqual([]);
      }),
    );
  });

  it('are all accepted, keep every rule, and undone in turn give the same journal at each step', () => {
    fc.assert(
      fc.property(
        arbitraryJournal(),
        fc.array(arbitraryStep(), { minLength: 1, maxLength: 8 }),
        (journal, steps) => {
          const states: string[] = [];
          const inverses: Edit[] = [];
          for (const step of steps) {
            states.push(whole(journal));
            inverses.push(must(journal, step.make(journal)));
            expect(checkJournal(journal)).toEqual([]);
          }
          const end = whole(journal);
          const redo: Edit[] = [];
          for (const inverse of inverses.reverse()) {
            redo.push(must(journal, inverse));
            expect(whole(journal)).toBe(states.pop());
          }
          for (const again of redo.reverse()) must(journal, again);
          expect(whole(journal)).toBe(end);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('reach every builder and do something in each', () => {
    const reached = new Set<string>();
    for (const journal of fc.sample(arbitraryJournal(), { numRuns: 150, seed: 7 })) {
      for (const step of fc.sample(arbitraryStep(), {
        numRuns: 12,
        seed: journal.tables.entries.size,
      })) {
        if (step.make(journal).changes.length > 0) reached.add(step.builder);
      }
    }
    expect([...BUILDERS].filter((builder) => !reached.has(builder))).toEqual([]);
  });

  it('leave indexes that are the same as ones built afresh', () => {
    fc.assert(
      fc.property(
        arbitraryJournal(),
        fc.array(arbitraryStep(), { maxLength: 6 }),
        (journal, steps) => {
          const naming = (): string[] =>
            TABLES.flatMap((to) =>
              [...journal.tables[to].keys()].flatMap((id) =>
                TABLES.map(
                  (table) =>
                    `${to} ${id} ${table} ${[...rowsNaming(journal, to, id, table)].sort().join()}`,
                ),
              ),
            );
          naming();
          for (const step of steps) must(journal, step.make(journal));
          const kept = naming();
          forgetIndexes(journal);
          expect(kept).toEqual(naming());
        },
      ),
    );
  });

  it('never alter a row that was handed out', () => {
    fc.assert(
      fc.property(arbitraryJournal(), arbitraryStep(), (journal, step) => {
        const rows = TABLES.flatMap((table) => [...journal.tables[table].values()]);
        const before = JSON.stringify(rows);
        must(journal, step.make(journal));
        expect(JSON.stringify(rows)).toBe(before);
      }),
    );
  });
});

describe('an edit that breaks a rule', () => {
  const refused = (journal: Journal, edit: Edit): string => {
    const before = whole(journal);
    const done = apply(journal, edit);
    expect(whole(journal)).toBe(before);
    return done.ok ? 'accepted' : done.code;
  };

  it('is refused whole, good changes with the bad one', () => {
    const journal = journalOf(entry('e1'), theme('t1'));
    const good = { table: 'entries', id: 'e2', after: entry('e2') } as const;
    const bad = {
      table: 'entries',
      id: 'e3',
      after: entry('e3', { ties: [tieTo('nowhere')] }),
    } as const;
    expect(refused(journal, { does: 'Two', changes: [good, bad] })).toBe('missing-heading');
  });

  it('is told by its code', () => {
    const journal = journalOf(
      entry('e1', { ties: [tieTo('t1')] }),
      theme('t1', { broader: ['t2' as HeadingId] }),
      theme('t2'),
    );
    const t2 = journal.tables.headings.get('t2') as ThemeHeading;
    const change = (after: ThemeHeading): Edit => ({
      does: 'Change',
      changes: [{ table: 'headings', id: 't2', before: t2, after }],
    });
    expect(refused(journal, change({ ...t2, broader: ['t1' as HeadingId] }))).toBe(
      'circle-of-themes',
    );
    expect(refused(journal, change({ ...t2, related: ['t1' as HeadingId] }))).toBe(
      'one-sided-relation',
    );
    expect(refused(journal, change({ ...t2, name: ' ' }))).toBe('no-name');
    expect(refused(journal, change({ ...t2, name: 7 as never }))).toBe('bad-type');
    expect(refused(journal, change({ ...t2, kind: 'person', roles: [] } as never))).toBe(
      'kind-changed',
    );
    expect(refused(journal, change({ ...t2, id: 't9' as HeadingId }))).toBe('wrong-row');
    const remove: Edit = { does: 'Remove', changes: [{ table: 'headings', id: 't1' }] };
    expect(refused(journal, remove)).toBe('still-used');
    const doubled = { ...entry('e1'), ties: [tieTo('t1'), tieTo('t1')] };
    expect(refused(journal, putEntry(journal, doubled))).toBe('doubled-tie');
    const late = putEntry(journal, { ...entry('e1'), text: 'Later' });
    must(journal, { does: 'Remove', changes: [{ table: 'entries', id: 'e1' }] });
    expect(refused(journal, late)).toBe('gone');
  });

  it('is refused where taking a relation off one side leaves the other', () => {
    const journal = journalOf(theme('t1'), theme('t2'));
    must(journal, putHeading(journal, theme('t1', { related: ['t2' as HeadingId] })));
    expect((journal.tables.headings.get('t2') as ThemeHeading).related).toEqual(['t1']);
    const before = journal.tables.headings.get('t1') as ThemeHeading;
    const after: ThemeHeading = { ...before, related: [] };
    const edit: Edit = {
      does: 'Change',
      changes: [{ table: 'headings', id: 't1', before, after }],
    };
    expect(refused(journal, edit)).toBe('one-sided-relation');
  });
});

describe('a journal with an old fault', () => {
  const broken = (): Journal => journalOf(entry('e1', { ties: [tieTo('nowhere')] }), theme('t1'));

  it('can still be edited around the fault', () => {
    const journal = broken();
    must(journal, tieEntries(journal, [entry('e1').id], tieTo('t1'), LATER));
    expect(journal.tables.entries.get('e1')?.ties).toHaveLength(2);
    expect(checkJournal(journal).map(({ code }) => code)).toEqual(['missing-heading']);
  });

  it('may not be given the same fault once more', () => {
    const journal = broken();
    const worse = [tieTo('nowhere'), { ...tieTo('nowhere'), role: 'for' as const }];
    expect(apply(journal, putEntry(journal, entry('e1', { ties: worse })))).toMatchObject({
      ok: false,
      code: 'missing-heading',
    });
  });

  it('is mended by untying', () => {
    const journal = broken();
    must(journal, untieEntries(journal, [entry('e1').id], 'nowhere' as HeadingId, LATER));
    expect(checkJournal(journal)).toEqual([]);
  });
});

describe('an edit made from an older row', () => {
  it('changes only the fields it was made to change', () => {
    const journal = journalOf(entry('e1', { title: 'Old' }));
    const e1 = journal.tables.entries.get('e1') as Entry;
    const title = putEntry(journal, { ...e1, title: 'New' });
    must(journal, putEntry(journal, { ...e1, text: 'Rewritten', minutes: 5 }));
    const inverse = must(journal, title);
    expect(journal.tables.entries.get('e1')).toMatchObject({
      title: 'New',
      text: 'Rewritten',
      minutes: 5,
    });
    must(journal, inverse);
    expect(journal.tables.entries.get('e1')).toMatchObject({
      title: 'Old',
      text: 'Rewritten',
      minutes: 5,
    });
  });

  it('adds its tie beside one made meanwhile, and takes off only its own', () => {
    const journal = journalOf(
      entry('e1', { ties: [tieTo('t1')] }),
      theme('t1'),
      theme('t2'),
      theme('t3'),
    );
    const id = entry('e1').id;
    const second = tieEntries(journal, [id], tieTo('t2'), LATER);
    const off = untieEntries(journal, [id], 't1' as HeadingId, LATER);
    must(journal, tieEntries(journal, [id], tieTo('t3'), LATER));
    must(journal, second);
    must(journal, off);
    const headings = journal.tables.entries.get('e1')?.ties.map(({ heading }) => heading);
    expect(headings).toEqual(['t3', 't2']);
  });

  it('adds no second tie where the same one was made meanwhile', () => {
    const journal = journalOf(entry('e1'), theme('t1'));
    const id = entry('e1').id;
    const proposed = tieEntries(journal, [id], { ...tieTo('t1'), by: 'proposed' }, LATER);
    must(journal, tieEntries(journal, [id], tieTo('t1'), LATER));
    must(journal, proposed);
    expect(journal.tables.entries.get('e1')?.ties).toHaveLength(1);
  });

  it('takes a field away where it was made to, and leaves unknown ones', () => {
    const journal = journalOf({ ...entry('e1', { title: 'Old' }), later: { kept: true } } as Entry);
    const e1 = journal.tables.entries.get('e1') as Entry;
    const { title: _title, ...untitled } = e1;
    must(journal, putEntry(journal, untitled));
    expect(journal.tables.entries.get('e1')).not.toHaveProperty('title');
    expect(journal.tables.entries.get('e1')).toHaveProperty('later', { kept: true });
  });
});

describe('rows that arrive in pieces', () => {
  it('are taken unchecked before what they name, but never with a wrong type', () => {
    const journal = emptyJournal('j', 'J', LATER);
    const early = {
      does: 'Load',
      changes: [{ table: 'entries', id: 'e1', after: entry('e1', { ties: [tieTo('t1')] }) }],
    };
    expect(apply(journal, early as Edit).ok).toBe(false);
    expect(apply(journal, early as Edit, { unchecked: true }).ok).toBe(true);
    must(journal, putHeading(journal, theme('t1')));
    expect(checkJournal(journal)).toEqual([]);
    const wrong = {
      does: 'Load',
      changes: [{ table: 'entries', id: 'e2', after: { id: 'e2', kind: 'note' } }],
    };
    expect(apply(journal, wrong as never, { unchecked: true })).toMatchObject({
      code: 'missing-field',
    });
  });
});
