import { describe, expect, test } from 'vitest';
import type { Block } from '../../../src/gather/block';
import type { BenchView, BenchWords } from '../../../src/engine/bench-types';
import type { Done } from '../../../src/engine/desk';
import type { DeskOver } from '../../../src/engine/desk-over';
import type { FileReader } from '../../../src/engine/gathering';
import { emptyJournal } from '../../../src/journal/journal';
import type { Entry, EntryId } from '../../../src/journal/records';
import { MemoryBeside, type RecordsBeside } from '../../../src/keep/beside';
import { MemoryStore } from '../../../src/keep/memory-store';
import { NotKept } from '../../../src/keep/store';
import { block } from '../gather/build';
import { ALL, bench, entriesOf, handed, idAt, left, NOTES, shown } from './bench-setup';
import { must, opened, rows as fileOf, type Setup } from './desk-setup';

describe('the bench of gathering', () => {
  test('shows every piece before it is kept, in the order of the notebook', async () => {
    const { desk } = await bench();
    const view = await desk.gathering.bench(ALL);
    expect(view.name).toBe('old');
    expect(view.counts).toEqual({ found: 4, accepted: 0, seen: 0, skipped: 0, left: 4 });
    expect(view.rows.map(({ place }) => place)).toEqual([
      'a, line 1',
      'a, line 2',
      'a, line 3',
      'a, line 4',
    ]);
    expect(view.rows[0]).toMatchObject({ kind: 'question', status: 'left' });
    expect(entriesOf(desk)).toEqual([]);
  });

  test('accepts a piece as an entry of this gathering, and undo leaves it to be sorted again', async () => {
    const { desk } = await bench();
    const id = await idAt(desk, 0);
    await must(desk.gathering.step({ do: 'accept', ids: [id] }));
    expect(entriesOf(desk)).toEqual(['D.Q. Why does Anne say that she is sorry?']);
    const [entry] = desk.engine.journal.tables.entries.values();
    expect(entry?.source).toMatchObject({ file: 'old/a.txt', place: 'line 1' });
    expect((await desk.gathering.bench(ALL)).counts).toMatchObject({ accepted: 1, left: 3 });
    expect((await shown(desk, { linger: id })).rows[0]).toMatchObject({ id, status: 'accepted' });

    expect((await must(desk.undo())).said).toBe('Accept a question');
    const undone = await desk.gathering.bench(ALL);
    expect(undone.counts).toMatchObject({ accepted: 0, left: 4 });
    expect(undone.touched).toBe(id);
    expect(entriesOf(desk)).toEqual([]);
    await must(desk.redo());
    expect((await desk.gathering.bench(ALL)).counts).toMatchObject({ accepted: 1, left: 3 });
    expect(entriesOf(desk)).toHaveLength(1);
  });

  test('skipping, changing the kind, tying and altering are undone in the order they were done', async () => {
    const { desk } = await bench();
    const before = await left(desk);
    const [first, second] = [before[0]!.id, before[1]!.id];
    await must(desk.gathering.step({ do: 'skip', ids: [first] }));
    await must(desk.gathering.step({ do: 'kind', ids: [second], kind: 'lesson' }));
    await must(
      desk.gathering.step({ do: 'tie', ids: [second], tie: { name: 'Truth', kind: 'theme' } }),
    );
    await must(
      desk.gathering.step({
        do: 'alter',
        id: second,
        words: { text: 'The brooch.', written: '2015' },
      }),
    );
    expect((await left(desk))[0]).toMatchObject({
      id: second,
      kind: 'lesson',
      certainty: 'sure',
      text: 'The brooch.',
      written: '2015',
      ties: [{ name: 'Truth', kind: 'theme', proposed: false, isNew: true }],
    });
    for (let step = 0; step < 4; step++) await must(desk.undo());
    expect(await left(desk)).toEqual(before);
  });

  test('a kind set on one labelled line is learnt for the others, shown, and revoked', async () => {
    const { desk } = await bench();
    await must(desk.gathering.step({ do: 'kind', ids: [await idAt(desk, 2)], kind: 'assignment' }));
    const view = await desk.gathering.bench(ALL);
    expect(view.rules.map(({ says }) => says)).toContain('Lines that begin LK are assignments.');
    expect(view.rows[3]).toMatchObject({ kind: 'assignment', certainty: 'likely' });
    const [rule] = view.rules;
    await must(desk.gathering.step({ do: 'revoke', rule: rule!.id }));
    const after = await desk.gathering.bench(ALL);
    expect(after.rules.map(({ says }) => says)).not.toContain(rule!.says);
    expect(after.rows[2]?.kind).toBe('assignment');
    expect(after.rows[3]?.kind).not.toBe('assignment');
    await must(desk.undo());
    expect((await left(desk))[3]?.kind).toBe('assignment');
  });

  test('accepts the sure ones in one go, all or nothing', async () => {
    const { desk } = await bench();
    const { sure } = await desk.gathering.bench(ALL);
    expect(sure).toBeGreaterThan(0);
    await must(desk.gathering.step({ do: 'accept-sure', ask: { show: 'left' } }));
    expect(entriesOf(desk)).toHaveLength(sure);
    expect((await desk.gathering.bench(ALL)).sure).toBe(0);
    await must(desk.undo());
    expect(entriesOf(desk)).toEqual([]);
    expect((await desk.gathering.bench(ALL)).counts.left).toBe(4);
  });

  test('what is decided is there again in another window, and so are the pieces', async () => {
    const [store, beside] = [new MemoryStore(), new MemoryBeside()];
    const { desk } = await bench([['old/a.txt', NOTES]], store, beside);
    await must(desk.gathering.step({ do: 'accept', ids: [await idAt(desk, 0)] }));
    await must(desk.gathering.step({ do: 'skip', ids: [await idAt(desk, 0)] }));
    await must(desk.gathering.step({ do: 'kind', ids: [await idAt(desk, 0)], kind: 'assignment' }));
    const before = await desk.gathering.bench(ALL);
    const later = await bench([], store, beside);
    const after = await later.desk.gathering.bench(ALL, true);
    expect(after.rows).toEqual(before.rows);
    expect(after.counts).toEqual(before.counts);
    expect(after.rules).toEqual(before.rules);
    expect(after.gathering).toBe(before.gathering);
  });

  test('of two windows neither loses what it decided', async () => {
    const [store, beside] = [new MemoryStore(), new MemoryBeside()];
    const one = await bench([['old/a.txt', NOTES]], store, beside);
    const other = await bench([], store, beside);
    await other.desk.gathering.bench(ALL, true);
    const ids = (await left(one.desk)).map(({ id }) => id);
    await must(one.desk.gathering.step({ do: 'skip', ids: [ids[0]!] }));
    await must(other.desk.gathering.step({ do: 'skip', ids: [ids[1]!] }));
    await must(one.desk.gathering.step({ do: 'skip', ids: [ids[2]!] }));
    const third = await bench([], store, beside);
    expect((await third.desk.gathering.bench(ALL, true)).counts).toMatchObject({
      skipped: 3,
      left: 1,
    });
    expect((await one.desk.gathering.bench(ALL, true)).counts).toMatchObject({
      skipped: 3,
      left: 1,
    });
    expect((await other.desk.gathering.bench(ALL, true)).counts).toMatchObject({
      skipped: 3,
      left: 1,
    });
  });

  test('where nothing can be stored beside the journal it is told, and sorting goes on', async () => {
    const full = new MemoryBeside();
    full.put = () => Promise.reject(new NotKept('disk-full', 'the disk is full.'));
    const { desk } = await bench([['old/a.txt', NOTES]], new MemoryStore(), full);
    await must(desk.gathering.step({ do: 'accept', ids: [await idAt(desk, 0)] }));
    const view = await desk.gathering.bench(ALL, true);
    expect(view.why).toContain('the disk is full');
    expect(view.counts).toMatchObject({ accepted: 1, left: 3 });
  });

  test('an unreadable file says why and stands in the way of nothing', async () => {
    const { desk } = await bench([
      ['old/bad.wps', 'x'],
      ['old/a.txt', NOTES],
    ]);
    const view = await desk.gathering.bench(ALL);
    expect(
      view.files?.map(({ name, status, reason, total }) => [name, status, reason, total]),
    ).toEqual([
      ['bad.wps', 'unreadable', 'It is damaged. Save it again.', 0],
      ['a.txt', 'read', undefined, 4],
    ]);
  });
});

