import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as make from '../../../src/journal/make-edits';
import { entryOf } from '../../../src/journal/journal';
import {
  TABLES,
  type BookHeading,
  type Challenge,
  type ChallengeId,
  type CircleId,
  type EntryId,
  type HeadingId,
  type Journal,
  type Meeting,
  type MeetingId,
  type MeetingItem,
} from '../../../src/journal/records';
import { MemoryBytes, type Update } from '../../../src/keep/byte-store';
import { DocumentStore } from '../../../src/keep/document-store';
import { arbitraryJournal, arbitraryStep, LATER } from '../journal/arbitrary-journal';
import { book, entry, journalOf, theme, tieTo } from '../journal/few';
import { readAll, Session, whole } from './session';

const id = (text: string): EntryId => text as EntryId;

/** Another device with the same documents. */
async function copyOf(from: DocumentStore): Promise<DocumentStore> {
  const store = new DocumentStore(new MemoryBytes());
  await store.saveMeta((await from.meta())!);
  await store.merge(await from.states());
  return store;
}

/** Sessions on two or three devices that begin with the same documents. */
async function devices(from: Journal, count: number): Promise<Session[]> {
  const first = new DocumentStore(new MemoryBytes());
  await Session.begin(first, from);
  const stores = [first];
  while (stores.length < count) stores.push(await copyOf(first));
  return Promise.all(stores.map((store) => Session.open(store)));
}

const storeOf = (session: Session): DocumentStore => session.store as DocumentStore;
const statesOf = (session: Session): Promise<Update[]> => storeOf(session).states();

/** Merges every device into every other, each in its own order, some of it twice, and answers what each then holds. */
async function meet(sessions: Session[], orders: number[][]): Promise<Journal[]> {
  const states = await Promise.all(sessions.map(statesOf));
  for (const [at, session] of sessions.entries()) {
    for (const from of orders[at] ?? [])
      await storeOf(session).merge(states[from % states.length]!);
    for (const state of states) await storeOf(session).merge(state);
  }
  return Promise.all(sessions.map(async ({ store }) => (await readAll(store)).journal));
}

const sorted = (journal: Journal): string => whole(journal);

/** Every word in a journal, wherever it stands. */
const wordsIn = (journal: Journal): string =>
  JSON.stringify(TABLES.map((table) => [...journal.tables[table].values()]));

/** A journal with one meeting that has these items, of the entries e0 and e1 or of words alone. */
function withMeeting(from: Journal, items: MeetingItem[]): Journal {
  from.tables.circles.set('c', { id: 'c' as CircleId, name: 'Thursdays' });
  const of = { id: 'm' as MeetingId, circle: 'c' as CircleId, on: '2024-03-14' };
  from.tables.meetings.set('m', { ...of, items });
  return from;
}
const itemsIn = ({ tables }: Journal): MeetingItem[] => tables.meetings.get('m')!.items;

/** Writes under one item of the meeting, or marks it. */
async function mark(session: Session, at: number, more: Partial<MeetingItem>): Promise<void> {
  const held: Meeting = session.journal.tables.meetings.get('m')!;
  const items = held.items.map((item, n) => (n === at ? { ...item, ...more } : item));
  await session.do(make.putRow(session.journal, 'meetings', { ...held, items }));
}

async function write(
  session: Session,
  which: string,
  change: (text: string) => string,
): Promise<void> {
  const held = entryOf(session.journal, id(which))!;
  await session.do(make.putEntry(session.journal, { ...held, text: change(held.text) }));
}

