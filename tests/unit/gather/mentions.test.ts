import { describe, expect, test } from 'vitest';
import { KnownNames } from '../../../src/gather/known-names';
import { mentionsIn, type MentionContext } from '../../../src/gather/mentions';
import type { HeadingId } from '../../../src/journal/records';
import { smallJournal } from './build';

const names = new KnownNames(smallJournal());

function found(text: string, context?: MentionContext): string[] {
  return mentionsIn(text, names, context).map(
    ({ heading, certainty }) => `${heading.id} ${certainty}`,
  );
}

describe('mentions of known headings', () => {
  test('a title of several words is found whole, and nothing inside it', () => {
    expect(found('We began The Wind in the Willows on Sunday.')).toEqual(['willows sure']);
    expect(found('Anne of Green Gables is longer than I thought.')).toEqual(['anne sure']);
  });

  test('a possessive, an ampersand and accents do not hide a name', () => {
    expect(found('Charlotte Bronte’s letters')).toEqual(['bronte sure']);
    expect(found('a book on Truth & Stories')).toEqual(['truth likely']);
  });

  test('a title that is a first name needs a sign that the book is meant', () => {
    expect(found('Emma came to tea with her brother.')).toEqual([]);
    expect(found('I gave the key to Emma on Tuesday.')).toEqual(['emma guess']);
    expect(found('I have finished *Emma* at last.', { italics: [[16, 22]] })).toEqual([
      'emma likely',
    ]);
    expect(found('Emma, by Jane Austen, again.')).toEqual(['emma sure', 'austen sure']);
    expect(found('The proposal (Emma, ch. 15) is a comedy.')).toEqual(['emma sure']);
  });

  test('a title that is a common word is not found in running text', () => {
    expect(found('There were holes in it.')).toEqual([]);
    expect(found('It was late. Holes everywhere.')).not.toContain('holes sure');
    expect(found('We read “Holes” by Louis Sachar.')).toEqual(['holes sure']);
  });

  test('a name inside a longer word is none', () => {
    expect(found('a dilemma, a molehill and homework')).toEqual([]);
  });

  test('of a book and its heroine of one name, the surroundings choose', () => {
    expect(found('*Jane Eyre*, chapter 4', { italics: [[0, 11]] })).toEqual(['jane-eyre sure']);
    const under = { books: new Set(['jane-eyre' as HeadingId]) };
    expect(found('Jane Eyre refuses him twice.', under)).toEqual(['jane sure']);
    expect(found('Why does Jane go back?', under)).toEqual(['jane sure']);
    expect(found('I saw Jane at the library.')).toEqual(['jane guess']);
  });

  test('a character of the book in hand is surer than one of another', () => {
    const under = { books: new Set(['willows' as HeadingId]) };
    expect(found('What does Mole leave behind?', under)).toEqual(['mole sure']);
    expect(found('What does the mole leave behind?', under)).toEqual(['mole likely']);
    expect(found('a mole in the lawn')).toEqual([]);
  });

  test('a page or chapter after a title is its place', () => {
    const [mention] = mentionsIn('See The Wind in the Willows, ch. 5, p. 83.', names);
    expect(mention?.place).toEqual({ chapter: '5', page: '83' });
  });

  test('a title without its subtitle is the same book', () => {
    expect(found('reading Frankenstein, chapter 11')).toEqual(['frankenstein sure']);
  });
});

describe('names standing alone', () => {
  test('a title is known with a slip of the pen, but not by another number', () => {
    expect(names.called('book', 'Wind in the Wilows')?.heading.id).toBe('willows');
    expect(names.called('book', 'Anne of Green Gable')).toMatchObject({ slip: true });
    expect(names.called('book', 'Emmy')).toBeUndefined();
  });

  test('a person is known by the inverted name', () => {
    expect(names.called('person', 'Grahame, Kenneth')?.heading.id).toBe('grahame');
  });
});
