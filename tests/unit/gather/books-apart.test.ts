import { describe, expect, test } from 'vitest';
import { slipOf } from '../../../src/gather/likeness';
import { emptyJournal } from '../../../src/journal/journal';
import type { BookHeading, HeadingId, Journal } from '../../../src/journal/records';
import { NOW } from './build';
import { gathered, keep } from './from-text';

function journalOf(...titles: string[]): Journal {
  const journal = emptyJournal('j', 'Test', NOW);
  titles.forEach((name, at) => {
    const id = `book-${at}` as HeadingId;
    journal.tables.headings.set(id, { id, kind: 'book', name, alternates: [], authors: [] });
  });
  return journal;
}

const booksOf = (journal: Journal): BookHeading[] =>
  [...journal.tables.headings.values()].filter((heading) => heading.kind === 'book');

/** "Selected Poems, Robert Frost". */
const called = (journal: Journal, id: HeadingId | undefined): string => {
  const book = id && journal.tables.headings.get(id);
  const authors = book?.kind === 'book' ? book.authors : [];
  return [book?.name, ...authors.map((each) => journal.tables.headings.get(each)?.name)].join(', ');
};

const readIn = (journal: Journal): string[] =>
  [...journal.tables.readings.values()].map(
    ({ book, finished }) => `${called(journal, book)} ${finished}`,
  );

const tiedIn = (journal: Journal): string[] =>
  [...journal.tables.entries.values()].map(({ text, ties }) => {
    const books = ties.filter(
      ({ heading }) => journal.tables.headings.get(heading)?.kind === 'book',
    );
    return `${text} (${books.map(({ heading }) => called(journal, heading)).join('; ')})`;
  });

describe('books that a letter tells apart', () => {
  test('numbers are no slips, in figures or in Roman numerals', () => {
    expect(slipOf('richard ii', 'richard iii')).toBe(false);
    expect(slipOf('henry vi part ii', 'henry vi part iii')).toBe(false);
    expect(slipOf('henry iv part 1', 'henry iv part 2')).toBe(false);
    expect(slipOf('wuthering heights', 'wuthering hieghts')).toBe(true);
    expect(slipOf('the civil war diaries', 'the civl war diaries')).toBe(true);
  });

  test('a list of books means what it says', async () => {
    const journal = journalOf();
    const list =
      'Title,Author,Finished\nRichard II,William Shakespeare,2013\nRichard III,William Shakespeare,2014\nRamona the Pest,Beverly Cleary,2015\nRamona the Best,Somebody Else,2016\nRamona the Beast,Beverly Cleary,2017\n';
    keep(journal, await gathered(journal, { 'b.csv': list }));
    expect(readIn(journal)).toEqual([
      'Richard II, William Shakespeare 2013',
      'Richard III, William Shakespeare 2014',
      'Ramona the Pest, Beverly Cleary 2015',
      'Ramona the Best, Somebody Else 2016',
      'Ramona the Beast, Beverly Cleary 2017',
    ]);
    expect(keep(journal, await gathered(journal, { 'b.csv': list })).edit.changes).toEqual([]);
  });

  test('a heading of the next number is no heading of this one', async () => {
    const journal = journalOf('Richard II');
    const notes = '# Richard III\n\n- “A horse! a horse! my kingdom for a horse!”\n';
    const { pieces } = await gathered(journal, { 'n.md': notes });
    expect(pieces[0]?.ties.map(({ heading }) => heading)).not.toContain('book-0');
  });

  test('a heading with a slip is still the book it means', async () => {
    const journal = journalOf('Wuthering Heights');
    const notes = '# Wuthering Hieghts by Emily Brontë\n\nThe moor is a person in it.\n';
    const { pieces } = await gathered(journal, { 'n.md': notes });
    expect(pieces[0]?.ties).toMatchObject([{ heading: 'book-0', certainty: 'likely' }]);
  });
});

describe('books of one name', () => {
  const FROST = 'Selected Poems, Robert Frost';
  const DICKINSON = 'Selected Poems, Emily Dickinson';

  test('are told apart by the authors beside them in a table', async () => {
    const journal = journalOf();
    const table =
      'Title,Author,Quote\nSelected Poems,Robert Frost,Nothing gold can stay\nSelected Poems,"Dickinson, Emily",Hope is the thing with feathers\n';
    keep(journal, await gathered(journal, { 'q.csv': table }));
    const both = [
      `Nothing gold can stay (${FROST})`,
      `Hope is the thing with feathers (${DICKINSON})`,
    ];
    expect(tiedIn(journal)).toEqual(both);
    const more =
      'Title,Author,Quote\nSelected Poems,Emily Dickinson,Because I could not stop\nSelected Poems,R. Frost,Good fences\nSelected Poems,Frost,The road\n';
    keep(journal, await gathered(journal, { 'more.csv': more }));
    expect(tiedIn(journal).slice(2)).toEqual([
      `Because I could not stop (${DICKINSON})`,
      `Good fences (${FROST})`,
      `The road (${FROST})`,
    ]);
    expect(booksOf(journal)).toHaveLength(2);
  });

  test('are told apart by a heading, and by words that say who wrote them', async () => {
    const journal = journalOf();
    keep(
      journal,
      await gathered(journal, {
        'a.md': '# Selected Poems by Robert Frost\n\n- The road is a choice he makes afterwards.\n',
        'b.md':
          '# Selected Poems by Emily Dickinson\n\n- The slant of light hurts, she says.\n- In Selected Poems the dashes breathe.\n',
        'c.txt': 'I finished “Selected Poems” by Emily Dickinson on the train.\n',
      }),
    );
    expect(tiedIn(journal)).toEqual([
      `The road is a choice he makes afterwards. (${FROST})`,
      `The slant of light hurts, she says. (${DICKINSON})`,
      `In Selected Poems the dashes breathe. (${DICKINSON})`,
      `I finished “Selected Poems” by Emily Dickinson on the train. (${DICKINSON})`,
    ]);
    const again = { 'd.md': '# Selected Poems by Emily Dickinson\n\n- A fly interposes itself.\n' };
    keep(journal, await gathered(journal, again));
    expect(tiedIn(journal).at(-1)).toBe(`A fly interposes itself. (${DICKINSON})`);
    expect(booksOf(journal)).toHaveLength(2);
  });

  test('a book of which nobody said who wrote it is the one that is there', async () => {
    const journal = journalOf('Heidi');
    const table =
      'Title,Author,Quote\nHeidi,Johanna Spyri,I want to go home\nHeidi,Clara,You must stay\n';
    keep(journal, await gathered(journal, { 'q.csv': table }));
    expect(booksOf(journal)).toHaveLength(1);
  });

  test('who says it under a quotation is no author of another book', async () => {
    const journal = journalOf();
    keep(
      journal,
      await gathered(journal, {
        'q.txt':
          '“It is a truth universally known here.” — Elizabeth Bennet, Pride and Prejudice, p. 3\n\n“You must allow me to tell you.” — Fitzwilliam Darcy, Pride and Prejudice, p. 120\n',
      }),
    );
    expect(booksOf(journal).map(({ name }) => name)).toEqual(['Pride and Prejudice']);
  });
});
