import { describe, expect, it } from 'vitest';
import { apply, type Edit } from '../../../src/journal/edits';
import { writeJournalFile } from '../../../src/journal/file';
import * as make from '../../../src/journal/make-edits';
import type {
  BookHeading,
  CircleId,
  Entry,
  EntryId,
  GuideId,
  HeadingId,
  Journal,
  MeetingId,
  ReadingId,
  Records,
  TableName,
  ThemeHeading,
} from '../../../src/journal/records';
import { checkJournal } from '../../../src/journal/rules';
import { book, entry, journalOf, person, theme, tieTo } from './few';

const NOW = '2026-05-01T09:00:00.000Z';
const h = (id: string): HeadingId => id as HeadingId;
const e = (id: string): EntryId => id as EntryId;

function must(journal: Journal, edit: Edit): Edit {
  const done = apply(journal, edit);
  if (!done.ok) throw new Error(`${edit.does}: ${done.code} ${done.message}`);
  expect(checkJournal(journal)).toEqual([]);
  return done.inverse;
}
function put<T extends TableName>(journal: Journal, table: T, row: Records[T]): void {
  must(journal, make.putRow(journal, table, row));
}
const entryIn = (journal: Journal, id: string): Entry => {
  const found = journal.tables.entries.get(id);
  if (!found) throw new Error(`no ${id}`);
  return found;
};

/** A book with a reading, a list, a guide, a meeting, a prompt and a declined tie, all of which name it or its entry. */
function fullJournal(): Journal {
  const journal = journalOf(
    book('holes', { name: 'Holes', authors: [h('sachar')] }),
    book('holes2', { name: 'Holes (1998)', authors: [h('sachar')], isbn: '9780440414803' }),
    person('sachar', { name: 'Louis Sachar' }),
    person('stanley', { books: [h('holes'), h('holes2')] }),
    theme('courage', { name: 'Courage' }),
    entry('q1', {
      kind: 'quote',
      ties: [tieTo('holes', { role: 'from', place: { page: '61' } }), tieTo('courage')],
    }),
    entry('q2', { ties: [tieTo('holes2', { role: 'from' }), tieTo('holes', { role: 'from' })] }),
    entry('q3', { ties: [tieTo('holes2')] }),
  );
  put(journal, 'circles', { id: 'c1' as CircleId, name: 'Tuesday' });
  put(journal, 'guides', {
    id: 'g1' as GuideId,
    title: 'Holes, first half',
    shape: 'discussion',
    focus: {
      words: [],
      headings: [{ heading: h('holes') }, { heading: h('holes2') }],
      entries: [e('q1')],
    },
    circle: 'c1' as CircleId,
    minutes: 60,
    parts: [{ name: 'Opening', minutes: 60, items: [{ entry: e('q1'), minutes: 5, must: true }] }],
    spare: [{ entry: e('q2'), minutes: 5, must: false }],
    refused: [e('q1'), e('q3')],
    made: NOW,
  });
  put(journal, 'meetings', {
    id: 'm1' as MeetingId,
    guide: 'g1' as GuideId,
    circle: 'c1' as CircleId,
    on: '2026-04-01',
    items: [{ entry: e('q1'), used: true, went: 'well' }],
  });
  put(journal, 'readings', { id: 'r1' as ReadingId, book: h('holes'), form: 'print' });
  put(journal, 'lists', { id: 'l1', name: 'Year 6', books: [h('holes2'), h('holes')] } as never);
  put(journal, 'challenges', {
    id: 'ch1',
    name: 'Winter',
    from: '2026-01-01',
    to: '2026-03-31',
    perBook: 1,
    prompts: [
      { id: 'p1', text: 'Courage', rule: { by: 'theme', is: 'courage' } },
      { id: 'p2', text: 'Any', rule: { by: 'free', readings: [r1] } },
    ],
  } as never);
  put(journal, 'declined', { id: 'd1', entry: e('q3'), heading: h('holes'), on: NOW });
  put(journal, 'declined', { id: 'd2', entry: e('q3'), heading: h('holes2'), on: NOW });
  return journal;
}
const r1 = 'r1' as ReadingId;

