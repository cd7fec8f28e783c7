import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { DeskOver } from '../../../src/engine/desk-over';
import { parted, type Lineage } from '../../../src/engine/lineage';
import { mergeIn } from '../../../src/engine/merging';
import { putRow } from '../../../src/journal/make-edits';
import { checkJournal } from '../../../src/journal/rules';
import {
  TABLES,
  type BookHeading,
  type ChallengeId,
  type Circle,
  type CircleId,
  type GuideId,
  type HeadingId,
  type Journal,
  type ListId,
  type Meeting,
  type MeetingId,
  type ReadingId,
  type Records,
  type TableName,
  type ThemeHeading,
} from '../../../src/journal/records';
import { untimed } from '../../../src/journal/same';
import { MemoryBytes } from '../../../src/keep/byte-store';
import { DocumentStore } from '../../../src/keep/document-store';
import { MemoryStore } from '../../../src/keep/memory-store';
import { book, entry, journalOf, theme } from '../journal/few';
import { apart, apartFrom, draft, fileOf, id, journalIn, swap, take } from './desk-apart';
import { must, opened, rows } from './desk-setup';

const GUIDE = 'g' as GuideId;
const CIRCLE = 'c' as CircleId;

/** A journal in which the question `a` stands in a guide and was asked at its meeting. */
function asked(): Journal {
  const journal = journalOf(entry('a', { kind: 'question', text: 'Why?' }), entry('b'));
  const { tables } = journal;
  tables.circles.set(CIRCLE, { id: CIRCLE, name: 'Thursdays', size: 5 } satisfies Circle);
  tables.guides.set(GUIDE, {
    id: GUIDE,
    title: 'Thursday',
    shape: 'discussion',
    focus: { words: [], headings: [], entries: [id('a')] },
    minutes: 60,
    parts: [{ name: 'Opening', minutes: 60, items: [{ entry: id('a'), minutes: 5, must: false }] }],
    made: '2024-03-14T10:00:00.000Z',
  });
  tables.meetings.set('m', {
    id: 'm' as MeetingId,
    guide: GUIDE,
    circle: CIRCLE,
    on: '2024-03-14',
    items: [
      { entry: id('a'), used: true },
      { entry: id('b'), used: false },
    ],
  } satisfies Meeting);
  return journal;
}

const problemsIn = (desk: DeskOver): string[] =>
  checkJournal(journalIn(desk)).map(({ message }) => message);

describe('what was removed here', () => {
  it('stays out of the guide and the meeting that used it when an earlier copy is merged', async () => {
    const [one] = await apartFrom(asked());
    const copy = (await one.copyOut()).bytes;
    await must(one.removeEntries([id('a')]));
    const before = rows(journalIn(one));
    await take(one, copy, 'merge');
    expect(problemsIn(one)).toEqual([]);
    expect(rows(journalIn(one))).toBe(before);
  });

  it('is told apart from what is only in the copy', async () => {
    const [one] = await apartFrom(asked());
    const copy = (await one.copyOut()).bytes;
    await must(one.removeEntries([id('a')]));
    const { compared } = await one.lookInto('copy', copy);
    expect(compared).toMatchObject({ onlyThere: 1, removedHere: 1 });
  });
});

