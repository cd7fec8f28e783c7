import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { FindHit, Why } from '../../../src/find/answer';
import { printOf } from '../../../src/find/documents';
import { FindIndex } from '../../../src/find/find-index';
import { holdsPhrase } from '../../../src/find/query';
import type { BookHeading, Entry, HeadingId, Journal, Place } from '../../../src/journal/records';
import { plainText } from '../../../src/language/markdown';
import { stem } from '../../../src/language/stem';
import { STOP_WORDS, tokens } from '../../../src/language/tokens';
import { SOME_WORDS, entryWith, journalOf, someJournal, tiedTo } from './small-journal';

const NOW = '2026-01-05T12:00:00.000Z';
const MANY = 1000;

const words = (text: string | undefined): string[] =>
  tokens(text ?? '').map((token) => token.folded);
const namesOf = (journal: Journal, entry: Entry): string[] =>
  entry.ties.flatMap((tie) => {
    const heading = journal.tables.headings.get(tie.heading)!;
    return [heading.name, ...heading.alternates];
  });
/** Each field of an entry as its words, the way a reader would see them. */
const fieldsOf = (journal: Journal, entry: Entry): Record<Why['field'], string[]> => ({
  text: words(plainText(entry.text)),
  title: words(entry.title),
  answer: words(plainText(entry.answer ?? '')),
  probes: words(
    [...(entry.probes ?? []), entry.lesson?.objective, entry.lesson?.preparation].join('\n'),
  ),
  picture: words(entry.picture?.alt),
  source: words(entry.source?.note),
  heading: namesOf(journal, entry).flatMap(words),
});
const totalOf = (journal: Journal, text: string, more: object = {}): number =>
  new FindIndex(journal).find({ text, ...more }, NOW).total;

const typed = fc
  .array(fc.constantFrom(...SOME_WORDS, 'bravery', 'stomr', 'fear'), { minLength: 1, maxLength: 3 })
  .map((list) => list.join(' '));