const QUOTE = 'It was a fine summer evening and the long shadows lay across the lawn.';
const NEARLY = 'It was a fine summer evening, and long shadows lay across the lawn.';

describe('twins at the bench', () => {
  test('exactly the same words are seen before; nearly the same wait with what differs marked', async () => {
    const { desk } = await bench([['old/a.txt', `${QUOTE}\nSomething else was said.`]]);
    await must(desk.gathering.step({ do: 'accept', ids: [await idAt(desk, 0)] }));
    await must(desk.gathering.gather([handed('more/b.txt', `${QUOTE.toUpperCase()}\n${NEARLY}`)]));
    const view = await desk.gathering.bench(ALL);
    expect(view.counts).toMatchObject({ found: 4, accepted: 1, seen: 1, left: 2 });
    const near = view.rows.find(({ twin }) => twin);
    expect(near?.twin).toMatchObject({ where: 'kept', text: QUOTE, exact: false });
    const { here, there } = near!.twin!.differences;
    expect(here.map(([from, to]) => NEARLY.slice(from, to))).toEqual([',']);
    expect(there.map(([from, to]) => QUOTE.slice(from, to))).toEqual(['the']);
    expect(near?.twin?.from).toBe('No. 1, from a. Never used.');
  });

  test('keep the one we have, take this wording, keep both', async () => {
    const start = async (): Promise<[DeskOver, string]> => {
      const { desk } = await bench([['old/a.txt', `${QUOTE}\n${NEARLY}`]]);
      await must(desk.gathering.step({ do: 'accept', ids: [await idAt(desk, 0)] }));
      return [desk, await idAt(desk, 0)];
    };
    const [ours, a] = await start();
    await must(ours.gathering.step({ do: 'accept', ids: [a], choice: 'keep-ours' }));
    expect(entriesOf(ours)).toEqual([QUOTE]);
    expect((await ours.gathering.bench(ALL)).counts).toMatchObject({
      accepted: 1,
      seen: 1,
      left: 0,
    });

    const [theirs, b] = await start();
    await must(theirs.gathering.step({ do: 'accept', ids: [b], choice: 'take-wording' }));
    expect(entriesOf(theirs)).toEqual([NEARLY]);
    await must(theirs.undo());
    expect(entriesOf(theirs)).toEqual([QUOTE]);

    const [both, c] = await start();
    await must(both.gathering.step({ do: 'accept', ids: [c], choice: 'keep-both' }));
    expect(entriesOf(both)).toEqual([QUOTE, NEARLY]);
  });

  describe('the same words that bring more', () => {
    const ASKED = 'Why does Anne say that she is sorry?';
    const ANSWERED = `${ASKED}\nA: She is not.`;
    const start = async (): Promise<[DeskOver, string]> => {
      const { desk } = await bench([['old/a.txt', ASKED]]);
      await must(desk.gathering.step({ do: 'accept', ids: [await idAt(desk, 0)] }));
      await must(desk.gathering.gather([handed('new/b.txt', ANSWERED)]));
      return [desk, await idAt(desk, 0)];
    };
    const answers = (desk: DeskOver): (string | undefined)[] =>
      [...desk.engine.journal.tables.entries.values()].map(({ answer }) => answer);

    test('are shown with what they bring, and add it to the entry', async () => {
      const [desk, id] = await start();
      const [row] = await left(desk);
      expect(row).toMatchObject({
        status: 'left',
        twin: { where: 'kept', exact: true, brings: 'an answer' },
      });
      await must(desk.gathering.step({ do: 'accept', ids: [id] }));
      expect(answers(desk)).toEqual(['She is not.']);
      expect(await left(desk)).toEqual([]);
      await must(desk.undo());
      expect(answers(desk)).toEqual([undefined]);
      expect((await left(desk))[0]?.twin?.brings).toBe('an answer');
    });

    test('are put back with what they brought, and what the reader added since stays', async () => {
      const [desk, id] = await start();
      await must(desk.gathering.step({ do: 'accept-sure', ask: ALL }));
      expect(answers(desk)).toEqual(['She is not.']);
      const [entry] = desk.engine.journal.tables.entries.values();
      const after = { ...entry!, title: 'On sorrow' };
      const does = 'Alter an entry';
      const changes = [{ table: 'entries' as const, id: entry!.id, before: entry!, after }];
      expect(desk.engine.apply({ does, changes })).toMatchObject({ ok: true });
      await must(desk.gathering.step({ do: 'put-back', ids: [id] }));
      const [now] = desk.engine.journal.tables.entries.values();
      expect(now).toMatchObject({ text: ASKED, title: 'On sorrow' });
      expect(answers(desk)).toEqual([undefined]);
    });

    test('are let go where the reader keeps what is there, also when they come again', async () => {
      const [desk, id] = await start();
      await must(desk.gathering.step({ do: 'accept', ids: [id], choice: 'keep-ours' }));
      expect(answers(desk)).toEqual([undefined]);
      await must(desk.gathering.step({ do: 'put-away' }));
      await must(desk.gathering.gather([handed('new/b.txt', ANSWERED)]));
      expect((await desk.gathering.bench(ALL)).counts).toMatchObject({ seen: 1, left: 0 });
    });

    test('answered otherwise are for the reader to compare', async () => {
      const [desk, id] = await start();
      await must(desk.gathering.step({ do: 'accept', ids: [id] }));
      await must(desk.gathering.gather([handed('new/c.txt', `${ASKED}\nA: She is, a little.`)]));
      const [row] = await left(desk);
      expect(row?.twin).toMatchObject({ where: 'kept', exact: false });
      expect(await desk.gathering.step({ do: 'accept-sure', ask: ALL })).toMatchObject({
        ok: false,
      });
      expect(answers(desk)).toEqual(['She is not.']);
    });
  });

  test('of two pieces of one gathering the wording of the later can be taken', async () => {
    const { desk } = await bench([['old/a.txt', `${QUOTE}\n${NEARLY}`]]);
    const rows = await left(desk);
    expect(rows[1]?.twin).toMatchObject({ where: 'here', text: QUOTE, from: 'a, line 1' });
    await must(desk.gathering.step({ do: 'accept', ids: [rows[1]!.id], choice: 'take-wording' }));
    expect(entriesOf(desk)).toEqual([NEARLY]);
    expect((await desk.gathering.bench(ALL)).counts).toMatchObject({
      accepted: 1,
      seen: 1,
      left: 0,
    });
  });

  const CALENDAR: [string, string][] = [
    ['old/books.csv', 'Emma\nHeidi\nWinnie-the-Pooh'],
    ['old/term.ics', 'Tuesday circle'],
  ];

  test('books and meetings the journal has are seen before, also what was altered in them', async () => {
    const { desk, clock } = await bench([]);
    await must(desk.saveCircle({ name: 'Tuesday circle' }));
    await must(desk.gathering.gather(CALENDAR.map(([path, text]) => handed(path, text))));
    const [emma, heidi, pooh, meeting] = await left(desk);
    await must(desk.gathering.step({ do: 'accept', ids: [emma!.id, heidi!.id, meeting!.id] }));
    await must(desk.gathering.step({ do: 'skip', ids: [pooh!.id] }));
    const { readings, meetings, headings } = desk.engine.journal.tables;
    const had = [readings.size, meetings.size, headings.size];
    const [read] = readings.values();
    await must(desk.reading.save({ ...read!, finished: '2019-06' }));
    await must(desk.gathering.step({ do: 'put-away' }));
    clock.now += 60_000;
    const again = await desk.gathering.gather(CALENDAR.map(([path, text]) => handed(path, text)));
    expect(again.said).toBe('1 piece to look at; 3 seen before');
    const view = await desk.gathering.bench(ALL);
    expect(view.rows.map(({ title }) => title)).toEqual(['Winnie-the-Pooh']);
    expect(view.files?.map(({ before }) => before)).toEqual(['partly', 'whole']);
    await must(desk.gathering.step({ do: 'skip', ids: [view.rows[0]!.id] }));
    expect([readings.size, meetings.size, headings.size]).toEqual(had);
  });

  test('a book altered at the bench is no longer what the journal has', async () => {
    const { desk } = await bench([['old/books.csv', 'Emma']]);
    const [emma] = await left(desk);
    await must(desk.gathering.step({ do: 'accept', ids: [emma!.id] }));
    await must(desk.gathering.gather([handed('new/more.csv', 'Emma\n')]));
    expect((await desk.gathering.bench(ALL)).counts).toMatchObject({ seen: 1, left: 0 });
    const [seen] = (await desk.gathering.bench({ ...ALL, show: 'seen' })).rows;
    const book = { finished: '2021' };
    await must(desk.gathering.step({ do: 'alter-book', id: seen!.id, book }));
    expect((await desk.gathering.bench(ALL)).counts).toMatchObject({ seen: 0, left: 1 });
  });

  test('files that are on the bench are not brought twice, and it is said', async () => {
    const { desk } = await bench();
    const { said } = await desk.gathering.gather([handed('copy/a.txt', NOTES)]);
    expect(said).toBe('Nothing new: what was brought is on the bench already');
  });

  test('gathering the same folder twice adds nothing, also what was altered since', async () => {
    const { desk, clock } = await bench();
    await must(desk.gathering.step({ do: 'accept', ids: (await left(desk)).map(({ id }) => id) }));
    const [entry] = desk.engine.journal.tables.entries.values();
    clock.now += 60_000;
    await must(desk.saveEntry({ ...entry!, text: 'Why is Anne sorry, does she say?' }));
    await must(desk.gathering.step({ do: 'put-away' }));
    clock.now += 60_000;
    const { said } = await desk.gathering.gather([handed('old/a.txt', NOTES)]);
    expect(said).toBe('Nothing new: all 4 pieces were seen before');
    const view = await desk.gathering.bench(ALL);
    expect(view.counts).toEqual({ found: 4, accepted: 0, seen: 4, skipped: 0, left: 0 });
    expect(view.files?.[0]?.before).toBe('whole');
    expect(entriesOf(desk)).toHaveLength(4);
  });

  const again = async (desk: DeskOver, text: string): Promise<BenchView> => {
    await must(desk.gathering.step({ do: 'put-away' }));
    await must(desk.gathering.gather([handed('old/a.txt', text)]));
    return desk.gathering.bench(ALL);
  };

  for (const choice of ['keep-ours', 'take-wording', 'keep-both'] as const) {
    test(`the same folder again does not ask again what was answered: ${choice}`, async () => {
      const text = `${QUOTE}\n${NEARLY}`;
      const { desk } = await bench([['old/a.txt', text]]);
      const [first, second] = await left(desk);
      await must(desk.gathering.step({ do: 'accept', ids: [first!.id] }));
      await must(desk.gathering.step({ do: 'accept', ids: [second!.id], choice }));
      const kept = entriesOf(desk);
      const view = await again(desk, text);
      expect(view.counts).toMatchObject({ found: 2, seen: 2, left: 0 });
      expect(view.files?.[0]?.before).toBe('whole');
      expect(entriesOf(desk)).toEqual(kept);
    });
  }

  test('of two pieces of one gathering the one let go is not asked about again, whichever came first', async () => {
    const text = `${QUOTE}\n${NEARLY}`;
    const { desk } = await bench([['old/a.txt', text]]);
    const [first, second] = await left(desk);
    await must(desk.gathering.step({ do: 'accept', ids: [second!.id], choice: 'keep-ours' }));
    await must(desk.gathering.step({ do: 'accept', ids: [first!.id] }));
    expect((await again(desk, text)).counts).toMatchObject({ found: 2, seen: 2, left: 0 });
  });

  test('where nothing else was kept, what was let go is remembered all the same, until that is undone', async () => {
    const { desk } = await bench([['old/a.txt', QUOTE]]);
    await must(desk.gathering.step({ do: 'accept', ids: [await idAt(desk, 0)] }));
    await must(desk.gathering.step({ do: 'put-away' }));
    const other = (): Promise<unknown> => must(desk.gathering.gather([handed('b.txt', NEARLY)]));
    await other();
    const near = await idAt(desk, 0);
    await must(desk.gathering.step({ do: 'accept', ids: [near], choice: 'keep-ours' }));
    expect(desk.engine.journal.tables.gatherings.size).toBe(2);
    await must(desk.undo());
    expect(desk.engine.journal.tables.gatherings.size).toBe(1);
    expect((await desk.gathering.bench(ALL)).counts).toMatchObject({ seen: 0, left: 1 });
    await must(desk.redo());
    await must(desk.gathering.step({ do: 'put-away' }));
    await other();
    expect((await desk.gathering.bench(ALL)).counts).toMatchObject({ seen: 1, left: 0 });
    // It can be kept all the same.
    await must(desk.gathering.step({ do: 'accept', ids: [near], choice: 'keep-both' }));
    expect(entriesOf(desk)).toEqual([QUOTE, NEARLY]);
  });

  test('put back, or without the entry it was let go for, a piece is asked about again', async () => {
    const { desk } = await bench([['old/a.txt', `${QUOTE}\n${NEARLY}`]]);
    const [first, second] = await left(desk);
    await must(desk.gathering.step({ do: 'accept', ids: [first!.id] }));
    await must(desk.gathering.step({ do: 'accept', ids: [second!.id], choice: 'keep-ours' }));
    const [record] = desk.engine.journal.tables.gatherings.values();
    expect(record?.files).toMatchObject([{ path: 'old/a.txt', known: ['line 2'] }]);
    await must(desk.gathering.step({ do: 'put-back', ids: [second!.id] }));
    const [after] = desk.engine.journal.tables.gatherings.values();
    expect(after?.files[0]).not.toHaveProperty('known');
    await must(desk.gathering.step({ do: 'accept', ids: [second!.id], choice: 'keep-ours' }));
    const [entry] = desk.engine.journal.tables.entries.values();
    await must(desk.removeEntries([entry!.id]));
    const view = await again(desk, `${QUOTE}\n${NEARLY}`);
    expect(view.counts).toMatchObject({ seen: 1, left: 1 });
    // It was let go for the first piece, and is asked about once that is not to be kept either.
    await must(desk.gathering.step({ do: 'skip', ids: [first!.id] }));
    expect((await left(desk)).map(({ text: words }) => words)).toEqual([NEARLY]);
  });

  test('the same file twice in one gathering is shown once', async () => {
    const { desk } = await bench([
      ['old/a.txt', NOTES],
      ['old/copy of a.txt', NOTES],
    ]);
    const view = await desk.gathering.bench(ALL);
    expect(view.files?.map(({ name }) => name)).toEqual(['a.txt']);
    expect(view.counts).toMatchObject({ found: 4, seen: 0, left: 4 });
  });

  test('what was seen before can be kept all the same', async () => {
    const { desk } = await bench([['old/a.txt', `${QUOTE}\n${QUOTE}`]]);
    await must(desk.gathering.step({ do: 'accept', ids: [await idAt(desk, 0)] }));
    const seen = (await shown(desk, { show: 'seen' })).rows;
    expect(seen).toHaveLength(1);
    await must(desk.gathering.step({ do: 'accept', ids: [seen[0]!.id] }));
    expect(entriesOf(desk)).toEqual([QUOTE, QUOTE]);
  });
});