describe('themes', () => {
  const themes = (desk: DeskOver): Map<string, ThemeHeading> =>
    journalIn(desk).tables.headings as Map<string, ThemeHeading>;
  const put = (desk: DeskOver, of: string, more: Partial<ThemeHeading>): Promise<unknown> =>
    must(desk.saveHeading({ ...themes(desk).get(of)!, ...more }));
  const ids = (...given: string[]): HeadingId[] => given as HeadingId[];
  const related = (desk: DeskOver): string[][] =>
    [...themes(desk).values()]
      .map(({ id: of, broader, related: beside }) => [of, broader.join(), beside.join()])
      .sort();

  it('of which each side made another one broader come to no circle, the same on both', async () => {
    const [one, two] = await apart(theme('x'), theme('y'), theme('z', { broader: ids('x') }));
    await put(one, 'x', { broader: ids('y') });
    await put(two, 'y', { broader: ids('z') });
    const copies = [(await one.copyOut()).bytes, (await two.copyOut()).bytes] as const;
    await take(one, copies[1], 'merge');
    await take(two, copies[0], 'merge');
    for (const desk of [one, two]) expect(problemsIn(desk)).toEqual([]);
    expect(related(one)).toEqual(related(two));
    await swap(one, two);
    expect(related(one)).toEqual(related(two));
  });

  it('that one side made related and the other broader are not both', async () => {
    const [one, two] = await apart(theme('x'), theme('y'));
    const { engine } = one;
    const [x, y] = [themes(one).get('x')!, themes(one).get('y')!];
    const changes = [
      { table: 'headings' as const, id: 'x', before: x, after: { ...x, related: ids('y') } },
      { table: 'headings' as const, id: 'y', before: y, after: { ...y, related: ids('x') } },
    ];
    expect(engine.apply({ does: 'Relate', changes }).ok).toBe(true);
    await put(two, 'x', { broader: ids('y') });
    await swap(one, two);
    for (const desk of [one, two]) expect(problemsIn(desk)).toEqual([]);
    expect(related(one)).toEqual(related(two));
  });
});

describe('a journal of which a part cannot be read', () => {
  class Damaged extends MemoryBytes {
    readonly wrecks = new Set<string>();
    override async read(part: string): ReturnType<MemoryBytes['read']> {
      const read = await super.read(part);
      return this.wrecks.has(part) ? { ...read, broken: 'its bytes have changed' } : read;
    }
  }

  /** Two entries a month apart and a copy; then one is removed and the part of the other is damaged. */
  async function damaged(): Promise<{ desk: DeskOver; bytes: ArrayBuffer; lost: string }> {
    const disk = new Damaged();
    const { desk, clock } = await opened(new DocumentStore(disk));
    const lost = (await must(desk.saveEntry(draft('In the damaged part.')))).id!;
    const [part] = (await disk.shards()).filter((shard) => shard.startsWith('entries'));
    clock.now += 40 * 24 * 60 * 60 * 1000;
    const sound = (await must(desk.saveEntry(draft('Removed by the reader.')))).id!;
    const { bytes } = await desk.copyOut();
    await must(desk.removeEntries([id(sound)]));
    disk.wrecks.add(part!);
    const again = await opened(new DocumentStore(disk));
    expect(again.desk.engine.journal.tables.entries.size).toBe(0);
    return { desk: again.desk, bytes, lost };
  }

  it('gets it back from the last copy, and nothing that was removed', async () => {
    const { desk, bytes, lost } = await damaged();
    await take(desk, bytes, 'merge');
    expect([...journalIn(desk).tables.entries.keys()]).toEqual([lost]);
  });
});

