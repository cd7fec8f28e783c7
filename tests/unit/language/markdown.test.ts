import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { plainText, plainTextByParser } from '../../../src/language/markdown';

const pieces = fc
  .array(
    fc.constantFrom(
      'word',
      'Jo',
      '*',
      '**',
      '_',
      ' ',
      ' ',
      '\n',
      '\n\n',
      '.',
      '?',
      '(',
      ')',
      '“',
      '”',
      '"',
      "'",
      '3.',
      '-',
      '#',
      '>',
      '`',
      '[',
      ']',
      '](',
      '<',
      '&',
      '&amp;',
      '\\',
      '!',
      '~',
      '=',
      '1) ',
      'é',
      '—',
      ':',
      '<b>',
      '    ',
    ),
    { maxLength: 14 },
  )
  .map((parts) => parts.join(''));

describe('plain text', () => {
  test('by the quick way is what the parser gives', () => {
    fc.assert(
      fc.property(pieces, (text) => {
        expect(plainText(text)).toBe(plainTextByParser(text));
      }),
      { numRuns: 5000 },
    );
  });

  test('keeps the words of emphasis, links, pictures, lists and headings', () => {
    const text =
      '# Mercy\n\nA *quiet* [note](https://example.org "x") ![a tree](t.png)\n\n- one\n- two\n\n> said `so`';
    expect(plainText(text)).toBe('Mercy\nA quiet note a tree\none\ntwo\nsaid so');
  });

  test('of text without marks is that text, its lines tidied', () => {
    expect(plainText('Why does she stay?\n\nAnd why  \nthen?')).toBe(
      'Why does she stay?\nAnd why\nthen?',
    );
    expect(plainText('AT&T, 3 < 4, [sic], C# — #1')).toBe('AT&T, 3 < 4, [sic], C# — #1');
  });

  test('shows markup of other kinds as text and decodes what was written for a character', () => {
    expect(plainText('<b>bold</b> &amp; &lt;i&gt; &eacute;')).toBe('<b>bold</b> & <i> é');
  });

  test('reads a picture’s description and no more of it', () => {
    expect(plainText('![a "red" <door>](d.png "title")')).toBe('a "red" <door>');
  });

  test('takes no longer over texts made to be slow: runs of spaces, marks nested by the thousand', () => {
    const spaces = ' '.repeat(200_000);
    const began = performance.now();
    expect(plainText(`one${spaces}two`)).toBe(`one${spaces}two`);
    expect(plainText(`one${spaces}\n${spaces}two`)).toBe('one\ntwo');
    expect(plainText(`*one*\t${'\t'.repeat(200_000)}\ntwo`)).toBe('one\ntwo');
    expect(plainText(`${'> '.repeat(20_000)}far in`)).toBe('far in');
    expect(plainText(`${'* '.repeat(3_000)}*far* in`)).toBe('far in');
    // With the square of these lengths it was most of two minutes.
    expect(performance.now() - began).toBeLessThan(3000);
  });
});
