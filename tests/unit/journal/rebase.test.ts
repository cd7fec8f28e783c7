import { describe, expect, test } from 'vitest';
import { rebase } from '../../../src/journal/rebase';
import type { ReadingList } from '../../../src/journal/records';

const list = (books: string): ReadingList => ({ id: 'l', name: 'L', books: [...books] }) as never;
const followed = (now: string, was: string, becomes: string): string =>
  rebase<'lists'>(list(now), list(was), list(becomes)).books.join('');

describe('the order of a list', () => {
  test('is followed onto one that another book was put on meanwhile', () => {
    // Moved B above A; another window put C on; the move is taken back.
    expect(followed('BAC', 'BA', 'AB')).toBe('ABC');
    expect(followed('CBA', 'BA', 'AB')).toBe('CAB');
  });

  test('stays where only members changed', () => {
    expect(followed('BAC', 'AB', 'ABD')).toBe('BACD');
    expect(followed('CBA', 'ABC', 'AC')).toBe('CA');
  });

  test('is followed with a book put on and one taken off', () => {
    expect(followed('ABCX', 'ABC', 'CBD')).toBe('CBXD');
  });
});
