import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { challengeAnswer } from '../../../src/engine/reading';
import type { HeadingId, ListId, PromptRule } from '../../../src/journal/records';
import { allFacts, factsOf } from '../../../src/reading/book-facts';
import { meets } from '../../../src/reading/rules';
import { at, book, challenge, entry, journalOf, person, reading, theme } from './few';

const around = at('2025-11-06');
const shelley = person('shelley', 'Mary Shelley', { roles: ['author'] });
const leGuin = person('leguin', 'Ursula K. Le Guin', { roles: ['author'] });

describe('what a rule asks for', () => {
  const journal = journalOf({
    headings: [
      shelley,
      leGuin,
      theme('home', 'Home'),
      theme('hearth', 'The hearth', ['home']),
      person('victor', 'Victor', { books: ['f' as HeadingId] }),
      book('f', 'The Frankenstein', {
        authors: [shelley.id],
        published: '1818',
        pages: 280,
        language: 'en',
      }),
      book('e', 'A Wizard of Earthsea', { authors: [leGuin.id], published: '1968' }),
      book('n', '1984', { published: '1949~' }),
      book('t', 'Tales', { published: '1835/1872' }),
      book('v', 'Die Verwandlung', { language: 'de', published: '191X' }),
    ],
    entries: [entry('one', ['f', 'hearth'])],
  });
  const verdict = (id: string, rule: PromptRule, how = reading('r', id, '2025-03-01')): string => {
    const facts = allFacts(journal).get(id as HeadingId)!;
    const meant = (): ReadonlySet<HeadingId> => new Set([rule.is as HeadingId]);
    return meets(rule, facts, how, meant).meets;
  };

  test.each([
    ['f', { by: 'title-letter', is: 'F' }, 'yes'],
    ['f', { by: 'title-letter', is: 't' }, 'no'],
    ['e', { by: 'title-letter', is: 'w' }, 'yes'],
    ['v', { by: 'title-letter', is: 'V' }, 'yes'],
    ['n', { by: 'title-letter', is: '0–9' }, 'yes'],
    ['f', { by: 'author-letter', is: 's' }, 'yes'],
    ['e', { by: 'author-letter', is: 'L' }, 'yes'],
    ['n', { by: 'author-letter', is: 'O' }, 'maybe'],
    ['f', { by: 'theme', is: 'hearth' }, 'yes'],
    ['f', { by: 'theme', is: 'home' }, 'yes'],
    ['e', { by: 'theme', is: 'home' }, 'no'],
    ['f', { by: 'person', is: 'victor' }, 'yes'],
    ['f', { by: 'author', is: 'shelley' }, 'yes'],
    ['e', { by: 'author', is: 'shelley' }, 'no'],
    ['e', { by: 'book', is: 'e' }, 'yes'],
    ['f', { by: 'pages', atLeast: 280 }, 'yes'],
    ['f', { by: 'pages', atMost: 279 }, 'no'],
    ['e', { by: 'pages', atLeast: 1 }, 'maybe'],
    ['f', { by: 'decade', is: '1810' }, 'yes'],
    ['f', { by: 'decade', is: '1820s' }, 'no'],
    ['n', { by: 'decade', is: '194X' }, 'yes'],
    ['t', { by: 'decade', is: '1830' }, 'yes'],
    ['t', { by: 'decade', is: '1870' }, 'no'],
    ['v', { by: 'decade', is: '1910' }, 'yes'],
    ['v', { by: 'published', from: '1914', to: '1918' }, 'maybe'],
    ['e', { by: 'published', from: '1960' }, 'yes'],
    ['v', { by: 'language', is: 'de' }, 'yes'],
    ['v', { by: 'language', is: 'not en' }, 'yes'],
    ['f', { by: 'language', is: 'not en' }, 'no'],
    ['e', { by: 'language', is: 'en' }, 'maybe'],
    ['f', { by: 'form', is: 'by ear' }, 'no'],
    ['f', { by: 'form', is: 'print' }, 'yes'],
    ['f', { by: 'finished', from: '2025-03' }, 'yes'],
    ['f', { by: 'finished', is: '2025-04' }, 'no'],
    ['f', { by: 'rating', atLeast: 4 }, 'maybe'],
    ['f', { by: 'free', readings: ['r'] }, 'yes'],
    ['f', { by: 'free', readings: ['other'] }, 'no'],
  ] as [string, PromptRule, string][])('%s under %j: %s', (id, rule, expected) => {
    expect(verdict(id, rule)).toBe(expected);
  });

  test('people of a book are its authors, its characters and those some entry names with it', () => {
    const facts = factsOf(journal, journal.tables.headings.get('f') as never);
    expect([...facts.people].sort()).toEqual(['shelley', 'victor']);
  });
});