describe('putting back what was accepted', () => {
  const made = (desk: DeskOver): string[] => {
    const { headings, readings, lists, meetings } = desk.engine.journal.tables;
    const named = (id: string): string => headings.get(id as never)?.name ?? '';
    return [
      ...[...headings.values()].map(({ name }) => name),
      ...[...readings.values()].map(({ book }) => `read ${named(book)}`),
      ...[...lists.values()].map(({ name, books }) => `${name}: ${books.map(named).join(', ')}`),
      ...[...meetings.values()].map(({ on }) => `met ${on}`),
    ].sort();
  };
  const EMMA = ['Anna Sewell', 'Autumn: Emma', 'Emma', 'read Emma'];
  const step = (desk: DeskOver, act: 'accept' | 'put-back', ...ids: string[]): Promise<Done> =>
    must(desk.gathering.step({ do: act, ids }));

  test('takes a book out with its author, its reading and its place in a list, and undo brings them again', async () => {
    const { desk } = await bench([['old/books.csv', 'Emma|Autumn']]);
    const id = await idAt(desk, 0);
    await step(desk, 'accept', id);
    expect(made(desk)).toEqual(EMMA);
    await step(desk, 'put-back', id);
    expect(made(desk)).toEqual([]);
    expect((await desk.gathering.bench(ALL)).counts).toMatchObject({ accepted: 0, left: 1 });
    await must(desk.undo());
    expect(made(desk)).toEqual(EMMA);
    await step(desk, 'put-back', id);
    await step(desk, 'accept', id);
    expect(made(desk)).toEqual(EMMA);
  });

  for (const how of ['together', 'one by one']) {
    test(`what another accepted book needs stays until that is put back too, accepted ${how}`, async () => {
      const { desk } = await bench([['old/books.csv', 'Emma|Autumn\nHeidi|Autumn']]);
      const [emma, heidi] = (await left(desk)).map(({ id }) => id) as [string, string];
      if (how === 'together') await step(desk, 'accept', heidi, emma);
      else for (const id of [heidi, emma]) await step(desk, 'accept', id);
      await step(desk, 'put-back', heidi);
      expect(made(desk)).toEqual(EMMA);
      await step(desk, 'put-back', emma);
      expect(made(desk)).toEqual([]);
    });
  }

  test('a list the reader had stays, without the book', async () => {
    const { desk } = await bench([
      ['old/books.csv', 'Emma|Autumn'],
      ['old/more.csv', 'Heidi|Autumn'],
    ]);
    await step(desk, 'accept', await idAt(desk, 0));
    await must(desk.gathering.step({ do: 'put-away' }));
    await must(desk.gathering.gather([handed('old/more.csv', 'Heidi|Autumn')]));
    const heidi = await idAt(desk, 0);
    await step(desk, 'accept', heidi);
    expect(made(desk)).toContain('Autumn: Emma, Heidi');
    await step(desk, 'put-back', heidi);
    expect(made(desk)).toEqual(EMMA);
  });

  test('a reading altered since stays, and so does its book', async () => {
    const { desk } = await bench([['old/books.csv', 'Emma|Autumn']]);
    const id = await idAt(desk, 0);
    await step(desk, 'accept', id);
    const [reading] = desk.engine.journal.tables.readings.values();
    await must(desk.reading.save({ ...reading!, rating: 4 }));
    await step(desk, 'put-back', id);
    expect(made(desk)).toEqual(['Anna Sewell', 'Emma', 'read Emma']);
  });

  test('takes a meeting out', async () => {
    const { desk } = await bench([]);
    await must(desk.saveCircle({ name: 'Tuesday circle' }));
    await must(desk.gathering.gather([handed('old/term.ics', 'Tuesday circle')]));
    const id = await idAt(desk, 0);
    await step(desk, 'accept', id);
    expect(made(desk)).toEqual(['met 2019-05-04']);
    await step(desk, 'put-back', id);
    expect(made(desk)).toEqual([]);
  });

  describe('a wording that was taken', () => {
    const taken = async (): Promise<Setup & { first: string; second: string }> => {
      const setup = await bench([['old/a.txt', `${QUOTE}\n${NEARLY}`]]);
      const [first, second] = (await left(setup.desk)).map(({ id }) => id) as [string, string];
      await step(setup.desk, 'accept', first);
      await must(
        setup.desk.gathering.step({ do: 'accept', ids: [second], choice: 'take-wording' }),
      );
      expect(entriesOf(setup.desk)).toEqual([NEARLY]);
      setup.clock.now += 60_000;
      return { ...setup, first, second };
    };
    const counts = async (desk: DeskOver): Promise<unknown> =>
      (await desk.gathering.bench(ALL)).counts;

    test('gives the entry of the other piece its words again', async () => {
      const { desk, second } = await taken();
      await step(desk, 'put-back', second);
      expect(entriesOf(desk)).toEqual([QUOTE]);
      expect(await counts(desk)).toMatchObject({ accepted: 1, left: 1 });
      await must(desk.undo());
      expect(entriesOf(desk)).toEqual([NEARLY]);
    });

    test('leaves words that were altered since, and what else was', async () => {
      const { desk, second } = await taken();
      const [entry] = desk.engine.journal.tables.entries.values();
      await must(desk.saveEntry({ ...entry!, title: 'Evening' }));
      await step(desk, 'put-back', second);
      const [after] = desk.engine.journal.tables.entries.values();
      expect(after).toMatchObject({ text: QUOTE, title: 'Evening' });
      await must(desk.undo());
      await must(desk.saveEntry({ ...entry!, text: 'My own words.' }));
      await step(desk, 'put-back', second);
      expect(entriesOf(desk)).toEqual(['My own words.']);
    });

    test('keeps the entry while the other is put back, and then takes it out', async () => {
      const { desk, first, second } = await taken();
      await step(desk, 'put-back', first);
      expect(entriesOf(desk)).toEqual([NEARLY]);
      await step(desk, 'put-back', second);
      expect(entriesOf(desk)).toEqual([]);
    });
  });
});