describe('copies changed apart from each other', () => {
  it('come to the same journal whatever the order they are merged in, and however often', async () => {
    const order = fc.array(fc.nat(2), { maxLength: 5 });
    await fc.assert(
      fc.asyncProperty(
        arbitraryJournal(),
        fc.array(fc.tuple(fc.nat(2), arbitraryStep(), fc.boolean()), {
          minLength: 2,
          maxLength: 12,
        }),
        fc.constantFrom(2, 3),
        fc.tuple(order, order, order),
        async (from, steps, count, orders) => {
          const sessions = await devices(from, count);
          for (const [who, step, back] of steps) {
            const session = sessions[who % count]!;
            await session.do(step.make(session.journal));
            if (back) await session.undo();
          }
          const met = await meet(sessions, orders);
          for (const journal of met) expect(sorted(journal)).toBe(sorted(met[0]!));
        },
      ),
      { numRuns: 60 },
    );
  }, 60_000);

  it('lose no word that was written on any of them', async () => {
    const where = fc.constantFrom(
      ...(['start', 'middle', 'end', 'instead'] as const),
      ...(['answer', 'title', 'probe', 'item'] as const),
    );
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.nat(2), fc.nat(1), where, fc.boolean()), {
          minLength: 1,
          maxLength: 12,
        }),
        fc.array(fc.array(fc.nat(2)), { minLength: 3, maxLength: 3 }),
        async (writings, orders) => {
          const rows = [0, 1].map((n) =>
            entry(`e${n}`, { text: 'the quick brown fox', title: 'fox' }),
          );
          const items = rows.map((row): MeetingItem => ({ entry: row.id, used: false }));
          const sessions = await devices(withMeeting(journalOf(...rows), items), 3);
          // The last words each device has written in each field, which nobody has taken out knowingly.
          const standing = new Map<string, string[]>();
          for (const [n, [who, which, place, removed]] of writings.entries()) {
            const session = sessions[who]!;
            const held = entryOf(session.journal, id(`e${which}`));
            if (!held) continue;
            const word = `word${n}`;
            const key = (field: string): string => `${who} ${which} ${field}`;
            const keep = (field: string, words: string[]): void =>
              void standing.set(key(field), words);
            if (place === 'item') {
              await mark(session, which, { note: word });
              keep('item', [word]);
              continue;
            }
            if (removed && place === 'end') {
              await session.do(make.removeEntries(session.journal, [held.id]));
              for (const field of ['text', 'answer', 'title', 'probe']) keep(field, []);
              continue;
            }
            const had = (field: string): string[] => standing.get(key(field)) ?? [];
            const spaced = held.text.split(' ');
            const middle = Math.floor(spaced.length / 2);
            const text = {
              start: `${word} ${held.text}`,
              middle: [...spaced.slice(0, middle), word, ...spaced.slice(middle)].join(' '),
              end: `${held.text} ${word}`,
              instead: word,
            }[place as 'start'];
            if (text !== undefined)
              keep('text', place === 'instead' ? [word] : [...had('text'), word]);
            else keep(place, place === 'probe' ? [...had('probe'), word] : [word]);
            const more =
              text !== undefined
                ? { text }
                : place === 'probe'
                  ? { probes: [...(held.probes ?? []), word] }
                  : { [place]: word };
            await session.do(make.putEntry(session.journal, { ...held, ...more }));
          }
          const [met] = await meet(sessions, orders);
          const found = wordsIn(met!);
          for (const words of standing.values()) {
            for (const word of words) expect(found).toMatch(new RegExp(`${word}(?!\\d)`));
          }
        },
      ),
      { numRuns: 150 },
    );
  });

  it('keep what was written and marked at a meeting on each', async () => {
    const items = ['e0', 'e1'].map((of): MeetingItem => ({ entry: id(of), used: false }));
    const from = withMeeting(journalOf(entry('e0'), entry('e1')), [
      ...items,
      { text: 'A pause', used: false },
      { text: 'A pause', used: false },
    ]);
    const [one, two] = await devices(from, 2);
    await mark(one!, 0, { note: 'Ann wept.' });
    await mark(one!, 3, { note: 'The second pause.' });
    await mark(two!, 0, { note: 'Bea laughed.' });
    await mark(two!, 1, { used: true, went: 'well' });
    await mark(two!, 2, { used: true });
    const met = await meet([one!, two!], []);
    for (const journal of met) {
      const [first, ...others] = itemsIn(journal);
      for (const words of ['Ann wept.', 'Bea laughed.']) expect(first!.note).toContain(words);
      expect(others).toEqual([
        { entry: 'e1', used: true, went: 'well' },
        { text: 'A pause', used: true },
        { text: 'A pause', used: false, note: 'The second pause.' },
      ]);
    }
  });

  it('keep the prompts and the chapters that each has added', async () => {
    const from = journalOf(book('b'));
    const challenge = { id: 'ch' as ChallengeId, name: 'At sea', from: '2026', to: '2026' };
    const prompt = (of: string): Challenge['prompts'][number] => ({
      id: of,
      text: of,
      rule: { by: 'free' },
    });
    from.tables.challenges.set('ch', { ...challenge, perBook: 1, prompts: [prompt('A ship')] });
    const sessions = await devices(from, 3);
    for (const [at, words] of ['A gale', 'A gull', 'A buoy'].entries()) {
      const { journal } = sessions[at]!;
      const { prompts, ...rest } = journal.tables.challenges.get('ch')!;
      const altered = { ...rest, prompts: [...prompts, prompt(words)] };
      await sessions[at]!.do(make.putRow(journal, 'challenges', altered));
      const held = journal.tables.headings.get('b') as BookHeading;
      const chapters = [
        { name: 'One', page: 1 },
        { name: words, page: 20 - at },
      ];
      await sessions[at]!.do(make.putHeading(journal, { ...held, chapters }));
    }
    const met = await meet(sessions, [[1], [2, 0], []]);
    for (const { tables } of met) {
      const prompts = tables.challenges.get('ch')!.prompts.map(({ text }) => text);
      expect(prompts.sort()).toEqual(['A buoy', 'A gale', 'A gull', 'A ship']);
      const { chapters } = tables.headings.get('b') as BookHeading;
      expect(chapters!.map(({ name }) => name)).toEqual(['One', 'A buoy', 'A gull', 'A gale']);
    }
    for (const journal of met) expect(sorted(journal)).toBe(sorted(met[0]!));
  });

  it('keep both titles where one begins with the other but not as a whole word', async () => {
    const [one, two] = await devices(journalOf(entry('a', { title: 'Plants' })), 2);
    const name = async (session: Session, title: string): Promise<void> => {
      await session.do(
        make.putEntry(session.journal, { ...entryOf(session.journal, id('a'))!, title }),
      );
    };
    await name(one!, 'The fox');
    await name(two!, 'The foxglove');
    const [met] = await meet([one!, two!], []);
    expect(['The fox / The foxglove', 'The foxglove / The fox']).toContain(
      entryOf(met!, id('a'))!.title,
    );
  });

  it('keep both of two insertions into one body', async () => {
    const [one, two] = await devices(journalOf(entry('a', { text: 'It was dark.' })), 2);
    await write(one!, 'a', (text) => `${text} She lit the lamp.`);
    await write(two!, 'a', (text) => `${text} Nobody came.`);
    const [met] = await meet([one!, two!], []);
    const { text } = entryOf(met!, id('a'))!;
    expect(text).toMatch(/^It was dark\./);
    expect(text).toContain(' She lit the lamp.');
    expect(text).toContain(' Nobody came.');
  });

  it('change words whole: two people putting another word in place leave two whole words', async () => {
    const [one, two] = await devices(journalOf(entry('a', { text: 'Her courage failed.' })), 2);
    await write(one!, 'a', () => 'Her bravery failed.');
    await write(two!, 'a', () => 'Her boldness failed.');
    const [met] = await meet([one!, two!], []);
    expect(['Her braveryboldness failed.', 'Her boldnessbravery failed.']).toContain(
      entryOf(met!, id('a'))!.text,
    );
  });

  it('keep changes far apart in one body each in its place', async () => {
    const words = Array.from({ length: 400 }, (_, at) => `w${at}`);
    const [one, two] = await devices(journalOf(entry('a', { text: words.join(' ') })), 2);
    const changed = (list: string[], ...at: number[]): string =>
      list.map((word, n) => (at.includes(n) ? `${word}!` : word)).join(' ');
    await write(one!, 'a', () => changed(words, 3, 390));
    await write(two!, 'a', () => changed(words, 200));
    const [met] = await meet([one!, two!], []);
    expect(entryOf(met!, id('a'))!.text).toBe(changed(words, 3, 200, 390));
  });

  it('keep ties made on both, and a tie taken off on one', async () => {
    const from = journalOf(theme('x'), theme('y'), theme('z'), entry('a', { ties: [tieTo('x')] }));
    const [one, two] = await devices(from, 2);
    await one!.do(make.tieEntries(one!.journal, [id('a')], tieTo('y'), LATER));
    await two!.do(make.tieEntries(two!.journal, [id('a')], tieTo('z'), LATER));
    await two!.do(make.untieEntries(two!.journal, [id('a')], 'x' as HeadingId, LATER));
    const [met] = await meet([one!, two!], []);
    const ties = entryOf(met!, id('a'))!.ties.map(({ heading }) => heading);
    expect([...ties].sort()).toEqual(['y', 'z']);
  });

  it('bring back an entry that was removed on one and rewritten on the other', async () => {
    const [one, two] = await devices(journalOf(entry('a', { text: 'Old words.' })), 2);
    await one!.do(make.removeEntries(one!.journal, [id('a')]));
    await write(two!, 'a', (text) => `${text} New words.`);
    const met = await meet([one!, two!], [[1, 0], [0]]);
    for (const journal of met)
      expect(entryOf(journal, id('a'))!.text).toBe('Old words. New words.');
  });

  it('leave an entry removed when the other has only tied it', async () => {
    const [one, two] = await devices(journalOf(theme('x'), entry('a'), entry('b')), 2);
    await one!.do(make.removeEntries(one!.journal, [id('a'), id('b')]));
    await two!.do(make.tieEntries(two!.journal, [id('a')], tieTo('x'), LATER));
    await two!.do(make.removeEntries(two!.journal, [id('b')]));
    const met = await meet([one!, two!], []);
    for (const journal of met) expect(journal.tables.entries.size).toBe(0);
  });

  it('bring back what both have removed when one of them undoes it', async () => {
    const [one, two] = await devices(journalOf(entry('a')), 2);
    await one!.do(make.removeEntries(one!.journal, [id('a')]));
    await meet([one!, two!], []);
    await one!.undo();
    const met = await meet([one!, two!], []);
    for (const journal of met) expect(entryOf(journal, id('a'))).toEqual(entry('a'));
  });

  it('lose neither of two headings that were merged into each other', async () => {
    const rows = [theme('x', { name: 'Courage' }), theme('y', { name: 'Bravery' })];
    const [one, two] = await devices(journalOf(...rows, entry('a', { ties: [tieTo('x')] })), 2);
    await one!.do(make.mergeHeadings(one!.journal, 'x' as HeadingId, 'y' as HeadingId, LATER));
    await two!.do(make.mergeHeadings(two!.journal, 'y' as HeadingId, 'x' as HeadingId, LATER));
    const [met] = await meet([one!, two!], []);
    const names = [...met!.tables.headings.values()].flatMap(({ name, alternates }) => [
      name,
      ...alternates,
    ]);
    expect(names).toEqual(expect.arrayContaining(['Courage', 'Bravery']));
    const [tie] = entryOf(met!, id('a'))!.ties;
    expect(met!.tables.headings.has(tie!.heading)).toBe(true);
  });

  it('keep both names of a heading renamed on both, and both alternates', async () => {
    const [one, two] = await devices(journalOf(theme('x', { name: 'Courage' })), 2);
    await one!.do(
      make.putHeading(one!.journal, theme('x', { name: 'Bravery', alternates: ['Nerve'] })),
    );
    await two!.do(
      make.putHeading(two!.journal, theme('x', { name: 'Boldness', alternates: ['Pluck'] })),
    );
    const met = await meet([one!, two!], []);
    const [heading] = met[0]!.tables.headings.values();
    expect([heading!.name, ...heading!.alternates].sort()).toEqual([
      'Boldness',
      'Bravery',
      'Nerve',
      'Pluck',
    ]);
  });

  it('are read though a tie leads to a heading that the other has removed', async () => {
    const [one, two] = await devices(journalOf(theme('x'), book('b'), entry('a')), 2);
    await one!.do(make.removeHeading(one!.journal, 'x' as HeadingId));
    await two!.do(make.tieEntries(two!.journal, [id('a')], tieTo('x'), LATER));
    const [met] = await meet([one!, two!], []);
    expect(entryOf(met!, id('a'))!.ties).toEqual([tieTo('x')]);
    expect(met!.tables.headings.has('x' as HeadingId)).toBe(false);
    // The entry can still be altered, and the tie taken off.
    const session = await Session.open(one!.store);
    const held = entryOf(session.journal, id('a'))!;
    await session.do(make.putEntry(session.journal, { ...held, answer: 'More' }));
    await session.do(make.untieEntries(session.journal, [id('a')], 'x' as HeadingId, LATER));
    expect(entryOf((await readAll(one!.store)).journal, id('a'))!.ties).toEqual([]);
  });
});

