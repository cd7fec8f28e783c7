import { expect, test } from 'vitest';
import { pageSaid } from '../../../src/language/page-said';

test('one page is p., a span of pages pp. with a dash', () => {
  expect(pageSaid('61')).toBe('p. 61');
  expect(pageSaid('xii')).toBe('p. xii');
  expect(pageSaid('61f')).toBe('p. 61f');
  expect(pageSaid('12-14')).toBe('pp. 12–14');
  expect(pageSaid('12 – 14')).toBe('pp. 12–14');
  expect(pageSaid('12 to 14')).toBe('pp. 12–14');
  expect(pageSaid('xii-xiv')).toBe('pp. xii–xiv');
  expect(pageSaid('12-14, 20')).toBe('pp. 12–14, 20');
});

test('what says already that it is a page does not say it twice', () => {
  for (const typed of ['p. 12', 'p 12', 'p.12', 'P. 12', 'page 12', 'pg. 12'])
    expect(pageSaid(typed), typed).toBe('p. 12');
  for (const typed of ['pp. 12-14', 'p. 12–14', 'pages 12 to 14'])
    expect(pageSaid(typed), typed).toBe('pp. 12–14');
  expect(pageSaid('pp. 12, 14')).toBe('pp. 12, 14');
  expect(pageSaid('p. xii')).toBe('p. xii');
});

test('other words of a place are left as they are', () => {
  expect(pageSaid('plate 3')).toBe('p. plate 3');
  expect(pageSaid('Ps. 12')).toBe('p. Ps. 12');
  expect(pageSaid('loc. 1204')).toBe('p. loc. 1204');
  expect(pageSaid('back-cover')).toBe('p. back-cover');
});

test('pages may be told in whole words', () => {
  expect(pageSaid('61', 'long')).toBe('page 61');
  expect(pageSaid('p. 12-14', 'long')).toBe('pages 12–14');
});