describe('the shape of pieces', () => {
  test('a piece is split in two and joined again', async () => {
    const { desk } = await bench([
      ['old/a.txt', 'The rain held off all morning. Why does Anne say that she is sorry?'],
    ]);
    const [row] = await left(desk);
    await must(desk.gathering.step({ do: 'split', id: row!.id, at: row!.text.indexOf('Why') }));
    const halves = await left(desk);
    expect(halves.map(({ text, kind }) => [text, kind])).toEqual([
      ['The rain held off all morning.', 'note'],
      ['Why does Anne say that she is sorry?', 'question'],
    ]);
    expect((await desk.gathering.bench(ALL)).touched).toBe(halves[0]!.id);
    await must(desk.gathering.step({ do: 'join', id: halves[0]!.id }));
    expect((await left(desk)).map(({ text }) => text)).toEqual([
      'The rain held off all morning.\n\nWhy does Anne say that she is sorry?'.replace(
        '\n\n',
        '\n',
      ),
    ]);
    await must(desk.undo());
    await must(desk.undo());
    expect(await left(desk)).toEqual([row]);
  });

  describe('two that are joined', () => {
    const pages = (...made: Block[]): FileReader =>
      async function* ({ path }) {
        yield { path, result: { ok: true, blocks: made, notes: [] } };
      };
    const joining = async (reading: FileReader, words: BenchWords[] = []): Promise<DeskOver> => {
      const { desk } = await opened(new MemoryStore(), {
        reader: reading,
        beside: new MemoryBeside(),
      });
      await must(desk.gathering.gather([handed('old/a.txt', 'a')]));
      const rows = await left(desk);
      for (const [at, each] of words.entries())
        await must(desk.gathering.step({ do: 'alter', id: rows[at]!.id, words: each }));
      return desk;
    };
    const join = async (desk: DeskOver): Promise<Done> =>
      desk.gathering.step({ do: 'join', id: await idAt(desk, 0) });
    const SHORE = 'A walk along the shore.';
    const two = pages(block(SHORE), block('Shells by the kilo.'));

    test('keep both titles: that of the second before its words', async () => {
      const desk = await joining(two, [{ title: 'First day' }, { title: 'Second day' }]);
      await must(join(desk));
      const [row] = await left(desk);
      const whole = await desk.gathering.piece(row!.id);
      expect(whole).toMatchObject({
        piece: { title: 'First day', text: `${SHORE}\n\nSecond day\n\nShells by the kilo.` },
      });
    });

    test('have the title and the date of the second where the first has none', async () => {
      const desk = await joining(two, [{}, { title: 'Second day', written: '2015' }]);
      await must(join(desk));
      const [row] = await left(desk);
      expect(row).toMatchObject({ title: 'Second day', written: '2015' });
      const whole = await desk.gathering.piece(row!.id);
      expect(whole).toMatchObject({ piece: { text: `${SHORE}\n\nShells by the kilo.` } });
    });

    test('are not joined where each has a picture, and a picture of one stays', async () => {
      const picture = (byte: number): Partial<Block> => ({
        picture: { bytes: Uint8Array.of(byte), type: 'image/png', alt: `No. ${byte}` },
      });
      const both = await joining(pages(block(SHORE, picture(1)), block('Shells.', picture(2))));
      expect(await join(both)).toMatchObject({ ok: false, code: 'two-pictures' });
      expect(await left(both)).toHaveLength(2);
      const second = await joining(pages(block(SHORE), block('Shells.', picture(2))));
      await must(join(second));
      expect(await left(second)).toMatchObject([{ picture: { alt: 'No. 2' } }]);
    });

    test('put what is to be had ready and what another journal says of them together', async () => {
      const journal = emptyJournal('other', 'Other', '2020-01-01T00:00:00.000Z');
      const entry = (id: string, more: Partial<Entry>): void => {
        const stamps = { added: '2020', changed: '2020' };
        const made = { id, kind: 'lesson', text: `Lesson ${id}.`, ties: [], ...stamps, ...more };
        journal.tables.entries.set(id as EntryId, made as Entry);
      };
      entry('1', {
        materials: ['lamp', 'paper'],
        minutes: 10,
        probes: ['Why?'],
        lesson: { objective: 'Light.', steps: ['Look.'] },
      });
      entry('2', {
        materials: ['paper', 'ink'],
        minutes: 15,
        ages: '7-11',
        level: 'apply',
        levelBy: 'reader',
        probes: ['How?'],
        lesson: { objective: 'Shade.', steps: ['Draw.'], due: 'Monday' },
      });
      const desk = await joining(async function* ({ path }) {
        yield { path, result: { ok: true, blocks: [], journal, notes: [] } };
      });
      await must(join(desk));
      await must(desk.gathering.step({ do: 'accept', ids: [await idAt(desk, 0)] }));
      expect([...desk.engine.journal.tables.entries.values()]).toMatchObject([
        {
          text: 'Lesson 1.\n\nLesson 2.',
          materials: ['lamp', 'paper', 'ink'],
          minutes: 25,
          ages: '7-11',
          level: 'apply',
          levelBy: 'reader',
          probes: ['Why?', 'How?'],
          lesson: { objective: 'Light.\n\nShade.', steps: ['Look.', 'Draw.'], due: 'Monday' },
        },
      ]);
    });
  });

  test('nothing is split at its edge, and the last piece of a file joins nothing', async () => {
    const { desk } = await bench([
      ['old/a.txt', 'One thing.'],
      ['old/b.txt', 'Another thing.'],
    ]);
    const id = await idAt(desk, 0);
    expect(await desk.gathering.step({ do: 'split', id, at: 0 })).toMatchObject({
      ok: false,
      code: 'nothing-to-split',
    });
    expect(await desk.gathering.step({ do: 'join', id })).toMatchObject({
      ok: false,
      code: 'nothing-to-join',
    });
  });
});