describe('merging two headings', () => {
  it('moves everything that named the one to the other, without doubling', () => {
    const journal = fullJournal();
    must(journal, make.mergeHeadings(journal, h('holes'), h('holes2'), NOW));
    const { headings, lists, guides, declined } = journal.tables;
    expect(headings.has('holes2')).toBe(false);
    expect(headings.get('holes')).toMatchObject({
      alternates: ['Holes (1998)'],
      authors: ['sachar'],
      isbn: '9780440414803',
    });
    expect(entryIn(journal, 'q2').ties).toEqual([tieTo('holes', { role: 'from' })]);
    expect(entryIn(journal, 'q3').ties).toEqual([tieTo('holes')]);
    expect(entryIn(journal, 'q3').changed).toBe(NOW);
    expect(headings.get('stanley')).toMatchObject({ books: ['holes'] });
    expect(lists.get('l1')?.books).toEqual(['holes']);
    expect(guides.get('g1')?.focus.headings).toEqual([{ heading: 'holes' }]);
    expect([...declined.values()].map(({ heading }) => heading)).toEqual(['holes']);
  });

  it('is undone whole', () => {
    const journal = fullJournal();
    const before = writeJournalFile(journal);
    must(journal, must(journal, make.mergeHeadings(journal, h('holes2'), h('holes'), NOW)));
    expect(writeJournalFile(journal)).toBe(before);
  });

  it('keeps a tie with a place and drops the one without', () => {
    const placed = tieTo('b2', { role: 'from', place: { page: '7' } });
    const journal = journalOf(
      book('b1'),
      book('b2'),
      entry('e1', { ties: [tieTo('b1', { role: 'from' }), placed] }),
    );
    must(journal, make.mergeHeadings(journal, h('b1'), h('b2'), NOW));
    expect(entryIn(journal, 'e1').ties).toEqual([{ ...placed, heading: 'b1' }]);
  });

  it('keeps two ties that point to different places', () => {
    const at = (id: string, page: string) => tieTo(id, { place: { page } });
    const journal = journalOf(
      book('b1'),
      book('b2'),
      entry('e1', { ties: [at('b1', '7'), at('b2', '9')] }),
    );
    must(journal, make.mergeHeadings(journal, h('b1'), h('b2'), NOW));
    expect(entryIn(journal, 'e1').ties).toEqual([at('b1', '7'), at('b1', '9')]);
  });

  it('keeps of names that differ in their capitals alone the one that was there', () => {
    const journal = journalOf(
      theme('a', { name: 'Hospitality', alternates: ['welcome'] }),
      theme('b', { name: 'Welcome', alternates: ['hospitality', 'Guests'] }),
    );
    must(journal, make.mergeHeadings(journal, h('a'), h('b'), NOW));
    expect(journal.tables.headings.get('a')?.alternates).toEqual(['welcome', 'Guests']);
  });

  it('drops a broader theme that would lead back to the theme itself', () => {
    const journal = journalOf(
      theme('a', { broader: [h('x')] }),
      theme('x', { broader: [h('b')] }),
      theme('b'),
    );
    must(journal, make.mergeHeadings(journal, h('a'), h('b'), NOW));
    expect((journal.tables.headings.get('a') as ThemeHeading).broader).toEqual([]);
    expect((journal.tables.headings.get('x') as ThemeHeading).broader).toEqual(['a']);
  });

  it('drops a relation between themes that are broader and narrower as well', () => {
    const journal = journalOf(
      theme('a', { broader: [h('x')] }),
      theme('b', { related: [h('x')] }),
      theme('x', { related: [h('b')] }),
    );
    must(journal, make.mergeHeadings(journal, h('a'), h('b'), NOW));
    expect(journal.tables.headings.get('a')).toMatchObject({ broader: ['x'], related: [] });
    expect(journal.tables.headings.get('x')).toMatchObject({ related: [] });
  });

  it('changes nothing where the two are one or either is missing', () => {
    const journal = fullJournal();
    expect(make.mergeHeadings(journal, h('holes'), h('holes'), NOW).changes).toEqual([]);
    expect(make.mergeHeadings(journal, h('holes'), h('none'), NOW).changes).toEqual([]);
  });
});

