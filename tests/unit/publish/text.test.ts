import { describe, expect, test } from 'vitest';
import { guideDocument } from '../../../src/publish/document';
import { blocksOf, runsOf } from '../../../src/publish/rich';
import { toText } from '../../../src/publish/text-out';
import { douglass } from './douglass';

describe('plain text', () => {
  test('has the clock, the facts, the prompt and the cues, in lines of 76 letters at most', () => {
    const text = toText(guideDocument(douglass()), { copy: 'leader' });
    expect(text).toContain(
      [
        '7.06   Question, 5 min, Understand',
        '       Who taught you, and did they know they were teaching you?',
        '       Listen for: teachers who were not teachers: shop signs, hymn books,',
      ].join('\n'),
    );
    expect(Math.max(...text.split('\n').map((line) => line.length))).toBeLessThanOrEqual(76);
    expect(text).not.toMatch(/[*_]{1,2}Narrative/);
  });

  test('numbers the questions and leaves room to write', () => {
    const text = toText(guideDocument(douglass()), { copy: 'handout' });
    expect(text).toMatch(/1\. Who taught you[^]*4\. What will you teach/);
    expect(text).toContain('Douglass\n  What learning gave: ____');
    expect(text.match(/^_{60}$/gm)).toHaveLength(8);
  });
});

describe('CommonMark as a tree', () => {
  test('has lists in lists, quotations, tables and links', () => {
    expect(
      blocksOf(
        '> said\n\n2. two\n   - under\n\n| a | b |\n| --- | --- |\n| c | *d* |\n\n[x](https://a.example)',
      ),
    ).toEqual([
      { is: 'quote', blocks: [{ is: 'paragraph', runs: [{ text: 'said' }] }] },
      {
        is: 'list',
        ordered: true,
        start: 2,
        items: [
          [
            { is: 'paragraph', runs: [{ text: 'two' }] },
            {
              is: 'list',
              ordered: false,
              start: 1,
              items: [[{ is: 'paragraph', runs: [{ text: 'under' }] }]],
            },
          ],
        ],
      },
      {
        is: 'table',
        head: [[{ text: 'a' }], [{ text: 'b' }]],
        rows: [[[{ text: 'c' }], [{ text: 'd', italic: true }]]],
      },
      { is: 'paragraph', runs: [{ text: 'x', link: 'https://a.example' }] },
    ]);
  });

  test('keeps raw HTML as text and odd links as words', () => {
    expect(runsOf('<b>a</b> [b](javascript:c) ![d](e)')).toEqual([
      { text: '<b>' },
      { text: 'a' },
      { text: '</b>' },
      { text: ' ' },
      { text: 'b' },
      { text: ' ' },
      { text: 'd' },
    ]);
  });
});
