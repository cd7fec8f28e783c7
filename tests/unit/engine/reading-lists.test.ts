import { describe, expect, test } from 'vitest';
import { handOverPlans } from '../../../src/app/read/list-plans';
import type { Core } from '../../../src/engine/core';
import {
  keepOrder,
  moveReadOut,
  paceList,
  placeOnList,
} from '../../../src/engine/reading-list-edits';
import { listView } from '../../../src/engine/reading-lists';
import { apply } from '../../../src/journal/edits';
import { readJournalFile, writeJournalFile } from '../../../src/journal/file';
import type {
  HeadingId,
  Journal,
  ListId,
  ListPace,
  ReadingList,
} from '../../../src/journal/records';
import { at, book, journalOf, reading } from '../reading/few';

const ID = '0198c6eb-d100-7000-834c-330340151767' as ListId;
const list = (more: Partial<ReadingList> = {}): ReadingList => ({
  id: ID,
  name: 'Autumn',
  books: ['emma', 'night'] as HeadingId[],
  ...more,
});
const made = (more: Partial<ReadingList> = {}): Journal =>
  journalOf({
    headings: [
      book('emma', 'Emma', { pages: 400 }),
      book('night', 'Night', { pages: 100 }),
      book('heidi', 'Heidi', { pages: 300 }),
    ],
    lists: [list(more)],
  });
let revision = 0;
const coreOf = (journal: Journal): Core =>
  ({ journal, around: at('2025-11-06'), revision: (revision += 1) }) as unknown as Core;

const PLAN: ListPace = {
  order: 'shortest',
  perDay: 25,
  finishBy: '2025-12-20',
  free: { weekdays: [6, 7], stretches: [{ from: '2025-11-10', to: '2025-11-12' }] },
};

describe('the plan of a list', () => {
  test('is part of the journal: it orders the list, goes into the file, and is taken back whole', async () => {
    const journal = made();
    const before = await writeJournalFile(journal);
    const asked = paceList(coreOf(journal), ID, PLAN);
    if (!asked.ok) throw new Error(asked.said);
    const applied = apply(journal, asked.edit);
    if (!applied.ok) throw new Error('refused');
    const view = listView(coreOf(journal), ID, {})!;
    expect(view.plan).toEqual(PLAN);
    expect(view.rows.map(({ book: id }) => id)).toEqual(['night', 'emma']);
    // 500 pages at 25 a day are 20 days for reading: 6, 7, 13, 14 November and 16 more without weekends.
    expect(view.ends).toBe('2025-12-08');

    const back = await readJournalFile(await writeJournalFile(journal));
    expect(back.ok && back.journal.tables.lists.get(ID)?.plan).toEqual(PLAN);

    expect(apply(journal, applied.inverse).ok).toBe(true);
    expect(await writeJournalFile(journal)).toEqual(before);
  });

  test('stays when books come and go; an order kept by hand takes the computed one off', () => {
    const journal = made({ plan: PLAN });
    const put = placeOnList(coreOf(journal), ID, 'heidi' as HeadingId);
    expect(put.ok && apply(journal, put.edit).ok).toBe(true);
    expect(journal.tables.lists.get(ID)?.plan).toEqual(PLAN);
    const kept = keepOrder(coreOf(journal), ID, ['heidi', 'night', 'emma'] as HeadingId[]);
    expect(kept.ok && apply(journal, kept.edit).ok).toBe(true);
    const { order: _order, ...rest } = PLAN;
    expect(journal.tables.lists.get(ID)).toEqual(
      list({ books: ['heidi', 'night', 'emma'] as HeadingId[], plan: rest }),
    );
  });

  test('is refused where it makes no sense, and changes nothing where it is the same', () => {
    const core = coreOf(made({ plan: PLAN }));
    expect(paceList(core, ID, { perDay: 2.5 })).toMatchObject({ code: 'bad-pace' });
    expect(paceList(core, ID, { finishBy: '2025-02-30' })).toMatchObject({ code: 'bad-day' });
    const free = { stretches: [{ from: '2025-11-10', to: 'soon' }] };
    expect(paceList(core, ID, { free })).toMatchObject({ code: 'bad-day' });
    expect(paceList(core, ID, PLAN)).toMatchObject({ ok: false, code: 'nothing' });
  });

  test('leaves no trace on the list when all of it is taken off', () => {
    const journal = made({ plan: PLAN });
    const asked = paceList(coreOf(journal), ID, {});
    expect(asked.ok && apply(journal, asked.edit).ok).toBe(true);
    expect(journal.tables.lists.get(ID)).toEqual(list());
  });
});