describe('removing a heading', () => {
  it('takes its ties, relations and readings along, and undo brings all back whole', () => {
    const journal = fullJournal();
    const before = writeJournalFile(journal);
    const inverse = must(journal, make.removeHeading(journal, h('holes'), NOW));
    expect(entryIn(journal, 'q1').ties).toEqual([tieTo('courage')]);
    expect(journal.tables.readings.size).toBe(0);
    expect(journal.tables.lists.get('l1')?.books).toEqual(['holes2']);
    expect(journal.tables.guides.get('g1')?.focus.headings).toEqual([{ heading: 'holes2' }]);
    expect([...journal.tables.declined.keys()]).toEqual(['d2']);
    expect(journal.tables.challenges.get('ch1')?.prompts[1]?.rule.readings).toEqual([]);
    must(journal, inverse);
    expect(writeJournalFile(journal)).toBe(before);
  });

  it('leaves its name in a prompt that asked for it', () => {
    const journal = fullJournal();
    must(journal, make.removeHeading(journal, h('courage'), NOW));
    expect(journal.tables.challenges.get('ch1')?.prompts[0]?.rule.is).toBe('Courage');
  });

  it('takes a removed author off the books', () => {
    const journal = fullJournal();
    must(journal, make.removeHeading(journal, h('sachar'), NOW));
    expect((journal.tables.headings.get('holes') as BookHeading).authors).toEqual([]);
  });

  it('says what goes along', () => {
    const { does } = make.removeHeading(fullJournal(), h('holes'), NOW);
    expect(does).toContain('Holes');
    expect(does).toContain('2 entries');
    expect(does).toContain('1 reading');
  });
});

describe('removing entries', () => {
  it('leaves their words in guides and meetings that used them', () => {
    const journal = fullJournal();
    const before = writeJournalFile(journal);
    const inverse = must(journal, make.removeEntries(journal, [e('q1'), e('q2')]));
    const guide = journal.tables.guides.get('g1');
    expect(guide?.parts[0]?.items).toEqual([
      { text: 'Text of q1', kind: 'quote', minutes: 5, must: true },
    ]);
    expect(guide?.spare).toEqual([{ text: 'Text of q2', kind: 'note', minutes: 5, must: false }]);
    expect(guide).toMatchObject({ refused: ['q3'], focus: { entries: [] } });
    expect(journal.tables.meetings.get('m1')?.items).toEqual([
      { text: 'Text of q1', used: true, went: 'well' },
    ]);
    must(journal, inverse);
    expect(writeJournalFile(journal)).toBe(before);
  });

  it('leaves no word of them where that is asked', () => {
    const journal = fullJournal();
    must(journal, make.removeEntries(journal, [e('q1'), e('q2')], { words: 'drop' }));
    expect(writeJournalFile(journal)).not.toMatch(/Text of q[12]/);
  });
});

