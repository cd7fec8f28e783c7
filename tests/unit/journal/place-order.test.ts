import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { comparePlaces } from '../../../src/journal/place-order';
import type { BookHeading, Place } from '../../../src/journal/records';

type Book = Pick<BookHeading, 'chapters'>;

const said = ({ chapter, page }: Place): string =>
  [chapter, page && `p. ${page}`].filter(Boolean).join(', ') || 'nowhere';

const at = (chapter: string | undefined, page?: string): Place => ({
  ...(chapter === undefined ? {} : { chapter }),
  ...(page === undefined ? {} : { page }),
});

/** The places from last to first, put in order. */
const inOrder = (places: Place[], book?: Book): string[] =>
  places
    .toReversed()
    .sort((a, b) => comparePlaces(a, b, book))
    .map(said);

describe('the order of places in a book', () => {
  test.each<[string, Place[], Book?]>([
    [
      'chapters by number, in figures of either script',
      [at('0'), at('2'), at('iii'), at('IV'), at('10')],
    ],
    ['in a chapter by page', [at('3', '30'), at('3', '31'), at('3', '45'), at('3')]],
    [
      'chapters of names no list knows and pages alone by their pages, those in roman figures first',
      [
        at(undefined, 'xii'),
        at('Why', '9'),
        at(undefined, '12'),
        at('Who', '97'),
        at('How', '150'),
      ],
    ],
    [
      'of one page what names no chapter first, then by the name',
      [at(undefined, '9'), at('Apples', '9'), at('Pears', '9')],
    ],
    [
      'chapters that are numbered before what has a page alone, then names alone, then no place',
      [at('3', '45'), at(undefined, '33'), at('The Moor'), at(undefined, 'inside the cover'), {}],
    ],
    [
      'chapters by the list of the book, whatever their pages',
      [at('Why', '97'), at('2', '9'), at('Who', '150'), at('Elsewhere', '1')],
      { chapters: [{ name: 'Why' }, { name: 'How' }, { name: 'Who' }] },
    ],
    [
      'a chapter told with the word for it by its number',
      [at('Chapter 2'), at('ch. 3: The Moor'), at('Chapter IV'), at('5'), at('chap. 10')],
    ],
    ['figures in names by what they count', [at('Letter 2'), at('Letter 10')]],
    [
      'pages told with a word for them by their figures',
      [
        at(undefined, 'p. xii'),
        at(undefined, 'pp. 9-10'),
        at(undefined, 'p30'),
        at(undefined, '31v'),
      ],
    ],
  ])('%s', (_, places, book) => {
    expect(inOrder(places, book)).toEqual(places.map(said));
  });

  test('is one order, whichever two are compared', () => {
    const some = fc.record(
      {
        chapter: fc.constantFrom('', '2', 'ii', 'Chapter 3', 'Why', 'Who', 'Letter 4'),
        page: fc.constantFrom('', '9', 'xii', 'p. 30', 'cover'),
      },
      { requiredKeys: [] },
    );
    const listed = { chapters: [{ name: 'Prologue' }, { name: 'Who' }] };
    fc.assert(
      fc.property(some, some, some, fc.constantFrom(undefined, listed), (a, b, c, book) => {
        const way = (x: Place, y: Place): number => Math.sign(comparePlaces(x, y, book));
        expect(way(a, b)).toBe(0 - way(b, a));
        if (way(a, b) <= 0 && way(b, c) <= 0) expect(way(a, c)).toBeLessThanOrEqual(0);
      }),
    );
  });
});
