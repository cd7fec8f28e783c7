import { beforeAll, expect, test } from 'vitest';
import { Engine } from '../../../src/engine/engine';
import { findResult } from '../../../src/engine/finding';
import { foundIds, summed } from '../../../src/engine/many';
import { rowOf } from '../../../src/engine/rows';
import type { EntryId } from '../../../src/journal/records';
import { manyEntries } from '../../bench/many-entries';

let core: Engine;
beforeAll(() => {
  core = new Engine(manyEntries(300), {
    now: () => new Date('2026-01-01T00:00:00.000Z'),
    newId: () => 'new',
  });
});

const wholeHits = (query: object): EntryId[] =>
  findResult(core, { text: '', ...query, limit: 1000 }).hits.map(({ id }) => id);

test('the ids of what is found are those of its rows, in their order', () => {
  expect(foundIds(core, { text: '' })).toHaveLength(300);
  const [theme] = core.journal.tables.entries.get(foundIds(core, { text: '' })[0]!)!.ties.slice(-3);
  for (const query of [{}, { kinds: ['quote' as const] }, { themes: [theme!.heading] }])
    expect(foundIds(core, { text: '', ...query })).toEqual(wholeHits(query));
});

test('of many entries it is told how many are of a kind and tied to a heading, the most first', () => {
  const ids = [...core.journal.tables.entries.values()].slice(40, 140).map(({ id }) => id);
  const rows = ids.map((id) => rowOf(core.journal, id)!);
  const { kinds, ties } = summed(core.journal, [...ids, 'nobody' as EntryId]);
  for (const kind of ['note', 'quote', 'question', 'lesson', 'assignment'] as const)
    expect(kinds[kind] ?? 0).toBe(rows.filter((row) => row.kind === kind).length);
  expect(ties.length).toBeGreaterThan(100);
  for (const { heading, name, kind, count } of ties) {
    expect(count).toBe(rows.filter((row) => row.ties.some((t) => t.heading === heading)).length);
    expect(core.journal.tables.headings.get(heading)).toMatchObject({ name, kind });
  }
  const counts = ties.map(({ count }) => count);
  expect(counts).toEqual(counts.toSorted((a, b) => b - a));
});

test('an entry tied twice to one book is one of those tied to it', () => {
  const [entry] = [...core.journal.tables.entries.values()];
  const { id } = entry!;
  const { heading } = entry!.ties[0]!;
  const twice = { ...entry, ties: [...entry!.ties, { heading, role: 'about', by: 'reader' }] };
  core.journal.tables.entries.set(id, twice as NonNullable<typeof entry>);
  expect(summed(core.journal, [id]).ties.find((tie) => tie.heading === heading)?.count).toBe(1);
});