describe('two devices that began with the same journal file, not with the same documents', () => {
  /** Both open the same rows by themselves, as from a copy. */
  async function apart(from: Journal): Promise<[Session, Session]> {
    const begin = (): Promise<Session> => Session.begin(new DocumentStore(new MemoryBytes()), from);
    return [await begin(), await begin()];
  }

  it('have each row once when they meet', async () => {
    await fc.assert(
      fc.asyncProperty(arbitraryJournal(), async (from) => {
        const met = await meet(await apart(from), [[1], [0, 0]]);
        for (const journal of met) expect(whole(journal)).toBe(whole(from));
      }),
      { numRuns: 30 },
    );
  }, 60_000);

  it('take the wording of the one that has changed a row', async () => {
    const [one, two] = await apart(
      journalOf(theme('x'), entry('a', { text: 'colour of it' }), entry('b')),
    );
    await write(one, 'a', () => 'color of it');
    await two.do(make.tieEntries(two.journal, [id('b')], tieTo('x'), LATER));
    const met = await meet([one, two], []);
    for (const journal of met) {
      expect(entryOf(journal, id('a'))!.text).toBe('color of it');
      expect(entryOf(journal, id('b'))!.ties).toEqual([tieTo('x')]);
    }
  });

  it('keep both wordings where both have changed a row, and both can be altered afterwards', async () => {
    const [one, two] = await apart(journalOf(entry('a', { text: 'dark' })));
    await write(one, 'a', () => 'dark, said Ann');
    await write(two, 'a', () => 'very dark');
    const met = await meet([one, two], []);
    expect(sorted(met[0]!)).toBe(sorted(met[1]!));
    const { text } = entryOf(met[0]!, id('a'))!;
    expect(text).toContain('dark, said Ann');
    expect(text).toContain('very dark');
    const again = await Session.open(one.store);
    await write(again, 'a', () => 'dark, both said');
    expect(entryOf((await readAll(one.store)).journal, id('a'))!.text).toBe('dark, both said');
    const after = await meet([again, two], []);
    for (const journal of after) expect(entryOf(journal, id('a'))!.text).toBe('dark, both said');
  });

  it('remove a row for both when it is removed after they have met', async () => {
    const [one, two] = await apart(journalOf(entry('a')));
    await meet([one, two], []);
    const session = await Session.open(one.store);
    await session.do(make.removeEntries(session.journal, [id('a')]));
    const met = await meet([session, two], []);
    for (const journal of met) expect(journal.tables.entries.size).toBe(0);
  });

  it('come to the same journal whatever they do', async () => {
    await fc.assert(
      fc.asyncProperty(
        arbitraryJournal(),
        fc.array(fc.tuple(fc.nat(1), arbitraryStep()), { maxLength: 10 }),
        async (from, steps) => {
          const sessions = await apart(from);
          for (const [who, step] of steps) {
            await sessions[who]!.do(step.make(sessions[who]!.journal));
          }
          const met = await meet(sessions, [[1, 1], []]);
          expect(sorted(met[0]!)).toBe(sorted(met[1]!));
        },
      ),
      { numRuns: 50 },
    );
  }, 60_000);
});

describe('merging', () => {
  it('adds no bytes when there is nothing new', async () => {
    const [one, two] = await devices(journalOf(entry('a')), 2);
    await meet([one!, two!], []);
    const bytes = storeOf(two!).bytes;
    const before = (await bytes.read((await bytes.shards())[0]!)).log.length;
    await storeOf(two!).merge(await statesOf(one!));
    expect((await bytes.read((await bytes.shards())[0]!)).log.length).toBe(before);
  });

  it('refuses states that are none, and harms nothing by it', async () => {
    const [one] = await devices(journalOf(entry('a')), 1);
    const [shard] = await storeOf(one!).bytes.shards();
    const wreck = { shard: shard!, update: new Uint8Array([9, 9, 9, 200, 1, 2]) };
    await expect(storeOf(one!).merge([wreck])).rejects.toThrow();
    await write(one!, 'a', (text) => `${text} more`);
    expect(entryOf((await readAll(one!.store)).journal, id('a'))!.text).toBe('Text of a more');
  });
});
