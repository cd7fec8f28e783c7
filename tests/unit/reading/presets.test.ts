import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { HeadingKind, PromptRule } from '../../../src/journal/records';
import { daysFromTo } from '../../../src/reading/days';
import { decadePrompts, letterPrompts, pagesPrompts } from '../../../src/reading/presets';
import { promptsFromWords, ruleFromWords } from '../../../src/reading/prompt-words';

const nobody = (): undefined => undefined;
const named = (words: string, kind: HeadingKind): string | undefined =>
  (
    ({
      'person Jane Austen': 'austen',
      'theme courage': 'courage',
      'book Heidi': 'heidi',
    }) as Record<string, string>
  )[`${kind} ${words}`];

describe('ready-made challenges', () => {
  test('26 letters ask for each once', () => {
    const prompts = letterPrompts('author');
    expect(prompts).toHaveLength(26);
    expect(new Set(prompts.map(({ rule }) => rule.is)).size).toBe(26);
    expect(prompts[16]!.rule).toEqual({ by: 'author-letter', is: 'Q' });
  });

  test('decades are whole, both ends among them', () => {
    expect(decadePrompts(1818, 1847).map(({ rule }) => rule.is)).toEqual([
      '1810',
      '1820',
      '1830',
      '1840',
    ]);
    expect(decadePrompts(1990, 1985)).toHaveLength(2);
  });

  test('pages a day over 365 days come to 365 times as many, month by month', () => {
    const prompts = pagesPrompts(20, '2025-01-01', '2025-12-31');
    expect(prompts).toHaveLength(13);
    expect(prompts[1]!.rule).toEqual({
      by: 'pages-in-all',
      atLeast: 560,
      from: '2025-02',
      to: '2025-02',
    });
    expect(prompts.at(-1)!.rule).toEqual({ by: 'pages-in-all', atLeast: 7300 });
  });

  test('months of any stretch add up to the whole of it', () => {
    const day = fc
      .date({ min: new Date('2000-01-01'), max: new Date('2040-01-01'), noInvalidDate: true })
      .map((date) => date.toISOString().slice(0, 10));
    fc.assert(
      fc.property(day, day, fc.integer({ min: 1, max: 200 }), (a, b, perDay) => {
        const [from, to] = a < b ? [a, b] : [b, a];
        const prompts = pagesPrompts(perDay, from, to);
        const months = prompts.length > 1 ? prompts.slice(0, -1) : prompts;
        const sum = months.reduce((all, { rule }) => all + (rule.atLeast ?? 0), 0);
        expect(sum).toBe(perDay * daysFromTo(from, to));
      }),
    );
  });
});

describe('prompts from words pasted in', () => {
  test.each<[string, PromptRule]>([
    ['A book over 500 pages', { by: 'pages', atLeast: 501 }],
    ['At least 1,000 pages', { by: 'pages', atLeast: 1000 }],
    ['A book under 150 pages', { by: 'pages', atMost: 149 }],
    ['Between 200 and 300 pages', { by: 'pages', atLeast: 200, atMost: 300 }],
    ['A book published in the 1890s', { by: 'decade', is: '1890' }],
    ['Something published in 1922', { by: 'published', is: '1922' }],
    ['A book written before 1900', { by: 'published', to: '1899' }],
    ['A nineteenth-century novel', { by: 'published', from: '1801', to: '1900' }],
    ['A title beginning with Q', { by: 'title-letter', is: 'Q' }],
    ['An author whose last name starts with the letter Z', { by: 'author-letter', is: 'Z' }],
    ['An audiobook', { by: 'form', is: 'audio' }],
    ['An e-book', { by: 'form', is: 'ebook' }],
    ['A book in another language', { by: 'language', is: 'other than en' }],
    ['Something written in French', { by: 'language', is: 'fr' }],
    ['A book finished in summer 2025', { by: 'finished', is: '2025-22' }],
    ['A book by Jane Austen', { by: 'author', is: 'austen' }],
    ['A book about courage', { by: 'theme', is: 'courage' }],
    ['Re-read Heidi', { by: 'book', is: 'heidi' }],
    ['A book your friend loves', { by: 'free' }],
    ['A book with a green cover', { by: 'free' }],
    ['A book about a starting line', { by: 'free' }],
  ])('%s', (words, rule) => {
    expect(ruleFromWords(words, named)).toEqual(rule);
  });

  test('bullets, numbers and boxes fall away, and a line said twice stands once', () => {
    const prompts = promptsFromWords(
      '1. An audiobook\n☐ A classic\n\n- a CLASSIC\n[ ] 12 stories',
      nobody,
    );
    expect(prompts.map(({ text }) => text)).toEqual(['An audiobook', 'A classic', '12 stories']);
    expect(new Set(prompts.map(({ id }) => id)).size).toBe(3);
  });

  test('any words make prompts without empty texts', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 120, unit: 'grapheme' }), (words) => {
        for (const { text, id } of promptsFromWords(words, nobody)) {
          expect(text.trim()).not.toBe('');
          expect(id).not.toBe('');
        }
      }),
    );
  });
});

test('a line as long as a page is read in a moment', () => {
  const began = performance.now();
  for (const part of ['a ', 'in the ', '1 ', 'pages ', 'begin ', '- ', '[ ] '])
    ruleFromWords(part.repeat(20_000), nobody);
  promptsFromWords('- '.repeat(20_000), nobody);
  expect(performance.now() - began).toBeLessThan(5000);
});
