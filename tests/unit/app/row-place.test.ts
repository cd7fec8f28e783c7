/** The book and place a found row shows: of several, the one it was looked for or stands in order by. */
import { expect, test } from 'vitest';
import { shownBook } from '../../../src/app/find/row-place';
import type { TieSaid } from '../../../src/engine/answers';
import type { HeadingId } from '../../../src/journal/records';

const id = (name: string): HeadingId => name as HeadingId;
const tie = (name: string, page?: string, kind: TieSaid['kind'] = 'book'): TieSaid => ({
  heading: id(name),
  name,
  kind,
  role: 'from',
  by: 'reader',
  ...(page ? { place: { page } } : {}),
});

test('two places of one book are one book', () => {
  const ties = [tie('Heidi', '3'), tie('Heidi', '9')];
  expect(shownBook(ties, [])).toEqual({ name: 'Heidi', place: 'p. 3' });
});

test('other books are told by how many they are', () => {
  const ties = [tie('Heidi', '3'), tie('Heidi', '9'), tie('Emma', '5'), tie('Home', '', 'theme')];
  expect(shownBook(ties, [])).toEqual({ name: 'Heidi', place: 'p. 3, and 1 more' });
});

test('the book that was chosen to narrow by is the one that is shown, at its own place', () => {
  const ties = [tie('Heidi', '3'), tie('Emma', '8'), tie('Emma', '5')];
  expect(shownBook(ties, [id('Emma')])).toEqual({ name: 'Emma', place: 'p. 5, and 1 more' });
  expect(shownBook(ties, [id('Ulysses')])).toEqual({ name: 'Heidi', place: 'p. 3, and 1 more' });
});

test('an entry of no book shows none', () => {
  expect(shownBook([tie('Home', '', 'theme')], [])).toEqual({ place: '' });
});
