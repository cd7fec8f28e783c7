import { describe, expect, it } from 'vitest';
import type { Journal } from '../../../src/journal/records';
import { nearTo } from '../../../src/weave/near';
import type { Seeds } from '../../../src/weave/seeds';
import { WeaveIndex } from '../../../src/weave/weave-index';
import { book, entry, journalOf, person, theme, tieTo } from '../journal/few';

const idsNear = (journal: Journal, seeds: Seeds, limit = 10): string[] =>
  nearTo(new WeaveIndex(journal), seeds, { limit }).map(({ id }) => id);

const about = (id: string, ...headings: string[]): ReturnType<typeof entry> =>
  entry(id, { text: id, ties: headings.map((heading) => tieTo(heading)) });

describe('what is near an entry', () => {
  it('shares a rare heading before a common one', () => {
    const crowd = Array.from({ length: 30 }, (_, at) => about(`crowd${at}`, 'common'));
    const rows = [
      theme('rare'),
      theme('common'),
      about('seed', 'rare', 'common'),
      about('other', 'rare'),
    ];
    const found = idsNear(journalOf(...rows, ...crowd), { entries: ['seed' as never] });
    expect(found[0]).toBe('other');
    expect(found).toContain('crowd0');
    expect(found).not.toContain('seed');
  });

  it('leaves out the headings it is tied to', () => {
    const journal = journalOf(theme('t'), about('seed', 't'), about('other', 't'));
    expect(idsNear(journal, { entries: ['seed' as never] })).toEqual(['other']);
  });

  it('may share words alone, and says which', () => {
    const journal = journalOf(
      entry('seed', { text: 'The lighthouse keeper writes letters.' }),
      entry('other', { text: 'A *lighthouse* with no letters in it' }),
      entry('far', { text: 'Bread and cheese' }),
    );
    const found = nearTo(new WeaveIndex(journal), { entries: ['seed' as never] }, { limit: 5 });
    expect(found.map(({ id }) => id)).toEqual(['other']);
    expect(found[0]?.reasons).toEqual([
      {
        code: 'shares-words',
        text: 'shares the words “letters” and “lighthouse”',
        words: ['letters', 'lighthouse'],
      },
    ]);
  });

  it('tells two forms of a word as two', () => {
    const journal = journalOf(
      entry('seed', { text: 'The universe' }),
      entry('other', { text: 'A university' }),
      entry('far', { text: 'Bread' }),
    );
    const [first] = nearTo(new WeaveIndex(journal), { entries: ['seed' as never] }, { limit: 5 });
    expect(first?.reasons[0]?.text).toBe('has “university”, beside “universe”');
  });

  it('never reads an answer, which is the leader’s', () => {
    const journal = journalOf(
      entry('seed', { text: 'The lighthouse' }),
      entry('other', { text: 'Bread', answer: 'The lighthouse' }),
    );
    expect(idsNear(journal, { entries: ['seed' as never] })).toEqual([]);
  });

  it('was used in the same meeting, which is told with its date and circle', () => {
    const question = (id: string): ReturnType<typeof entry> =>
      entry(id, { kind: 'question', text: id });
    const journal = journalOf(question('seed'), question('other'), question('prepared'));
    journal.tables.circles.set('c', { id: 'c' as never, name: 'Thursday circle' });
    journal.tables.meetings.set('m', {
      id: 'm' as never,
      circle: 'c' as never,
      on: '2024-03-14',
      items: [
        { entry: 'seed' as never, used: true },
        { entry: 'other' as never, used: true },
        { entry: 'prepared' as never, used: false },
      ],
    });
    const found = nearTo(new WeaveIndex(journal), { entries: ['seed' as never] }, { limit: 5 });
    expect(found.map(({ id }) => id)).toEqual(['other']);
    expect(found[0]?.reasons).toEqual([
      {
        code: 'asked-together',
        text: 'asked together with Thursday circle, 14 Mar 2024',
        on: '2024-03-14',
      },
    ]);
  });

  it('is by the same author in another book', () => {
    const from = (id: string, heading: string): ReturnType<typeof entry> =>
      entry(id, { text: id, ties: [tieTo(heading, { role: 'from' })] });
    const journal = journalOf(
      person('p', { name: 'Mary Shelley' }),
      book('b1', { name: 'Frankenstein', authors: ['p' as never] }),
      book('b2', { name: 'The Last Man', authors: ['p' as never] }),
      from('seed', 'b1'),
      from('other', 'b2'),
    );
    const found = nearTo(new WeaveIndex(journal), { entries: ['seed' as never] }, { limit: 8 });
    expect(found.find(({ id }) => id === 'other')?.reasons.map(({ text }) => text)).toEqual([
      'tied to The Last Man, by Mary Shelley like Frankenstein',
    ]);
    expect(found.find(({ id }) => id === 'p')?.reasons[0]?.text).toBe('wrote Frankenstein');
  });

  it('is varied: five entries of one chapter do not keep the rest out', () => {
    const place = { chapter: '13' };
    const chapter = Array.from({ length: 6 }, (_, at) =>
      entry(`same${at}`, {
        text: 'storm',
        ties: [tieTo('b', { role: 'from', place }), tieTo('t')],
      }),
    );
    const others = Array.from({ length: 3 }, (_, at) => about(`other${at}`, 't'));
    const journal = journalOf(book('b'), theme('t'), ...chapter, ...others);
    const found = idsNear(journal, { entries: ['same0' as never] }, 5);
    expect(found.filter((id) => id.startsWith('same')).length).toBeLessThanOrEqual(3);
    expect(found.filter((id) => id.startsWith('other')).length).toBeGreaterThanOrEqual(2);
  });
});

