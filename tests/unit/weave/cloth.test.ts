import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { apply } from '../../../src/journal/edits';
import {
  ENTRY_KINDS,
  type EntryId,
  type HeadingId,
  type Journal,
} from '../../../src/journal/records';
import { ClothTable, KINDS, type Crossings, type Span } from '../../../src/weave/cloth-table';
import { dyesFor } from '../../../src/weave/dyes';
import { fold } from '../../../src/weave/threads';
import { arbitraryJournal, arbitraryStep } from '../journal/arbitrary-journal';
import { book, entry, journalOf, theme, tieTo } from '../journal/few';

const ofKind = (journal: Journal, kind: 'book' | 'theme'): HeadingId[] =>
  [...journal.tables.headings.values()]
    .filter((heading) => heading.kind === kind)
    .map(({ id }) => id)
    .sort();

function count(table: ClothTable, journal: Journal, span?: Span): Crossings {
  const [rows, columns] = [ofKind(journal, 'theme'), ofKind(journal, 'book')];
  const place = (ids: HeadingId[]) => (id: HeadingId) => {
    const at = ids.indexOf(id);
    return at < 0 ? undefined : at;
  };
  return table.count(
    { rows: rows.length, columns: columns.length },
    place(rows),
    place(columns),
    span,
  );
}

/** "row column" to the five counts, for comparing. */
function plain({ rows, starts, at, counts }: Crossings): Record<string, number[]> {
  const knots: Record<string, number[]> = {};
  for (let row = 0; row < rows; row++) {
    for (let knot = starts[row]!; knot < starts[row + 1]!; knot++) {
      knots[`${row} ${at[knot]}`] = [...counts.subarray(knot * KINDS, (knot + 1) * KINDS)];
    }
  }
  return knots;
}

/** The same by looking at every entry for every crossing. */
function bruteForce(journal: Journal): Record<string, number[]> {
  const knots: Record<string, number[]> = {};
  ofKind(journal, 'theme').forEach((row, r) =>
    ofKind(journal, 'book').forEach((column, c) => {
      const here = [...journal.tables.entries.values()].filter(
        ({ ties }) =>
          ties.some(({ heading }) => heading === row) &&
          ties.some(({ heading }) => heading === column),
      );
      if (here.length === 0) return;
      knots[`${r} ${c}`] = ENTRY_KINDS.map(
        (kind) => here.filter((one) => one.kind === kind).length,
      );
    }),
  );
  return knots;
}

