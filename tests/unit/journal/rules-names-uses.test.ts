import { describe, expect, it } from 'vitest';
import { apply } from '../../../src/journal/edits';
import { makeIds } from '../../../src/journal/ids';
import {
  putHeading,
  putRow,
  removeRow,
  renameHeading,
  tieEntries,
} from '../../../src/journal/make-edits';
import { resolveHeading, seemingSame } from '../../../src/journal/names';
import type {
  CircleId,
  EntryId,
  HeadingId,
  Journal,
  MeetingId,
} from '../../../src/journal/records';
import { checkJournal } from '../../../src/journal/rules';
import { entriesTiedTo, usesOf } from '../../../src/journal/uses';
import { book, entry, journalOf, person, theme, tieTo } from './few';

const h = (...ids: string[]): HeadingId[] => ids as HeadingId[];
const codes = (journal: Journal): string[] => checkJournal(journal).map(({ code }) => code);

describe('checkJournal', () => {
  it('tells where a fault is', () => {
    const journal = journalOf(entry('e1', { ties: [tieTo('nowhere')] }));
    expect(checkJournal(journal)).toMatchObject([
      { path: 'entries/e1/ties/0/heading', code: 'missing-heading' },
    ]);
  });

  it('finds each kind of fault', () => {
    expect(codes(journalOf(book('b', { authors: h('t') }), theme('t')))).toEqual(['wrong-kind']);
    expect(codes(journalOf(theme('t', { related: h('t') })))).toEqual(['self-relation']);
    expect(codes(journalOf(theme('t', { related: h('u') }), theme('u')))).toEqual([
      'one-sided-relation',
    ]);
    expect(
      codes(journalOf(theme('t', { broader: h('u') }), theme('u', { broader: h('t') }))),
    ).toEqual(['circle-of-themes']);
    expect(codes(journalOf(theme('t', { broader: h('u', 'u') }), theme('u')))).toEqual([
      'doubled-reference',
    ]);
    expect(codes(journalOf(book('b', { name: '  ' })))).toEqual(['no-name']);
    expect(codes(journalOf(entry('e', { written: 'last spring' })))).toEqual(['bad-date']);
    expect(codes(journalOf(entry('e', { written: '2023-02-29' })))).toEqual(['bad-date']);
    expect(codes(journalOf(entry('e', { written: '2024-02-29' })))).toEqual([]);
    expect(codes(journalOf(entry('e', { added: '2024-03-14' })))).toEqual(['bad-time']);
    expect(codes(journalOf(entry('e', { minutes: -1 })))).toEqual(['out-of-range']);
    expect(codes(journalOf(entry('e', { minutes: Number.NaN })))).toEqual(['bad-type']);
    expect(codes(journalOf(entry('e', { kind: 'poem' as never })))).toEqual(['bad-value']);
    const t = theme('t', { broader: h('u'), related: h('u') });
    expect(codes(journalOf(t, theme('u', { related: h('t') })))).toEqual(['related-and-broader']);
    const tie = tieTo('t');
    expect(codes(journalOf(entry('e', { ties: [tie, tie] }), theme('t')))).toEqual(['doubled-tie']);
  });

  it('walks a chain of 20,000 themes, closed or open, without trouble', () => {
    const id = (at: number): string => `t${at}`;
    const chain = Array.from({ length: 20_000 }, (_, at) =>
      theme(id(at), { broader: h(id(at + 1)) }),
    );
    const open = journalOf(...chain, theme(id(20_000)));
    expect(codes(open)).toEqual([]);
    expect(codes(journalOf(...chain, theme(id(20_000), { broader: h(id(0)) })))).toEqual([
      'circle-of-themes',
    ]);
  });
});

describe('seemingSame', () => {
  const same = (journal: Journal, of: string): string[] =>
    seemingSame(journal, journal.tables.headings.get(of as HeadingId)!).map(({ id }) => id);

  it('tells headings of its kind by name or alternate, articles and accents aside', () => {
    const journal = journalOf(
      book('b1', { name: 'The Secret Garden' }),
      book('b2', { name: 'secret garden' }),
      theme('t1', { name: 'Secret Garden' }),
      theme('t2', { name: 'Bravery', alternates: ['Courage'] }),
      theme('t3', { name: 'courage' }),
      theme('t4', { name: 'Hope' }),
    );
    expect(same(journal, 'b1')).toEqual(['b2']);
    expect(same(journal, 'b2')).toEqual(['b1']);
    expect(same(journal, 't1')).toEqual([]);
    expect(same(journal, 't2')).toEqual(['t3']);
    expect(same(journal, 't3')).toEqual(['t2']);
    expect(same(journal, 't4')).toEqual([]);
  });

  it('does not offer books of one title by different authors', () => {
    const journal = journalOf(
      person('p1'),
      person('p2', { name: 'Other' }),
      book('b1', { name: 'Poems', authors: h('p1') }),
      book('b2', { name: 'Poems', authors: h('p2') }),
      book('b3', { name: 'Poems', authors: h('p2') }),
    );
    expect(same(journal, 'b1')).toEqual([]);
    expect(same(journal, 'b2')).toEqual(['b3']);
  });
});

