import { describe, expect, test } from 'vitest';
import { plainText } from '../../../src/language/markdown';
import { flatRuns, blocksOf } from '../../../src/publish/rich';
import { blockHtml, inlineHtml } from '../../../src/publish/safe-text';

describe('a line that CommonMark would take for the definition of a link', () => {
  test.each([
    '[Nora]: Never.',
    '[Nora]: Never.\n\n[Torvald]: Always.',
    'Then:\n\n[1]: https://example.org',
  ])('is kept as it stands: %j', (text) => {
    const words = text.replace(/\s+/g, ' ');
    const html = blockHtml(text).replace(/<[^>]*>/g, '');
    const runs = blocksOf(text).flatMap(flatRuns);
    expect(html.replace(/\s+/g, ' ')).toBe(words);
    expect(runs.map((run) => run.text).join(' ')).toBe(words);
    expect(plainText(text).replace(/\s+/g, ' ')).toBe(words);
  });

  test('stands in the one paragraph of a spoken line', () => {
    expect(inlineHtml('[Nora]: Never.')).toBe('[Nora]: Never.');
  });
});