describe('other edits', () => {
  it('tie once, confirm a proposed tie, and forget that it was declined', () => {
    const journal = fullJournal();
    must(journal, make.tieEntries(journal, [e('q3')], tieTo('courage', { by: 'proposed' }), NOW));
    put(journal, 'declined', { id: 'd3', entry: e('q3'), heading: h('courage'), on: NOW });
    must(journal, make.tieEntries(journal, [e('q1'), e('q3')], tieTo('courage'), NOW));
    expect(entryIn(journal, 'q3').ties.filter(({ heading }) => heading === 'courage')).toEqual([
      tieTo('courage'),
    ]);
    expect(journal.tables.declined.has('d3')).toBe(false);
    expect(make.tieEntries(journal, [e('q1')], tieTo('courage'), NOW).changes).toEqual([]);
  });

  it('tie from a book and about all else, and never in another role beside a tie there is', () => {
    const journal = fullJournal();
    const asked = (heading: string) => ({ heading: h(heading), by: 'reader' as const });
    const tiesOf = (id: string) => entryIn(journal, id).ties;
    for (const id of ['holes2', 'courage'])
      must(journal, make.untieEntries(journal, [e('q3')], h(id), NOW));
    const before = tiesOf('q3').length;
    must(journal, make.tieEntries(journal, [e('q3')], asked('holes2'), NOW));
    must(journal, make.tieEntries(journal, [e('q3')], asked('courage'), NOW));
    expect(tiesOf('q3').slice(before)).toEqual([
      tieTo('holes2', { role: 'from' }),
      tieTo('courage', { role: 'about' }),
    ]);
    must(journal, make.untieEntries(journal, [e('q3')], h('holes2'), NOW));
    must(journal, make.tieEntries(journal, [e('q3')], tieTo('holes2', { role: 'about' }), NOW));
    expect(make.tieEntries(journal, [e('q3')], asked('holes2'), NOW).changes).toEqual([]);
  });

  it('add a place to a tie that had none', () => {
    const journal = fullJournal();
    const placed = tieTo('holes2', { place: { chapter: '3' } });
    must(journal, make.tieEntries(journal, [e('q3')], placed, NOW));
    expect(entryIn(journal, 'q3').ties).toEqual([placed]);
  });

  it('untie whatever the role, change a kind, rename', () => {
    const journal = fullJournal();
    must(journal, make.untieEntries(journal, [e('q1'), e('q2')], h('holes'), NOW));
    expect(entryIn(journal, 'q2').ties).toEqual([tieTo('holes2', { role: 'from' })]);
    must(journal, make.changeKind(journal, [e('q1')], 'question', NOW));
    expect(entryIn(journal, 'q1')).toMatchObject({ kind: 'question', changed: NOW });
    must(journal, make.renameHeading(journal, h('courage'), 'Bravery'));
    expect(journal.tables.headings.get('courage')).toMatchObject({
      name: 'Bravery',
      alternates: ['Courage'],
    });
    expect(make.renameHeading(journal, h('courage'), 'Bravery').changes).toEqual([]);
  });

  it('take a circle’s meetings with it, and only the mention of a guide', () => {
    const journal = fullJournal();
    const inverse = must(journal, make.removeRow(journal, 'guides', 'g1'));
    expect(journal.tables.meetings.get('m1')).not.toHaveProperty('guide');
    must(journal, inverse);
    must(journal, make.removeRow(journal, 'circles', 'c1'));
    expect(journal.tables.meetings.size).toBe(0);
    expect(journal.tables.guides.get('g1')).not.toHaveProperty('circle');
  });

  it('say in a phrase what they do', () => {
    const journal = fullJournal();
    const ids = [e('q1'), e('q2'), e('q3')];
    expect(make.tieEntries(journal, ids, tieTo('courage'), NOW).does).toBe(
      'Tie 3 entries to Courage',
    );
    expect(make.removeEntries(journal, [e('q1')]).does).toBe('Remove a quote');
    // Of those that were tied to it.
    const heading = journal.tables.entries.get(e('q1'))!.ties[0]!.heading;
    const tied = ids.filter((id) =>
      journal.tables.entries.get(id)!.ties.some((tie) => tie.heading === heading),
    );
    const few = tied.slice(0, 1);
    const untied = [e('q1'), e('q2'), e('q3')].filter(
      (id) => few.includes(id) || !tied.includes(id),
    );
    expect(make.untieEntries(journal, untied, heading, NOW).does).toMatch(/^Untie a quote from /);
    expect(make.changeKind(journal, ids, 'lesson', NOW).does).toBe(
      'Change 3 entries to lesson ideas',
    );
    expect(make.putEntry(journal, entry('e7')).does).toBe('Write a note');
  });
});