describe('resolveHeading', () => {
  const journal = (): Journal =>
    journalOf(
      book('b1', { name: 'The Giver' }),
      book('b2', { name: 'Emma', alternates: ['The Matchmaker'] }),
      person('p1', { name: 'Emma' }),
      theme('t1', { name: 'Courage', alternates: ['Bravery'] }),
      theme('t2', { name: 'Bravery in war' }),
    );

  it('finds by id, name and alternate', () => {
    for (const called of ['t1', 'Courage', 'courage', ' COURAGE ', 'bravery']) {
      expect(resolveHeading(journal(), called)).toMatchObject({ ok: true, heading: { id: 't1' } });
    }
    expect(resolveHeading(journal(), 'giver')).toMatchObject({ ok: true, heading: { id: 'b1' } });
  });

  it('refuses a name of two headings with the choices, unless a kind tells them apart', () => {
    const found = resolveHeading(journal(), 'Emma');
    expect(found).toMatchObject({ ok: false, code: 'ambiguous-heading' });
    expect(found.ok || found.choices.map(({ id }) => id)).toEqual(['b2', 'p1']);
    expect(resolveHeading(journal(), 'Emma', 'person')).toMatchObject({
      ok: true,
      heading: { id: 'p1' },
    });
  });

  it('offers what comes close to an unknown name', () => {
    const found = resolveHeading(journal(), 'Couarge');
    expect(found).toMatchObject({ ok: false, code: 'unknown-heading', choices: [{ id: 't1' }] });
    expect(resolveHeading(journal(), '')).toMatchObject({ ok: false, choices: [] });
    expect(resolveHeading(journal(), '__proto__')).toMatchObject({ ok: false, choices: [] });
  });

  it('follows a renaming', () => {
    const held = journal();
    resolveHeading(held, 'Courage');
    expect(apply(held, renameHeading(held, 't1' as HeadingId, 'Valour')).ok).toBe(true);
    for (const name of ['valour', 'Courage'])
      expect(resolveHeading(held, name)).toMatchObject({ ok: true, heading: { id: 't1' } });
    const now = held.tables.headings.get('t1')!;
    expect(apply(held, putHeading(held, { ...now, alternates: [] })).ok).toBe(true);
    expect(resolveHeading(held, 'Courage')).toMatchObject({ ok: false });
  });
});

describe('uses', () => {
  const e1 = 'e1' as EntryId;
  const [c1, c2] = ['c1', 'c2'] as CircleId[] as [CircleId, CircleId];
  function met(journal: Journal, id: string, circle: CircleId, on: string, used = true): void {
    const items = [{ entry: e1, used, went: 'flat' as const, note: 'Cold room' }];
    const edit = putRow(journal, 'meetings', { id: id as MeetingId, circle, on, items });
    expect(apply(journal, edit).ok).toBe(true);
  }
  function withMeetings(): Journal {
    const journal = journalOf(entry('e1'), theme('t1'));
    for (const id of [c1, c2]) apply(journal, putRow(journal, 'circles', { id, name: id }));
    usesOf(journal, e1);
    met(journal, 'm1', c1, '2024-05');
    met(journal, 'm2', c2, '2025-01-10');
    met(journal, 'm3', c1, '2024-05-02');
    met(journal, 'm4', c1, '2026-01-01', false);
    return journal;
  }

  it('count the meetings an entry was used in, latest first, with any circle or one', () => {
    const journal = withMeetings();
    expect(usesOf(journal, e1)).toMatchObject({ times: 3, last: '2025-01-10' });
    expect(usesOf(journal, e1).meetings.map(({ meeting }) => meeting)).toEqual(['m2', 'm1', 'm3']);
    expect(usesOf(journal, e1, c1)).toMatchObject({ times: 2, last: '2024-05' });
    expect(usesOf(journal, e1).meetings[0]).toMatchObject({ went: 'flat', note: 'Cold room' });
    expect(usesOf(journal, 'none' as EntryId)).toEqual({ times: 0, meetings: [] });
  });

  it('follow when a meeting is removed', () => {
    const journal = withMeetings();
    apply(journal, removeRow(journal, 'meetings', 'm2'));
    expect(usesOf(journal, e1)).toMatchObject({ times: 2, last: '2024-05' });
  });

  it('follow a tie, and rows put into the tables by other means', () => {
    const journal = journalOf(entry('e1'), theme('t1'));
    const t1 = 't1' as HeadingId;
    expect([...entriesTiedTo(journal, t1)]).toEqual([]);
    apply(journal, tieEntries(journal, [e1], tieTo('t1'), '2026-01-01T00:00:00Z'));
    expect([...entriesTiedTo(journal, t1)]).toEqual(['e1']);
    journal.tables.entries.set('e2', entry('e2', { ties: [tieTo('t1')] }));
    expect([...entriesTiedTo(journal, t1)]).toEqual(['e1', 'e2']);
  });
});

describe('ids', () => {
  const V7 = /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;

  it('carry the time they were made, as RFC 9562 lays out', () => {
    // The time of the example in RFC 9562, appendix A.6: 22 February 2022, 2:22:22 pm, GMT-05:00.
    const id = makeIds(
      () => 0x017f22e279b0,
      (bytes) => bytes.fill(0),
    )();
    expect(id).toMatch(V7);
    expect(id.slice(0, 13)).toBe('017f22e2-79b0');
  });

  it('rise within a millisecond, when the clock is set back, and when the counter is full', () => {
    const clock = [5, 5, 5, 3, 4, 9, 9];
    let at = 0;
    const newId = makeIds(
      () => clock[at++] ?? 9.5,
      (bytes) => bytes.fill(255),
    );
    const made = Array.from({ length: 5000 }, newId);
    expect(made.every((id) => V7.test(id))).toBe(true);
    expect([...made].sort()).toEqual(made);
    expect(new Set(made).size).toBe(made.length);
  });
});
