/** Dates in the fields of the reading place. */
import { expect, test } from 'vitest';
import { stretchSaid } from '../../../src/app/read/days';
import { readAs } from '../../../src/app/read/read-as';
import { endsOf } from '../../../src/app/read/rule-words';

test('what a typed date is read as stands under its field, unless the words say it themselves', () => {
  expect(readAs('14/3/14')).toBe('14 March 2014');
  expect(readAs(' 2014-21 ')).toBe('spring 2014');
  expect(readAs('14 Mar 2014')).toBe('14 March 2014');
  for (const same of ['', '14 March 2014', 'Spring 2014', '2014', 'about 2012', 'last Tuesday'])
    expect(readAs(same), same).toBe('');
});

test('the two dates a rule goes between: those it names, or those of the span it holds', () => {
  expect(endsOf({ by: 'published', from: '1801', to: '1900' })).toEqual({
    from: '1801',
    to: '1900',
  });
  expect(endsOf({ by: 'published', from: '1801' })).toEqual({ from: '1801', to: '' });
  expect(endsOf({ by: 'published', is: '1890/1899' })).toEqual({ from: '1890', to: '1899' });
  expect(endsOf({ by: 'published', is: '../1899' })).toEqual({ from: '', to: '1899' });
  expect(endsOf({ by: 'published', is: '1890/..' })).toEqual({ from: '1890', to: '' });
  expect(endsOf({ by: 'finished', is: '2025-22' })).toEqual({ from: '2025-22', to: '2025-22' });
  expect(endsOf({ by: 'finished' })).toEqual({ from: '', to: '' });
});

test('the days of a month a book was open are told as far as they are in it', () => {
  const piece = { from: 1, to: 30, before: false, after: false, abandoned: false };
  expect(stretchSaid({ ...piece, from: 5, to: 9 })).toBe('5 to 9');
  expect(stretchSaid({ ...piece, from: 5, to: 5, end: 5 })).toBe('5, finished');
  expect(stretchSaid({ ...piece, before: true, to: 5, end: 5, abandoned: true })).toBe(
    'until 5, put down',
  );
  expect(stretchSaid({ ...piece, from: 5, after: true })).toBe('from 5 on');
  expect(stretchSaid({ ...piece, before: true, after: true })).toBe('all month');
});
