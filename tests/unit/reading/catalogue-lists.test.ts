import { describe, expect, test } from 'vitest';
import type { HeadingId } from '../../../src/journal/records';
import { factsOf } from '../../../src/reading/book-facts';
import { catalogue, rowFrom, type CatalogueRow } from '../../../src/reading/catalogue';
import { planList, type ListedBook } from '../../../src/reading/list-plan';
import { spanOf } from '../../../src/reading/readings';
import { book, entry, journalOf, person, reading, theme } from './few';

const journal = journalOf({
  headings: [
    person('shelley', 'Mary Shelley'),
    person('verne', 'Jules Verne'),
    theme('home', 'Home'),
    book('frankenstein', 'Frankenstein', {
      authors: ['shelley' as HeadingId],
      pages: 280,
      published: '1818',
    }),
    book('eighty', 'Around the World in Eighty Days', {
      authors: ['verne' as HeadingId],
      pages: 252,
      published: '1872',
    }),
    book('mystery', 'The Unknown Book'),
    book('abandoned', 'A Dull One', { pages: 900 }),
  ],
  entries: [entry('e1', ['frankenstein', 'home']), entry('e2', ['frankenstein'])],
  readings: [
    reading('r1', 'frankenstein', '2019-05-02', { rating: 4 }),
    reading('r2', 'frankenstein', '2025-10-18', { rating: 4.5, form: 'audio' }),
    reading('r3', 'eighty', undefined, { started: '2025-11' }),
    reading('r4', 'abandoned', '2024', { abandoned: true }),
  ],
});

const rows = [...journal.tables.headings.values()].flatMap((heading): CatalogueRow[] => {
  if (heading.kind !== 'book') return [];
  const of = [...journal.tables.readings.values()].filter((each) => each.book === heading.id);
  const facts = factsOf(journal, heading);
  const author = facts.authors.map(({ name }) => name).join(' ');
  const more = {
    author,
    entries: heading.id === 'frankenstein' ? 2 : 0,
    used: heading.id === 'frankenstein' ? 3 : 0,
    lists: heading.id === 'mystery' ? ['To be read'] : [],
    publishedDay: spanOf(heading.published)?.earliest ?? '',
  };
  return [rowFrom(facts, of, more, '09-01')];
});
const ids = (ask: Parameters<typeof catalogue>[1]): string[] =>
  catalogue(rows, ask).map(({ id }) => id);

describe('the catalogue', () => {
  test('files titles without their articles', () => {
    expect(ids({})).toEqual(['eighty', 'abandoned', 'frankenstein', 'mystery']);
  });

  test('puts what is not known last, whichever way it is sorted', () => {
    expect(ids({ order: 'published' })).toEqual(['frankenstein', 'eighty', 'abandoned', 'mystery']);
    expect(ids({ order: 'published', back: true })).toEqual([
      'eighty',
      'frankenstein',
      'abandoned',
      'mystery',
    ]);
    expect(ids({ order: 'author' }).slice(0, 2)).toEqual(['frankenstein', 'eighty']);
  });

  test('begins with the most pages, the newest reading, the best rating', () => {
    expect(ids({ order: 'pages' })).toEqual(['abandoned', 'frankenstein', 'eighty', 'mystery']);
    expect(ids({ order: 'read' })[0]).toBe('eighty');
    expect(ids({ order: 'rating' })[0]).toBe('frankenstein');
    expect(ids({ order: 'used' })[0]).toBe('frankenstein');
  });

  test('tells read, in hand, put down and not read apart', () => {
    expect(ids({ state: 'read' })).toEqual(['frankenstein']);
    expect(ids({ state: 'in-hand' })).toEqual(['eighty']);
    expect(ids({ state: 'put-down' })).toEqual(['abandoned']);
    expect(ids({ state: 'unread' })).toEqual(['mystery']);
  });

  test('narrows by year, school year, form, theme, list, pages, rating and use', () => {
    expect(ids({ year: 2019 })).toEqual(['frankenstein']);
    expect(ids({ year: 2024 })).toEqual([]);
    expect(ids({ school: '2018/19' })).toEqual(['frankenstein']);
    expect(ids({ form: 'audio' })).toEqual(['frankenstein']);
    expect(ids({ theme: 'home' as HeadingId })).toEqual(['frankenstein']);
    expect(ids({ list: 'To be read' })).toEqual(['mystery']);
    expect(ids({ pagesFrom: 253, pagesTo: 300 })).toEqual(['frankenstein']);
    expect(ids({ ratingFrom: 4.5 })).toEqual(['frankenstein']);
    expect(ids({ ratingFrom: 5 })).toEqual([]);
    expect(ids({ use: 'used' })).toEqual(['frankenstein']);
  });

  test('finds words by their beginnings, in titles and in names', () => {
    expect(ids({ words: 'eight da' })).toEqual(['eighty']);
    expect(ids({ words: 'VERNE' })).toEqual(['eighty']);
    expect(ids({ words: 'ranken' })).toEqual([]);
  });

  test('takes the rating of the newest rated reading and counts the times finished', () => {
    const row = rows.find(({ id }) => id === 'frankenstein');
    expect(row).toMatchObject({ rating: 4.5, times: 2, years: [2025, 2019] });
  });
});