describe('the cloth', () => {
  it('counts at each crossing the entries tied to both, however the edits came', () => {
    fc.assert(
      fc.property(
        arbitraryJournal(),
        fc.array(arbitraryStep(), { maxLength: 8 }),
        (journal, steps) => {
          const table = ClothTable.of(journal);
          for (const step of steps) {
            const done = apply(journal, step.make(journal));
            if (!done.ok) continue;
            for (const { table: name, id } of done.inverse.changes) {
              if (name !== 'entries') continue;
              const row = journal.tables.entries.get(id);
              if (row) table.put(row);
              else table.remove(id as EntryId);
            }
          }
          expect(plain(count(table, journal))).toEqual(bruteForce(journal));
        },
      ),
      { numRuns: 150 },
    );
  });

  it('counts what may have been written in a span, by its own date and not by when it was added', () => {
    const at = (id: string, written?: string): ReturnType<typeof entry> =>
      entry(id, { ties: [tieTo('b'), tieTo('t')], ...(written ? { written } : {}) });
    const rows = [
      at('a', '2014-03-14'),
      at('b', '2014'),
      at('c', '2013-12'),
      at('d', '201X'),
      at('e'),
      at('f', '2015-21'),
      at('g', '2014-02/..'),
    ];
    const journal = journalOf(book('b'), theme('t'), ...rows);
    const table = ClothTable.of(journal);
    const held = (span: Span): string[] =>
      rows.filter(({ id }) => table.holds(id, span)).map(({ id }) => id as string);
    expect(held({})).toEqual(['a', 'b', 'c', 'd', 'e', 'f', 'g']);
    expect(held({ from: '2014-01-01', to: '2014-12-31' })).toEqual(['a', 'b', 'd', 'g']);
    expect(held({ from: '2015-01-01' })).toEqual(['d', 'f', 'g']);
    expect(held({ to: '2013-12-01' })).toEqual(['c', 'd']);
    const spanned = count(table, journal, { from: '2014-01-01', to: '2014-12-31' });
    expect(plain(spanned)).toEqual({ '0 0': [4, 0, 0, 0, 0] });
    expect(spanned.rowCounts[0]).toBe(4);
  });

  it('counts an entry once in a wide thread it is tied to twice', () => {
    const journal = journalOf(
      ...[book('b'), book('c'), theme('t')],
      entry('e', { ties: [tieTo('b'), tieTo('c'), tieTo('t')] }),
    );
    const wide = ClothTable.of(journal).count(
      { rows: 1, columns: 1 },
      (id) => (id === 't' ? 0 : undefined),
      (id) => (id === 'b' || id === 'c' ? 0 : undefined),
    );
    expect(plain(wide)).toEqual({ '0 0': [1, 0, 0, 0, 0] });
    expect([...wide.columnCounts]).toEqual([1, 0, 0, 0, 0]);
  });

  it('stands after so many edits that its table was cleared', () => {
    const journal = journalOf(book('b'), theme('t'), theme('u'));
    const table = ClothTable.of(journal);
    for (let turn = 0; turn < 8000; turn++) {
      const row = entry(`e${turn % 9}`, { ties: [tieTo('b'), tieTo('tu'[turn % 2]!)] });
      journal.tables.entries.set(row.id, row);
      table.put(row);
    }
    expect(plain(count(table, journal))).toEqual(bruteForce(journal));
  });
});

describe('threads folded by key', () => {
  const ids = (text: string): HeadingId[] => [...text] as HeadingId[];
  const keys: Record<string, string> = { a: '1', b: '2', c: '1', d: '3', e: '2' };

  it('lie where their first heading stood; a heading alone in its fold stays itself', () => {
    expect(fold(ids('abcdef'), (id) => keys[id], new Set())).toEqual([
      { id: '1', headings: ['a', 'c'], fold: '1' },
      { id: '2', headings: ['b', 'e'], fold: '2' },
      { id: 'd', headings: ['d'] },
      { id: 'f', headings: ['f'] },
    ]);
  });

  it('lie side by side where their fold is open', () => {
    const open = fold(ids('abcdef'), (id) => keys[id], new Set(['2']));
    expect(open.map(({ id }) => id)).toEqual(['1', 'b', 'e', 'd', 'f']);
    expect(open[1]).toEqual({ id: 'b', headings: ['b'], fold: '2' });
  });

  it('hold every heading once', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.string({ minLength: 1, maxLength: 3 })),
        fc.array(fc.constantFrom('x', 'y', 'z')),
        (order, opened) => {
          const laid = fold(
            order as HeadingId[],
            (id) => (id < 'm' ? 'xyz'[id.length % 3] : undefined),
            new Set(opened),
          );
          expect(laid.flatMap(({ headings }) => headings).sort()).toEqual([...order].sort());
        },
      ),
    );
  });
});

describe('dyes', () => {
  it('go to the five largest, and stay with a strand when another grows past it', () => {
    const first = dyesFor(['a', 'b', 'c', 'd', 'e', 'f'], {});
    expect(Object.fromEntries(first)).toEqual({ a: 0, b: 1, c: 2, d: 3, e: 4 });
    const then = dyesFor(['b', 'f', 'a', 'd', 'c', 'e'], Object.fromEntries(first));
    expect(Object.fromEntries(then)).toEqual({ a: 0, b: 1, c: 2, d: 3, f: 4 });
  });

  it('go first to a strand brought forward', () => {
    const held = { a: 0, b: 1, c: 2, d: 3, e: 4 };
    const dyes = dyesFor(['a', 'b', 'c', 'd', 'e', 'f'], held, ['f']);
    expect(Object.fromEntries(dyes)).toEqual({ a: 0, b: 1, c: 2, d: 3, f: 4 });
  });
});