describe('taking a gathering back', () => {
  test('takes its entries, headings and readings, and puts taken wording back', async () => {
    const { desk, clock } = await bench([['mine/own.txt', QUOTE]]);
    await must(desk.gathering.step({ do: 'accept', ids: [await idAt(desk, 0)] }));
    await must(desk.gathering.step({ do: 'put-away' }));
    const before = fileOf(desk.engine.journal);
    clock.now += 60_000;
    await must(
      desk.gathering.gather([
        handed('old/a.txt', `${NEARLY}\nThe rain held off.`),
        handed('old/b.csv', 'Emma'),
      ]),
    );
    const rows = await left(desk);
    expect(rows.map(({ type }) => type)).toEqual(['piece', 'piece', 'book']);
    await must(desk.gathering.step({ do: 'accept', ids: [rows[0]!.id], choice: 'take-wording' }));
    const theme = { name: 'Weather', kind: 'theme' } as const;
    await must(desk.gathering.step({ do: 'tie', ids: [rows[1]!.id], tie: theme }));
    await must(desk.gathering.step({ do: 'accept', ids: [rows[1]!.id, rows[2]!.id] }));
    const { headings, readings } = desk.engine.journal.tables;
    expect([...headings.values()].map(({ name }) => name).sort()).toEqual([
      'Anna Sewell',
      'Emma',
      'Weather',
    ]);
    expect(readings.size).toBe(1);
    const { gathering } = await desk.gathering.bench(ALL);
    expect(await desk.gathering.lookAt(gathering!)).toMatchObject({ entries: 1, altered: [] });
    await must(desk.gathering.takeBack(gathering!, []));
    expect(fileOf(desk.engine.journal)).toBe(before);
    expect((await desk.gathering.bench(ALL)).counts).toMatchObject({ accepted: 0, left: 3 });
    await must(desk.undo());
    expect((await desk.gathering.bench(ALL)).counts).toMatchObject({ accepted: 3, left: 0 });
    expect(readings.size).toBe(1);
  });

  test('is taken back whole also after it was put away', async () => {
    const { desk } = await bench([['old/b.csv', 'Emma\nHeidi']]);
    const before = desk.engine.journal.tables.readings.size;
    await must(desk.gathering.step({ do: 'accept', ids: (await left(desk)).map(({ id }) => id) }));
    expect(desk.engine.journal.tables.readings.size).toBe(before + 2);
    const { gathering } = await desk.gathering.bench(ALL);
    await must(desk.gathering.step({ do: 'put-away' }));
    await must(desk.gathering.takeBack(gathering!, []));
    expect(desk.engine.journal.tables.readings.size).toBe(before);
    expect(desk.engine.journal.tables.headings.size).toBe(0);
  });

  test('entries altered since are told, and stay where the reader says so', async () => {
    const { desk, clock } = await bench();
    await must(desk.gathering.step({ do: 'accept', ids: (await left(desk)).map(({ id }) => id) }));
    const [entry] = desk.engine.journal.tables.entries.values();
    clock.now += 60_000;
    await must(desk.saveEntry({ ...entry!, text: 'Altered by hand.' }));
    const { gathering } = await desk.gathering.bench(ALL);
    const looked = await desk.gathering.lookAt(gathering!);
    expect(looked).toMatchObject({ entries: 4, used: 0 });
    expect(looked?.altered.map(({ id }) => id)).toEqual([entry!.id]);
    await must(desk.gathering.takeBack(gathering!, [entry!.id]));
    expect(entriesOf(desk)).toEqual(['Altered by hand.']);
    expect(desk.engine.check()).toEqual([]);
  });

  test('a heading that something else names meanwhile stays', async () => {
    const { desk } = await bench();
    const id = await idAt(desk, 0);
    await must(
      desk.gathering.step({ do: 'tie', ids: [id], tie: { name: 'Weather', kind: 'theme' } }),
    );
    await must(desk.gathering.step({ do: 'accept', ids: [id] }));
    const [weather] = desk.engine.journal.tables.headings.keys();
    await must(
      desk.saveEntry({
        kind: 'note',
        text: 'My own.',
        ties: [{ heading: weather as never, role: 'about', by: 'reader' }],
      }),
    );
    const { gathering } = await desk.gathering.bench(ALL);
    await must(desk.gathering.takeBack(gathering!, []));
    expect(desk.engine.journal.tables.headings.size).toBe(1);
    expect(entriesOf(desk)).toEqual(['My own.']);
  });
});