describe('what finding promises, on any journal', () => {
  test('a phrase never brings an entry without it in its title or in its text, side by side', () => {
    fc.assert(
      fc.property(
        someJournal,
        fc.array(fc.constantFrom(...SOME_WORDS), { minLength: 1, maxLength: 3 }),
        (journal, run) => {
          const phrase = run.flatMap(words);
          const found = new FindIndex(journal).find(
            { text: `“${run.join(' ')}”`, limit: MANY },
            NOW,
          );
          const expected = [...journal.tables.entries.values()]
            .filter((entry) => {
              const { text, title } = fieldsOf(journal, entry);
              return holdsPhrase(text, phrase) || holdsPhrase(title, phrase);
            })
            .map(({ id }) => id);
          expect(found.hits.map(({ id }) => id).sort()).toEqual(expected.sort());
        },
      ),
      { numRuns: 300 },
    );
  });

  test('a minus never brings an entry that holds the word in any field', () => {
    fc.assert(
      fc.property(someJournal, typed, fc.constantFrom(...SOME_WORDS), (journal, text, not) => {
        const found = new FindIndex(journal).find({ text: `${text} -${not}`, limit: MANY }, NOW);
        const [folded] = words(not);
        for (const { id } of found.hits) {
          const fields = fieldsOf(journal, journal.tables.entries.get(id)!);
          for (const held of Object.values(fields)) expect(held).not.toContain(folded);
        }
      }),
      { numRuns: 200 },
    );
  });

  test('marks lie on whole words that answer what was typed, in order and never over one another', () => {
    fc.assert(
      fc.property(someJournal, typed, fc.boolean(), (journal, text, typing) => {
        const found = new FindIndex(journal).find({ text, typing, limit: MANY }, NOW);
        for (const hit of found.hits) {
          const shown = plainText(journal.tables.entries.get(hit.id)!.text);
          const whole = new Map(tokens(shown).map((token) => [token.start, token.end]));
          let last = -1;
          for (const [start, end] of hit.marks) {
            expect(start).toBeGreaterThan(last);
            expect(whole.get(start)).toBe(end);
            const [word] = words(shown.slice(start, end));
            expect(hit.why.some((why) => why.field === 'text' && words(why.word)[0] === word)).toBe(
              true,
            );
            last = end - 1;
          }
        }
      }),
      { numRuns: 200 },
    );
  });

  test('every hit says why, and every reason is true', () => {
    const rank: Record<Why['how'], number> = {
      phrase: 0,
      word: 1,
      form: 2,
      start: 2,
      typo: 3,
      heading: 4,
      related: 5,
    };
    fc.assert(
      fc.property(someJournal, typed, fc.boolean(), (journal, text, typing) => {
        const found = new FindIndex(journal).find({ text, typing, limit: MANY }, NOW);
        const asked = words(text);
        for (const hit of found.hits) {
          const entry = journal.tables.entries.get(hit.id)!;
          const fields = fieldsOf(journal, entry);
          expect(hit.why.length).toBeGreaterThan(0);
          const order = hit.why.map(({ how }) => rank[how]);
          expect(order).toEqual([...order].sort((a, b) => a - b));
          for (const { how, word, of, field } of hit.why) {
            if (how === 'heading' || how === 'related') {
              expect(namesOf(journal, entry)).toContain(word);
              continue;
            }
            const [folded] = words(word);
            expect(fields[field]).toContain(folded);
            if (how === 'word') expect(asked).toContain(folded);
            if (how !== 'word') expect(asked).toContain(of);
            if (how === 'form') expect(stem(folded!)).toBe(stem(of!));
            if (how === 'start') expect(folded!.startsWith(of!)).toBe(true);
          }
        }
      }),
      { numRuns: 300 },
    );
  });

  test('entries that hold every word stand before those only related', () => {
    const holdsAll = (journal: Journal, hit: FindHit, asked: string[]): boolean => {
      const held = Object.values(fieldsOf(journal, journal.tables.entries.get(hit.id)!)).flat();
      return asked.every((word) => held.includes(word));
    };
    fc.assert(
      fc.property(
        someJournal,
        fc.constantFrom('courage', 'bravery', 'storm courage', 'bravery garden', 'fear'),
        (journal, text) => {
          const found = new FindIndex(journal).find({ text, limit: MANY }, NOW);
          const asked = words(text);
          const onlyRelated = found.hits.map(
            (hit) =>
              hit.why.every(({ how }) => how === 'related') && !holdsAll(journal, hit, asked),
          );
          const first = onlyRelated.indexOf(true);
          if (first < 0) return;
          for (const hit of found.hits.slice(first))
            expect(holdsAll(journal, hit, asked)).toBe(false);
        },
      ),
      { numRuns: 200 },
    );
  });

  test('only my words brings no entry that lacks one of them', () => {
    fc.assert(
      fc.property(someJournal, typed, (journal, text) => {
        const found = new FindIndex(journal).find({ text, onlyMyWords: true, limit: MANY }, NOW);
        expect(found.alsoLookedFor).toEqual([]);
        const asked = words(text).filter((word) => !STOP_WORDS.has(word));
        for (const { id } of found.hits) {
          const held = Object.values(fieldsOf(journal, journal.tables.entries.get(id)!)).flat();
          for (const word of asked) expect(held).toContain(word);
        }
      }),
      { numRuns: 200 },
    );
  });

  test('what is told to be found without a word is found when it is left out', () => {
    fc.assert(
      fc.property(
        someJournal,
        typed,
        fc.constantFrom('', ' "river sea"', ' -storm'),
        (journal, text, more) => {
          const index = new FindIndex(journal);
          const asked = `zzqqx ${text}${more}`;
          const found = index.find({ text: asked, onlyMyWords: true }, NOW);
          expect(found.total).toBe(0);
          const without = index.find({ text: `${text}${more}`, onlyMyWords: true }, NOW).total;
          for (const one of found.loosen)
            if (one.word === 'zzqqx') {
              expect(one.without).toBe(without);
              const left = index.find({ text: one.text, onlyMyWords: true }, NOW).total;
              expect(left).toBe(without);
            }
        },
      ),
      { numRuns: 200 },
    );
  });

  test('an order and a page of answers are parts of one whole', () => {
    fc.assert(
      fc.property(
        someJournal,
        fc.constantFrom('', 'storm', 'courage'),
        fc.constantFrom('nearest', 'written', 'added', 'place'),
        fc.nat({ max: 12 }),
        (journal, text, order, offset) => {
          const index = new FindIndex(journal);
          const query = { text, order } as const;
          const all = index.find({ ...query, limit: MANY }, NOW).hits.map(({ id }) => id);
          const page = index.find({ ...query, offset, limit: 3 }, NOW);
          expect(page.hits.map(({ id }) => id)).toEqual(all.slice(offset, offset + 3));
          expect(page.total).toBe(all.length);
        },
      ),
      { numRuns: 100 },
    );
  });
});

