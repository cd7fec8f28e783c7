import { expect, test } from 'vitest';
import type { PromptRule } from '../../../src/journal/records';
import { ruleSaid } from '../../../src/reading/rule-words';

const finished = (rule: Omit<PromptRule, 'by'>): string =>
  ruleSaid({ by: 'finished', ...rule }, (is) => is).replace('was finished ', '');

test('a rule names a day, a month and a span each with its own small word', () => {
  expect(finished({ is: '2024-03-14' })).toBe('on 14 Mar 2024');
  expect(finished({ is: '2024-03' })).toBe('in Mar 2024');
  expect(finished({ is: '2024-21' })).toBe('in spring 2024');
  expect(finished({ is: '1890/1899' })).toBe('from 1890 to 1899');
  expect(finished({ is: '../1899' })).toBe('until 1899');
  expect(finished({ is: '1890/..' })).toBe('from 1890');
  expect(finished({ is: '../..' })).toBe('at any time');
  expect(finished({ is: '1818~' })).toBe('about 1818');
  expect(finished({ is: '1818?' })).toBe('perhaps in 1818');
  expect(finished({ is: '2024-03-14?' })).toBe('perhaps on 14 Mar 2024');
});

test('a rule with ends says them, of a span the end that counts', () => {
  expect(finished({ from: '2026-03-01' })).toBe('on 1 Mar 2026 or later');
  expect(finished({ from: '2026-03' })).toBe('in Mar 2026 or later');
  expect(finished({ to: '1899' })).toBe('in 1899 or before');
  expect(finished({ to: '2026-03-01' })).toBe('on 1 Mar 2026 or before');
  expect(finished({ from: '1890', to: '1899' })).toBe('from 1890 to 1899');
  expect(finished({ from: '2025-02', to: '2025-02' })).toBe('in Feb 2025');
  expect(finished({ from: '1890/1895' })).toBe('in 1890 or later');
  expect(finished({ to: '1890/1895' })).toBe('in 1895 or before');
  expect(finished({ from: '1890/1899', to: '1890/1899' })).toBe('from 1890 to 1899');
  expect(finished({})).toBe('at any time');
});