describe('files on their way', () => {
  test('stopped, what was not read waits, in another window too, and is gone on with', async () => {
    const [store, beside] = [new MemoryStore(), new MemoryBeside()];
    const { desk } = await bench([], store, beside);
    const files = ['a', 'b', 'c'].map((name) => handed(`old/${name}.txt`, `Something in ${name}.`));
    const stopping = { ...files[1]!, file: new Blob(['Something in b.']) };
    stopping.file.arrayBuffer = async () => {
      await desk.gathering.stop();
      return new ArrayBuffer(0);
    };
    await desk.gathering.gather([files[0]!, stopping, files[2]!]);
    const stopped = await desk.gathering.bench(ALL);
    expect(stopped.progress).toMatchObject({ stage: 'stopped' });
    const waiting = stopped.files!.filter(({ status }) => status === 'waiting');
    expect(waiting.map(({ name }) => name)).toContain('c.txt');
    const later = await bench([], store, beside);
    expect((await later.desk.gathering.bench(ALL, true)).progress).toMatchObject({
      stage: 'stopped',
    });
    await must(later.desk.gathering.gather([]));
    const view = await later.desk.gathering.bench(ALL);
    expect(view.progress).toBeUndefined();
    expect(view.rows.map(({ text }) => text)).toContain('Something in c.');
  });

  test('a window closed before what was read is stored leaves the file waiting for the next', async () => {
    let closed: 'not yet' | 'closed' | 'opened again' = 'not yet';
    class Closing extends MemoryBeside {
      override async put(...given: Parameters<RecordsBeside['put']>): Promise<boolean> {
        if (closed === 'not yet' && given[0].some(([key]) => key.startsWith('bench/')))
          closed = 'closed';
        return closed === 'closed' ? new Promise<boolean>(() => undefined) : super.put(...given);
      }
    }
    const [store, beside] = [new MemoryStore(), new Closing()];
    const { desk } = await bench([], store, beside);
    void desk.gathering.gather([handed('old/a.txt', 'Something in a.')]);
    await expect.poll(() => closed, { timeout: 10_000 }).toBe('closed');
    closed = 'opened again';
    const later = await bench([], store, beside);
    await must(later.desk.gathering.gather([]));
    const view = await later.desk.gathering.bench(ALL);
    expect(view.rows.map(({ text }) => text)).toEqual(['Something in a.']);
    expect(await beside.keys('waiting/')).toEqual([]);
  });

  test('hidden files are left alone, and a second file of the same name goes by a number', async () => {
    const { desk } = await bench([]);
    const done = await desk.gathering.gather([
      handed('old/.DS_Store', 'x'),
      handed('old/a.txt', 'One thing.'),
      handed('old/a.txt', 'Another thing.'),
    ]);
    expect(done.said).toBe('2 pieces to look at; 1 hidden file left alone');
    expect((await desk.gathering.bench(ALL)).files?.map(({ path }) => path)).toEqual([
      'old/a.txt',
      'old/a (2).txt',
    ]);
  });

  test('a date is read as it is typed, and refused before it is altered to', async () => {
    const { desk } = await bench();
    const [first] = (await desk.gathering.bench(ALL)).rows;
    const alter = (written: string): Promise<Done> =>
      desk.gathering.step({ do: 'alter', id: first!.id, words: { written } });
    expect(await alter('some time ago')).toMatchObject({ ok: false, code: 'bad-date' });
    await must(alter('14 March 2014'));
    const whole = await desk.gathering.piece(first!.id);
    expect(whole).toMatchObject({ type: 'piece', piece: { written: '2014-03-14' } });
  });

  test('a gathering is put away, and undo brings it back', async () => {
    const { desk } = await bench();
    await must(desk.gathering.step({ do: 'put-away' }));
    expect((await desk.gathering.bench(ALL)).gathering).toBeUndefined();
    await must(desk.undo());
    expect((await desk.gathering.bench(ALL)).counts.left).toBe(4);
  });
});