describe('a list for a school year still to come', () => {
  const planned = (finishBy?: string): NonNullable<ReturnType<typeof listView>> =>
    listView(
      coreOf(
        made({ schoolYear: '2026/27', plan: { perDay: 10, ...(finishBy ? { finishBy } : {}) } }),
      ),
      ID,
      {},
    )!;

  test('is planned from its first day', () => {
    for (const finishBy of [undefined, '2026-09-01', '2026-12-20'])
      expect(planned(finishBy).rows[0]!.when).toMatch(/^1 Sept? to .* 2026$/);
  });

  test('is planned from today where it is to be finished before then', () => {
    const { said, need, rows } = planned('2026-08-31');
    expect(said).not.toContain('gone by');
    expect(said).toContain('2 pages a day on 299 days would finish by 31 Aug 2026.');
    expect(need).toBe(2);
    expect(rows[0]!.when).toMatch(/^6 Nov /);
  });

  test('is told that a day has gone by only once it has', () => {
    expect(planned('2025-11-05').said).toContain('5 Nov 2025 has gone by.');
  });
});

test('read books taken off a list are counted in what was done', () => {
  const journal = made();
  const read = (...ids: string[]): Journal =>
    journalOf({
      headings: [...journal.tables.headings.values()],
      lists: [list()],
      readings: ids.map((id) => reading(`r-${id}`, id, '2025-10-01')),
    });
  const does = (...ids: string[]): string | false => {
    const asked = moveReadOut(coreOf(read(...ids)), ID, {});
    return asked.ok && asked.edit.does;
  };
  expect(does('emma')).toBe('Take 1 read book off Autumn');
  expect(does('emma', 'night')).toBe('Take 2 read books off Autumn');
});

describe('a plan an earlier version kept in the browser', () => {
  const STORED = 'bookweft.list-plans';
  const handed = async (
    journal: Journal,
    held: string,
  ): Promise<{ left: string | null; edits: number }> => {
    const store = new Map([[STORED, held]]);
    let edits = 0;
    await handOverPlans(
      {
        list: async (id, ask) => listView(coreOf(journal), id, ask),
        paceList: async (id, plan) => {
          const asked = paceList(coreOf(journal), id, plan);
          edits += 1;
          if (asked.ok) apply(journal, asked.edit);
          return { ok: asked.ok, said: '' } as never;
        },
      },
      {
        getItem: (key) => store.get(key) ?? null,
        setItem: (key, value) => void store.set(key, value),
        removeItem: (key) => void store.delete(key),
      },
    );
    return { left: store.get(STORED) ?? null, edits };
  };

  test('is handed to its list once; one for another journal waits', async () => {
    const journal = made();
    const other = { other: { perDay: 5 } };
    const old = { [ID]: { ...PLAN, order: 'hand' }, ...other };
    const { left } = await handed(journal, JSON.stringify(old));
    const { order: _order, ...rest } = PLAN;
    expect(journal.tables.lists.get(ID)?.plan).toEqual(rest);
    expect(JSON.parse(left!)).toEqual(other);
    expect(await handed(journal, left!)).toEqual({ left, edits: 0 });
  });

  test('never takes the place of one the journal has, and what cannot be read is let go', async () => {
    const journal = made({ plan: { perDay: 7 } });
    expect(await handed(journal, JSON.stringify({ [ID]: PLAN }))).toEqual({ left: null, edits: 0 });
    expect(journal.tables.lists.get(ID)?.plan).toEqual({ perDay: 7 });
    expect(await handed(journal, '{broken')).toEqual({ left: null, edits: 0 });
    expect(await handed(journal, '["a"]')).toEqual({ left: null, edits: 0 });
  });
});