const listed = (id: string, pages?: number, more: Partial<ListedBook> = {}): ListedBook => ({
  id: id as HeadingId,
  read: false,
  filing: id,
  authorFiling: '',
  publishedDay: '',
  ...(pages === undefined ? {} : { pages }),
  ...more,
});

describe('a list against time', () => {
  const books = [listed('c', 100), listed('a', 300, { read: true }), listed('b')];

  test('counts what is left, and takes an unknown length for the middle one', () => {
    const plan = planList({ books, today: '2025-11-06' });
    expect(plan.left).toEqual({ books: 2, pages: 300, guessed: 1 });
    expect(plan.guess).toBe(200);
    expect(plan.when.size).toBe(0);
  });

  test('says how many pages a day the last day asks for, free days left out', () => {
    // 6 to 15 November 2025 are ten days; Saturday 8 and 15 and Sunday 9 are free.
    const free = { weekdays: [6, 7] };
    const plan = planList({ books, today: '2025-11-06', finishBy: '2025-11-15', free });
    expect(plan).toMatchObject({ days: 7, need: 43, perDay: 43 });
    expect(plan.ends).toBe('2025-11-14');
    expect(plan.when.get('c' as HeadingId)).toEqual({ from: '2025-11-06', to: '2025-11-10' });
  });

  test('says when a pace of one’s own ends, and how late', () => {
    const plan = planList({ books, today: '2025-11-06', finishBy: '2025-11-15', perDay: 25 });
    expect(plan.ends).toBe('2025-11-17');
    expect(plan.said).toContain('2 days late');
  });

  test('a day gone by asks for nothing and promises nothing', () => {
    const plan = planList({ books, today: '2025-11-06', finishBy: '2025-11-01' });
    expect(plan.need).toBeUndefined();
    expect(plan.said).toContain('has gone by');
  });

  test('computed orders keep what is not known for the end', () => {
    const order = (order: 'title' | 'shortest' | 'longest'): string[] =>
      planList({ books, today: '2025-11-06', order }).order;
    expect(order('title')).toEqual(['a', 'b', 'c']);
    expect(order('shortest')).toEqual(['c', 'a', 'b']);
    expect(order('longest')).toEqual(['a', 'c', 'b']);
  });

  test('with nothing left there is nothing to say of days', () => {
    const plan = planList({
      books: [listed('a', 10, { read: true })],
      today: '2025-11-06',
      perDay: 5,
    });
    expect(plan.left.books).toBe(0);
    expect(plan.said).toBe('Nothing is left to read on it.');
  });
});
