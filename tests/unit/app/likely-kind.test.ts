import { expect, test } from 'vitest';
import { kindsByName } from '../../../src/app/parts/likely-kind';

test('a new name is offered first as what it looks like', () => {
  const first = (name: string): string => kindsByName(name)[0]!;
  for (const title of [
    'Wind in the Willows',
    'The Hobbit',
    'Anne of Green Gables',
    'A Christmas Carol',
  ])
    expect(first(title), title).toBe('book');
  for (const person of ['Mary Lennox', 'Frances Hodgson Burnett', 'L. M. Montgomery'])
    expect(first(person), person).toBe('person');
  for (const theme of [
    'courage',
    'Courage',
    'Wishes and what they cost',
    'learning to read',
    'the sea',
    '',
  ])
    expect(first(theme), theme).toBe('theme');
  expect(new Set(kindsByName('Mary Lennox'))).toEqual(new Set(['theme', 'book', 'person']));
});