describe('what is near a heading or some words', () => {
  const journal = journalOf(
    theme('fear', { name: 'Fear' }),
    theme('courage', { name: 'Courage', broader: ['virtue' as never] }),
    theme('virtue', { name: 'Virtue' }),
    about('one', 'courage', 'fear'),
    about('two', 'courage', 'fear'),
    about('three', 'fear'),
    entry('words', { text: 'A virtue of sorts' }),
  );

  it('is what is tied to it, then what goes with it', () => {
    const found = nearTo(new WeaveIndex(journal), { headings: ['courage' as never] }, { limit: 8 });
    expect(
      found
        .slice(0, 2)
        .map(({ id }) => id)
        .sort(),
    ).toEqual(['one', 'two']);
    expect(found.find(({ id }) => id === 'three')?.reasons[0]?.text).toBe(
      'tied to Fear, which goes with Courage in 2 entries',
    );
    expect(found.find(({ id }) => id === 'virtue')?.reasons[0]?.text).toBe('broader than Courage');
  });

  it('has the words, and headings named by them', () => {
    const found = nearTo(new WeaveIndex(journal), { text: 'virtue' }, { limit: 8 });
    expect(found.map(({ id }) => id).sort()).toEqual(['virtue', 'words']);
  });

  it('is tied to a heading that the words name', () => {
    const found = nearTo(new WeaveIndex(journal), { text: 'What is courage?' }, { limit: 8 });
    const reasons = found.map(({ id, reasons: [first] }) => [id, first?.text]);
    expect(reasons).toContainEqual(['one', 'tied to theme Courage']);
    expect(reasons).toContainEqual(['courage', 'the word “Courage” in its name']);
  });

  it('takes scores of another search into account', () => {
    const words = (): ReadonlyMap<string, number> => new Map([['words', 3]]);
    const found = nearTo(new WeaveIndex(journal), { text: 'virtues' }, { limit: 8, words });
    expect(found[0]).toMatchObject({ id: 'words', score: 1 });
  });

  it('is nothing for nothing, unknown ids and no room', () => {
    expect(idsNear(journal, {})).toEqual([]);
    expect(idsNear(journal, { entries: ['nobody' as never], headings: ['none' as never] })).toEqual(
      [],
    );
    expect(idsNear(journal, { text: 'virtue' }, 0)).toEqual([]);
  });
});
