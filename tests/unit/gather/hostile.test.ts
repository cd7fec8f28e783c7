import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { gatherAtOnce } from '../../../src/gather/gathering';
import { block, file, smallJournal } from './build';

/** Long runs of what patterns look for, which a careless pattern would go back over again and again. */
const RUNS: [string, string][] = [
  ['one letter', 'a'.repeat(200_000)],
  ['capitals', 'Aa '.repeat(60_000)],
  ['opening marks', '“'.repeat(100_000)],
  ['apostrophes', "'a ".repeat(60_000)],
  ['dashes', '— A '.repeat(50_000)],
  ['question marks', 'Why? '.repeat(40_000)],
  ['spaces', `a${' '.repeat(200_000)}b`],
  ['pages', 'p. 1, '.repeat(40_000)],
  ['dates', '14 March 2014 '.repeat(15_000)],
  ['titles by somebody', '“A Title” by A. A. '.repeat(12_000)],
  ['initials', 'A. '.repeat(60_000)],
  ['small words', 'The of the and to '.repeat(12_000)],
  ['lines', 'A line\n'.repeat(30_000)],
  ['brackets', '('.repeat(100_000)],
  ['commas', 'a, '.repeat(60_000)],
  ['a known name', 'The Wind in the Willows '.repeat(8_000)],
];

describe('texts made to be slow', () => {
  test.each(RUNS)('%s are sorted within seconds', (_, text) => {
    const began = performance.now();
    const made = gatherAtOnce(smallJournal(), [
      file('a.txt', [block(text), block('I read it twice.')]),
    ]);
    expect(made.pieces).toHaveLength(2);
    expect(performance.now() - began).toBeLessThan(5000);
  });

  test.each(RUNS)('%s as a heading and as the name of a file', (_, text) => {
    const began = performance.now();
    const under = [text];
    gatherAtOnce(smallJournal(), [
      file(`${text.slice(0, 5000)}.txt`, [
        block(text, { as: 'heading', level: 1 }),
        block('Words.', { under }),
      ]),
    ]);
    expect(performance.now() - began).toBeLessThan(5000);
  });
});

test('whatever the blocks, every paragraph of more than a title is in some piece and nothing throws', () => {
  const word = fc.constantFrom(
    'Why',
    'the',
    'river',
    '“so',
    'done”',
    '—',
    'Emma',
    'p. 3',
    '2014',
    'Questions:',
    '?',
    '*',
    '__proto__',
    '\\',
  );
  const text = fc.array(word, { minLength: 1, maxLength: 14 }).map((words) => words.join(' '));
  const as = fc.constantFrom('paragraph', 'item', 'heading', 'quote', 'title', 'row');
  fc.assert(
    fc.property(fc.array(fc.tuple(as, text), { maxLength: 12 }), (given) => {
      const under: string[] = [];
      const blocks = given.map(([kind, words]) => {
        const made = block(words, { as: kind, ...(under.length > 0 ? { under: [...under] } : {}) });
        if (kind === 'heading' || kind === 'title') under.splice(0, under.length, words);
        if (kind === 'row') made.cells = { constructor: words };
        return made;
      });
      const { pieces } = gatherAtOnce(smallJournal(), [file('x.txt', blocks)]);
      const kept = pieces.map((piece) => `${piece.text} ${piece.answer ?? ''}`).join('\n');
      for (const [kind, words] of given) {
        if (kind === 'paragraph' && words.length > 90) expect(kept).toContain(words.slice(-40));
      }
    }),
    { numRuns: 300 },
  );
});