describe('a row that is no entry', () => {
  const tablesIn = (desk: DeskOver): Journal['tables'] => journalIn(desk).tables;

  /** A journal with a reading, a challenge, a list and a circle, none of which has been changed. */
  function household(): Journal {
    const journal = asked();
    const { tables } = journal;
    for (const of of ['b1', 'b2']) tables.headings.set(of, book(of));
    const reading = { id: 'r' as ReadingId, book: 'b1' as HeadingId, form: 'print' as const };
    tables.readings.set('r', { ...reading, rating: 3, pages: 300 });
    tables.challenges.set('ch', {
      id: 'ch' as ChallengeId,
      name: 'A year at sea',
      from: '2026-01-01',
      to: '2026-12-31',
      perBook: 1,
      prompts: [{ id: 'p1', text: 'A book with a ship', rule: { by: 'free' } }],
    });
    tables.lists.set('l', {
      id: 'l' as ListId,
      name: 'Next',
      books: ['b1', 'b2'] as HeadingId[],
    });
    return journal;
  }
  const put = async <T extends TableName>(
    desk: DeskOver,
    table: T,
    of: string,
    change: (row: Records[T]) => Records[T],
  ): Promise<void> => {
    const held = tablesIn(desk)[table].get(of) as Records[T];
    const applied = desk.engine.apply(putRow(journalIn(desk), table, change(held)));
    expect(applied.ok).toBe(true);
  };

  it('changed on one side alone comes over, whichever side merges', async () => {
    const [one, two] = await apartFrom(household());
    await put(two, 'readings', 'r', (row) => ({
      ...row,
      rating: 5,
      finished: '2026-11-29',
      pages: 612,
    }));
    await put(two, 'challenges', 'ch', (row) => ({
      ...row,
      prompts: [...row.prompts, { id: 'p2', text: 'Chosen by Tom', rule: { by: 'free' } }],
    }));
    await put(two, 'lists', 'l', (row) => ({ ...row, books: [...row.books].reverse() }));
    await put(one, 'circles', CIRCLE, (row) => ({ ...row, size: 9 }));
    const said = await take(one, (await two.copyOut()).bytes, 'merge');
    expect(said).toBe('Merge “Few”');
    await take(two, (await one.copyOut()).bytes, 'merge');
    for (const desk of [one, two]) {
      const { readings, challenges, lists, circles } = tablesIn(desk);
      expect(readings.get('r')).toMatchObject({ rating: 5, finished: '2026-11-29', pages: 612 });
      expect(challenges.get('ch')!.prompts.map(({ id: of }) => of)).toEqual(['p1', 'p2']);
      expect(lists.get('l')!.books).toEqual(['b2', 'b1']);
      expect(circles.get(CIRCLE)!.size).toBe(9);
    }
  });

  it('changed on one side alone takes a guide along, and makes no second one of it', async () => {
    const [one, two] = await apartFrom(household());
    await put(two, 'guides', GUIDE, (row) => ({
      ...row,
      parts: [{ ...row.parts[0]!, name: 'First' }],
    }));
    await take(one, (await two.copyOut()).bytes, 'merge');
    expect([...tablesIn(one).guides.values()].map(({ parts }) => parts[0]!.name)).toEqual([
      'First',
    ]);
  });

  it('keeps the prompts and the chapters that were added on each side', async () => {
    const [one, two] = await apartFrom(household());
    for (const [desk, name, page] of [
      [one, 'The sea', 9],
      [two, 'The shore', 4],
    ] as const) {
      await put(desk, 'challenges', 'ch', (row) => ({
        ...row,
        prompts: [...row.prompts, { id: name, text: name, rule: { by: 'free' } }],
      }));
      await put(desk, 'headings', 'b1', (row) => ({
        ...(row as BookHeading),
        chapters: [
          { name: 'The ship', page: 1 },
          { name, page },
        ],
      }));
    }
    await swap(one, two);
    for (const desk of [one, two]) {
      const prompts = tablesIn(desk)
        .challenges.get('ch')!
        .prompts.map(({ text }) => text);
      expect(prompts.sort()).toEqual(['A book with a ship', 'The sea', 'The shore']);
      const { chapters } = tablesIn(desk).headings.get('b1') as BookHeading;
      expect(chapters!.map(({ name }) => name)).toEqual(['The ship', 'The shore', 'The sea']);
    }
  });

  it('changed on both sides comes out the same on both: of one thing, what was said later', async () => {
    const from = household();
    const devices = [await opened(new MemoryStore()), await opened(new MemoryStore())] as const;
    const [one, two] = [devices[0].desk, devices[1].desk];
    await take(one, fileOf(from), 'replace');
    await take(two, (await one.copyOut()).bytes, 'replace');
    devices[0].clock.now += 60_000;
    devices[1].clock.now += 90_000;
    await put(one, 'readings', 'r', (row) => ({ ...row, rating: 4, note: 'Read aloud.' }));
    await put(two, 'readings', 'r', (row) => ({ ...row, rating: 2, note: 'Read alone.' }));
    const copies = [(await one.copyOut()).bytes, (await two.copyOut()).bytes] as const;
    for (let round = 0; round < 2; round++) {
      await take(one, copies[1], 'merge');
      await take(two, copies[0], 'merge');
      for (const desk of [one, two]) {
        const { rating, note } = tablesIn(desk).readings.get('r')!;
        expect(rating).toBe(2);
        for (const words of ['Read alone.', 'Read aloud.']) expect(note).toContain(words);
      }
    }
    const said = [one, two].map((desk) => untimed(tablesIn(desk).readings.get('r')!));
    expect(said[0]).toEqual(said[1]);
  });

  it('comes out the same on both, whatever was changed and in whichever order copies go, once and for all', async () => {
    const field = fc.constantFrom('rating', 'pages', 'note', 'prompt', 'list', 'size', 'name');
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.boolean(), field, fc.integer({ min: 1, max: 5 }), fc.nat(90_000)), {
          maxLength: 8,
        }),
        async (edits) => {
          const sides = [await opened(new MemoryStore()), await opened(new MemoryStore())] as const;
          const [one, two] = [sides[0].desk, sides[1].desk];
          await take(one, fileOf(household()), 'replace');
          await take(two, (await one.copyOut()).bytes, 'replace');
          const words: string[] = [];
          for (const [n, [first, what, value, later]] of edits.entries()) {
            const { desk, clock } = sides[first ? 0 : 1];
            clock.now += 1000 + later;
            const word = `word${n}x`;
            if (['note', 'prompt', 'name'].includes(what)) words.push(word);
            if (what === 'rating' || what === 'pages')
              await put(desk, 'readings', 'r', (row) => ({ ...row, [what]: value }));
            else if (what === 'note')
              await put(desk, 'readings', 'r', (row) => ({
                ...row,
                note: `${row.note ?? ''} ${word}`.trim(),
              }));
            else if (what === 'prompt')
              await put(desk, 'challenges', 'ch', (row) => ({
                ...row,
                prompts: [...row.prompts, { id: word, text: word, rule: { by: 'free' } }],
              }));
            else if (what === 'list')
              await put(desk, 'lists', 'l', (row) => ({ ...row, books: [...row.books].reverse() }));
            else if (what === 'size')
              await put(desk, 'circles', CIRCLE, (row) => ({ ...row, size: value }));
            else
              await put(desk, 'headings', 'b1', (row) => ({
                ...row,
                alternates: [...row.alternates, word],
              }));
          }
          for (const { clock } of sides) clock.now += 1_000_000;
          const said = (desk: DeskOver): unknown =>
            TABLES.map((table) => [...tablesIn(desk)[table].values()].map((row) => untimed(row)));
          const cross = async (): Promise<void> => {
            const copies = [(await one.copyOut()).bytes, (await two.copyOut()).bytes] as const;
            await take(one, copies[1], 'merge');
            await take(two, copies[0], 'merge');
          };
          await cross();
          const once = said(one);
          expect(said(two)).toEqual(once);
          for (const word of words) expect(JSON.stringify(once)).toContain(word);
          await swap(one, two);
          await cross();
          expect([said(one), said(two)]).toEqual([once, once]);
        },
      ),
      { numRuns: 25 },
    );
  }, 120_000);

  it('of which nobody knows who changed it stays as it is here, and that is said', async () => {
    const [one] = await apartFrom(household());
    const other = household();
    const [reading, circle] = [other.tables.readings.get('r')!, other.tables.circles.get(CIRCLE)!];
    other.tables.readings.set('r', { ...reading, rating: 1 });
    other.tables.circles.set(CIRCLE, { ...circle, size: 12 });
    expect(await take(one, fileOf(other), 'merge')).toBe(
      'Merge “Few”; 2 that differ are left as they are here',
    );
    expect(tablesIn(one).readings.get('r')!.rating).toBe(3);
  });

  it.each([
    ['his note is the old one, where his rows have told when they were changed', true],
    ['both notes stand, where they have not always told it', false],
  ])('changed on the other side: %s', (_says, told) => {
    const at = (hour: number): string => `2026-11-20T${String(hour).padStart(2, '0')}:00:00.000Z`;
    const had = { one: at(10) };
    const here: Lineage = { site: 'one', had, ...(told ? { timed: at(9) } : {}) };
    const there: Lineage = { site: 'two', had, begun: { at: at(11), had }, timed: at(11) };
    const [his, hers] = [household(), household()];
    const reading = his.tables.readings.get('r')!;
    his.tables.readings.set('r', { ...reading, note: 'His.' });
    hers.tables.readings.set('r', { ...reading, note: 'Hers.', changed: at(12) });
    const merged = mergeIn(hers, his, {
      parted: parted(here, there),
      now: at(13),
      newId: () => 'new',
      removed: new Set(),
    });
    const [change] = merged.edit.changes;
    const note = told ? 'Hers.' : 'Hers.\n\nHis.';
    expect(change!.after).toEqual({ ...reading, note, changed: at(13) });
  });
});