describe('a challenge', () => {
  const books = ['A', 'B', 'C', 'D', 'E'].map((letter) =>
    book(`b${letter}`, `${letter}tale`, { pages: 100, published: '1900' }),
  );

  test('one book, one square: the best there is, and the trade’s greedy example filled whole', () => {
    // The trade's B58: B1 {A, B}, B2 {A}, B3 {A, C}, B4 {D}, B5 {D}.
    const readings = [1, 2, 3, 4, 5].map((n) =>
      reading(`r${n}`, `b${'ABCDE'[n - 1]}`, `2025-0${n}-01`),
    );
    const pick = (...ids: number[]): PromptRule => ({
      by: 'free',
      readings: ids.map((n) => readings[n - 1]!.id),
    });
    const journal = journalOf({ headings: books, readings });
    const asked = challenge([pick(1, 2, 3), pick(1), pick(3), pick(4, 5)]);
    const answer = challengeAnswer({ journal, around }, asked);
    expect(answer).toMatchObject({ met: 4, of: 4, inHand: 0 });
    expect(answer.prompts.map((prompt) => prompt.reading)).toEqual(['r2', 'r1', 'r3', 'r4']);
    expect(answer.pace.said).toBe('All 4 are met.');
  });

  test('a book serves as often as the challenge says', () => {
    const journal = journalOf({ headings: books, readings: [reading('r', 'bA', '2025-02')] });
    const rules: PromptRule[] = [
      { by: 'title-letter', is: 'a' },
      { by: 'decade', is: '1900' },
      { by: 'pages', atLeast: 100 },
    ];
    const met = (perBook: number | 'any'): number =>
      challengeAnswer({ journal, around }, challenge(rules, { perBook })).met;
    expect([met(1), met(2), met('any')]).toEqual([1, 2, 3]);
  });

  test('only what was surely finished within it counts, and the rest is named', () => {
    const journal = journalOf({
      headings: books,
      readings: [
        reading('late', 'bA', '2026-01-03'),
        reading('vague', 'bB', '2024/2025'),
        reading('put down', 'bC', '2025-05-01', { abandoned: true }),
      ],
    });
    const answer = challengeAnswer(
      { journal, around },
      challenge(['a', 'b', 'c'].map((is) => ({ by: 'title-letter', is }))),
    );
    expect(answer.met).toBe(0);
    expect(answer.prompts[0]?.why).toContain('Atale would do, but it was finished outside');
    expect(answer.prompts[1]?.why).toContain('Btale would do, but the day it was finished');
    expect(answer.prompts[2]?.why).toBe(
      'No book finished from 1 Jan 2025 to 31 Dec 2025 has a title that files under C.',
    );
  });

  test('when too many prompts ask for too few books, the ones that contend are named', () => {
    const journal = journalOf({ headings: books, readings: [reading('r', 'bA', '2025-02-01')] });
    const answer = challengeAnswer(
      { journal, around },
      challenge([
        { by: 'title-letter', is: 'a' },
        { by: 'pages', atLeast: 100 },
      ]),
    );
    expect(answer.met).toBe(1);
    const open = answer.prompts.find(({ state }) => state === 'open')!;
    expect(open.why).toMatch(/^Only Atale would do, and it meets “Prompt \d” already/);
  });

  test('an unread book of a list that would meet it is offered, also by freeing another', () => {
    const journal = journalOf({
      headings: books,
      readings: [reading('r', 'bA', '2025-02-01')],
      lists: [{ id: 'l' as ListId, name: 'To read', books: ['bB' as HeadingId] }],
    });
    const answer = challengeAnswer(
      { journal, around },
      challenge([
        { by: 'title-letter', is: 'a', id: 'a' },
        { by: 'pages', atLeast: 100, id: 'long' },
      ]),
    );
    // Only one is met by A book; Btale would do for the long one, directly or by freeing Atale for the letter.
    const open = answer.prompts.find(({ state }) => state === 'open')!;
    expect(open.wouldMeet[0]).toMatchObject({ book: 'bB', lists: ['To read'] });
    const direct = open.id === 'long';
    expect(open.wouldMeet[0]?.through).toBe(direct ? undefined : 'long');
  });

  test('a book in hand is hatched in where a finished one does not do, and never takes its place', () => {
    const journal = journalOf({
      headings: books,
      readings: [
        reading('done', 'bA', '2025-02-01'),
        reading('hand', 'bB', undefined, { started: '2025-11-01' }),
      ],
    });
    const rules: PromptRule[] = [
      { by: 'pages', atLeast: 100 },
      { by: 'title-letter', is: 'b' },
      { by: 'title-letter', is: 'a' },
    ];
    const answer = challengeAnswer({ journal, around }, challenge(rules));
    expect(answer).toMatchObject({ met: 1, inHand: 1 });
    const inHand = answer.prompts.find(({ state }) => state === 'in-hand');
    expect(inHand?.book).toBe('bB');
    expect(inHand?.why).toMatch(/^Btale is in hand and would meet it when finished/);
    expect(answer.prompts.find(({ state }) => state === 'met')?.book).toBe('bA');
  });

  test('the readings finished first are used, so that a later one takes no place away', () => {
    const readings = ['A', 'B', 'C'].map((letter, n) =>
      reading(`r${letter}`, `b${letter}`, `2025-0${3 - n}-01`),
    );
    const rule: PromptRule = { by: 'pages', atLeast: 100 };
    const journal = journalOf({ headings: books, readings });
    const answer = challengeAnswer({ journal, around }, challenge([rule, rule]));
    expect(answer.prompts.map(({ reading: used }) => used).sort()).toEqual(['rB', 'rC']);
  });

  test('pages in all are summed over the stretch they name', () => {
    const journal = journalOf({
      headings: books,
      readings: [
        reading('r1', 'bA', '2025-01-20', { pages: 250 }),
        reading('r2', 'bB', '2025-01-30'),
        reading('r3', 'bC', '2025-02-01'),
      ],
    });
    const january = (atLeast: number): PromptRule => ({
      by: 'pages-in-all',
      from: '2025-01',
      to: '2025-01',
      atLeast,
    });
    const answer = challengeAnswer({ journal, around }, challenge([january(350), january(351)]));
    expect(answer.prompts.map(({ state, pages }) => [state, pages?.read])).toEqual([
      ['met', 350],
      ['open', 350],
    ]);
    expect(answer.prompts[1]?.why).toBe('350 of 351 pages are finished; 1 to go.');
    const why = (rule: PromptRule): string | undefined =>
      challengeAnswer({ journal, around }, challenge([rule])).prompts[0]?.why;
    expect(why({ by: 'pages-in-all', atLeast: 7300 })).toMatch(
      /^450 of 7,300 pages are finished; 6,850 to go\.$/,
    );
    expect(why({ by: 'pages-in-all', atLeast: 100, atMost: 400 })).toBe(
      '450 pages are finished; at most 400 are asked for.',
    );
  });

  test('one prompt that is met is not told as many', () => {
    const journal = journalOf({ headings: books, readings: [reading('r1', 'bA', '2025-01-20')] });
    const rules: PromptRule[] = [{ by: 'title-letter', is: 'a' }];
    expect(challengeAnswer({ journal, around }, challenge(rules)).pace.said).toBe('It is met.');
  });

  test('the pace is that of the days gone by', () => {
    const journal = journalOf({ headings: books, readings: [reading('r1', 'bA', '2025-01-20')] });
    const rules: PromptRule[] = [
      { by: 'title-letter', is: 'a' },
      { by: 'title-letter', is: 'q' },
    ];
    const { pace } = challengeAnswer({ journal, around }, challenge(rules));
    // 6 November to 31 December are 56 days; 1 January to 6 November are 310.
    expect(pace).toMatchObject({ daysLeft: 56, needEvery: 56, soFarEvery: 310 });
    expect(pace.said).toBe(
      'Eight weeks left; the pace so far is one every ten months, one every eight weeks would finish it.',
    );
  });

  test('whatever is asked, met prompts have a reading that does and no book serves too often', () => {
    const rule = fc.oneof(
      fc.record<PromptRule>({
        by: fc.constant('title-letter'),
        is: fc.constantFrom('a', 'b', 'c'),
      }),
      fc.record<PromptRule>({ by: fc.constant('pages'), atLeast: fc.nat(200) }),
      fc.record<PromptRule>({ by: fc.constant('form'), is: fc.constantFrom('print', 'audio') }),
    );
    const readings = fc.array(
      fc.record({
        book: fc.constantFrom('bA', 'bB', 'bC', 'bD'),
        finished: fc.option(fc.constantFrom('2025-01-02', '2025-06', '2024', '2025'), {
          nil: undefined,
        }),
        form: fc.constantFrom<('print' | 'audio')[]>('print', 'audio'),
      }),
      { maxLength: 6 },
    );
    fc.assert(
      fc.property(
        fc.array(rule, { maxLength: 5 }),
        readings,
        fc.integer({ min: 1, max: 2 }),
        (rules, made, perBook) => {
          const rows = made.map((each, n) =>
            reading(`r${n}`, each.book, each.finished, { form: each.form, started: '2025-01-01' }),
          );
          const journal = journalOf({ headings: books, readings: rows });
          const answer = challengeAnswer({ journal, around }, challenge(rules, { perBook }));
          const used = new Map<string, number>();
          for (const prompt of answer.prompts) {
            if (prompt.state === 'open') {
              expect(prompt.reading).toBeUndefined();
              expect(prompt.why).toMatch(/\.$/);
              continue;
            }
            const row = rows.find(({ id }) => id === prompt.reading)!;
            const facts = allFacts(journal).get(row.book)!;
            expect(meets(prompt.rule, facts, row, () => new Set()).meets).toBe('yes');
            expect(row.finished !== undefined).toBe(prompt.state === 'met');
            used.set(row.book, (used.get(row.book) ?? 0) + 1);
          }
          for (const count of used.values()) expect(count).toBeLessThanOrEqual(perBook);
          expect(answer.met).toBe(answer.prompts.filter(({ state }) => state === 'met').length);
        },
      ),
    );
  });
});

describe('what comes too late', () => {
  const journal = journalOf({
    headings: [book('b', 'Beta'), book('c', 'Beacon')],
    readings: [reading('r', 'b', undefined, { started: '2025-10-01' })],
  });
  const asked = (rule: PromptRule, time: { from: string; to: string }): unknown => {
    const [prompt] = challengeAnswer({ journal, around }, challenge([rule], time)).prompts;
    return [prompt?.state, prompt?.wouldMeet.map(({ book: id }) => id)];
  };
  const LETTER: PromptRule = { by: 'title-letter', is: 'B' };

  test('a book in hand meets no prompt of a challenge that is over', () => {
    expect(asked(LETTER, { from: '2025', to: '2025' })).toEqual(['in-hand', ['c']]);
    expect(asked(LETTER, { from: '2025', to: '2025-11-05' })).toEqual(['open', []]);
  });

  test('nor one for a time that is over, for which no book is offered either', () => {
    const time = { from: '2025', to: '2025' };
    expect(asked({ by: 'finished', is: '2025-21' }, time)).toEqual(['open', []]);
    expect(asked({ by: 'finished', to: '2025-11-06' }, time)).toEqual(['in-hand', ['c']]);
  });
});