describe('words that are hard to find by', () => {
  test('a phrase does not run from a title into the text', () => {
    const journal = journalOf([entryWith(1, { title: 'The storm', text: 'and rain came' })]);
    expect(totalOf(journal, '"storm and"')).toBe(0);
    expect(totalOf(journal, '"the storm"')).toBe(1);
    expect(totalOf(journal, '"and rain"')).toBe(1);
  });

  test('a phrase with a minus before it is not wanted', () => {
    const journal = journalOf([
      entryWith(1, { text: 'wind and rain' }),
      entryWith(2, { text: 'rain and wind' }),
    ]);
    expect(totalOf(journal, 'rain')).toBe(2);
    const found = new FindIndex(journal).find({ text: 'rain -"wind and rain"' }, NOW);
    expect(found.hits.map(({ id }) => journal.tables.entries.get(id)!.text)).toEqual([
      'rain and wind',
    ]);
  });

  test('accents and curly marks make no difference', () => {
    const journal = journalOf([entryWith(1, { text: 'Émile can’t see the “café”.' })]);
    for (const text of ['emile', 'Emile', "can't", 'can’t', 'CAFE', '"the cafe"', '“the café”'])
      expect(totalOf(journal, text, { onlyMyWords: true })).toBe(1);
  });

  test('another name of two words leads to its theme as one of one word does', () => {
    const journal = journalOf([entryWith(1, { text: 'He stood still.', ties: tiedTo(2) })]);
    expect(totalOf(journal, 'bravery')).toBe(1);
    expect(totalOf(journal, 'moral courage')).toBe(1);
    expect(totalOf(journal, 'moral courage', { onlyMyWords: true })).toBe(0);
  });

  test.each<[string, Partial<Entry>, Why['field']]>([
    ['its lesson', { kind: 'lesson', lesson: { objective: 'See that air burns' } }, 'probes'],
    ['what a lesson asks beforehand', { lesson: { preparation: 'Tell what burns' } }, 'probes'],
    ['what is due', { kind: 'assignment', lesson: { due: 'before it burns' } }, 'probes'],
    [
      'what its picture shows',
      { text: '', picture: { digest: 'd', type: 'image/png', alt: 'A barn that burns' } },
      'picture',
    ],
  ])('an entry found by %s says so', (_, more, field) => {
    const journal = journalOf([entryWith(1, { text: 'A candle.', ...more })]);
    const [hit] = new FindIndex(journal).find({ text: 'burns' }, NOW).hits;
    expect(hit).toMatchObject({ why: [{ word: 'burns', how: 'word', field }], marks: [] });
    const { lesson: _lesson, picture: _picture, ...bare } = journal.tables.entries.get(hit!.id)!;
    expect(printOf(journal, bare)).not.toBe(printOf(journal, { ...bare, ...more }));
  });

  test('what was begun and has no end may lie in any later span, and in no earlier one', () => {
    const journal = journalOf([entryWith(1, { text: 'x', written: '2012/..' })]);
    expect(totalOf(journal, '', { from: '2015' })).toBe(1);
    expect(totalOf(journal, '', { to: '2011' })).toBe(0);
    expect(totalOf(journal, '', { from: '2011', to: '2013' })).toBe(1);
  });

  test('a place is that in the book chosen, where an entry is tied to two', () => {
    const [first, second] = [tiedTo(5)[0]!, tiedTo(4)[0]!];
    const at = (n: number, other: string, own: string): Entry =>
      entryWith(n, {
        text: `entry ${n}`,
        ties: [
          { ...first, place: { chapter: other } },
          { ...second, place: { chapter: own } },
        ],
      });
    const journal = journalOf([at(1, '1', '9'), at(2, '8', '3')]);
    const index = new FindIndex(journal);
    const told = (books: HeadingId[]): string[] =>
      index
        .find({ text: '', books, order: 'place' }, NOW)
        .hits.map(({ id }) => journal.tables.entries.get(id)!.text);
    expect(told([second.heading])).toEqual(['entry 2', 'entry 1']);
    expect(told([first.heading])).toEqual(['entry 1', 'entry 2']);
  });

  test.each<[string, Place[], BookHeading['chapters']?]>([
    [
      'pages in a chapter',
      [
        { chapter: '3', page: '30' },
        { chapter: '3', page: '31' },
      ],
    ],
    ['pages in roman figures before others', [{ page: 'xii' }, { page: '9' }, { page: '12' }]],
    [
      'chapters of names by their pages',
      [{ chapter: 'Why', page: '9' }, { page: '12' }, { chapter: 'Who', page: '97' }],
    ],
    [
      'chapters in roman figures',
      [
        { chapter: 'II', page: '20' },
        { chapter: 'IV', page: '4' },
      ],
    ],
    ['pages alone after chapters', [{ chapter: '40' }, { page: '33' }]],
    [
      'chapters of names as the book lists them',
      [{ chapter: 'Why' }, { chapter: '2' }, { chapter: 'Who' }],
      [{ name: 'Why' }, {}, { name: 'Who' }],
    ],
  ])('the order of places has %s', (_, places, chapters) => {
    const [tie] = tiedTo(4);
    const nth = (n: number, more: Partial<Entry>): Entry => entryWith(places.length - n, more);
    // Their ids the other way round, and nowhere in the book before anywhere.
    const journal = journalOf([
      ...places.map((place, n) => nth(n, { ties: [{ ...tie!, place }] })).reverse(),
      entryWith(0, { ties: [tie!] }),
    ]);
    const index = new FindIndex(journal);
    // What was made ready for an order is not gone by once the book is another.
    index.find({ text: '', order: 'place' }, NOW);
    const book = { ...(journal.tables.headings.get(tie!.heading) as BookHeading), chapters };
    journal.tables.headings.set(book.id, book as BookHeading);
    index.putHeading(book as BookHeading);
    const found = index.find({ text: '', order: 'place' }, NOW);
    expect(found.hits.map(({ id }) => id)).toEqual([
      ...places.map((_place, n) => nth(n, {}).id),
      entryWith(0, {}).id,
    ]);
  });

  test('an entry tied to a book twice stands at the first of its places', () => {
    const [tie] = tiedTo(4);
    const at = (...pages: string[]): Entry['ties'] =>
      pages.map((page) => ({ ...tie!, place: { chapter: '3', page } }));
    const journal = journalOf([
      entryWith(1, { ties: at('30') }),
      entryWith(2, { ties: at('45', '9') }),
    ]);
    const found = new FindIndex(journal).find({ text: '', order: 'place' }, NOW);
    expect(found.hits.map(({ id }) => id)).toEqual([entryWith(2, {}).id, entryWith(1, {}).id]);
  });

  test('two books of one name are not mingled', () => {
    const [one, other] = [tiedTo(4)[0]!, tiedTo(5)[0]!];
    const at = (n: number, tie: Entry['ties'][number], chapter: string): Entry =>
      entryWith(n, { ties: [{ ...tie, place: { chapter } }] });
    const journal = journalOf([at(1, one, '1'), at(2, other, '2'), at(3, one, '3')]);
    const { headings } = journal.tables;
    headings.set(other.heading, {
      ...headings.get(other.heading)!,
      name: headings.get(one.heading)!.name,
    });
    const found = new FindIndex(journal).find({ text: '', order: 'place' }, NOW);
    expect(found.hits.map(({ id }) => id)).toEqual([1, 3, 2].map((n) => entryWith(n, {}).id));
  });

  test('a word of two parts is left out as the two side by side', () => {
    const journal = journalOf([
      entryWith(1, { text: 'a well-worn tale' }),
      entryWith(2, { text: 'a tale told well' }),
    ]);
    const found = new FindIndex(journal).find({ text: 'tale -well-worn' }, NOW);
    expect(found.hits.map(({ id }) => id)).toEqual([entryWith(2, {}).id]);
  });

  test('many words that nothing holds are answered as fast as a few', () => {
    const journal = journalOf([entryWith(1, { text: 'storm' })]);
    const index = new FindIndex(journal);
    let asked = 0;
    const find = index.find.bind(index);
    index.find = (query, now) => {
      asked += 1;
      if (asked > 100) throw new Error('asked itself more than 100 times');
      return find(query, now);
    };
    const text = Array.from({ length: 12 }, (_, n) => `qqz${'xvjw'[n % 4]}${n}kk`).join(' ');
    expect(index.find({ text }, NOW).total).toBe(0);
    expect(asked).toBeLessThan(20);
  });
});
