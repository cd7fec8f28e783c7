import { strToU8 } from 'fflate';
import { describe, expect, test } from 'vitest';
import type { Block } from '../../../src/gather/block';
import { readFile } from '../../../src/gather/read-file';

async function blocks(text: string): Promise<Block[]> {
  for await (const { result } of readFile({ path: 'page.html', bytes: strToU8(text) })) {
    if (result.ok) return result.blocks;
    throw new Error(result.message);
  }
  throw new Error('nothing was read');
}

const said = async (text: string): Promise<string[]> =>
  (await blocks(text)).map((block) => `${block.as} ${block.text}`);

/** As browsers save bookmarks: no element closed but folders, a folder inside a term. */
const BOOKMARKS = `<!DOCTYPE NETSCAPE-Bookmark-file-1>
<META HTTP-EQUIV="Content-Type" CONTENT="text/html; charset=UTF-8">
<TITLE>Bookmarks</TITLE>
<H1>Bookmarks</H1>
<DL><p>
    <DT><H3 ADD_DATE="1399111111">Reading</H3>
    <DL><p>
        <DT><A HREF="https://example.org/heidi" ADD_DATE="1399111112">Heidi, a guide</A>
        <DT><H3>Goats</H3>
        <DL><p>
            <DT><A HREF="https://example.org/goats">Goats of the Alps</A>
            <DD>For the morning circle
        </DL><p>
        <DT><A HREF="https://example.org/firs">Firs</A>
    </DL><p>
    <DT><A HREF="https://example.org/last">The last one</A>
</DL><p>
`;

describe('a list of terms', () => {
  test('joins a term to what is said of it', async () => {
    const page = `<dl><dt><i>Alm</i></dt><dd>a <em>high</em> pasture</dd><dt>Alp<dd><p>a mountain<p>or its meadow</dl>`;
    const [first, ...others] = await blocks(page);
    expect(first).toMatchObject({ as: 'item', text: '*Alm*: a *high* pasture' });
    expect(first?.italics?.map(([from, to]) => first.text.slice(from, to))).toEqual([
      'Alm',
      'high',
    ]);
    expect(others.map(({ text }) => text)).toEqual(['Alp: a mountain', 'or its meadow']);
  });

  test('keeps terms of which nothing is said', async () => {
    expect(await said('<dl><dt>Alm<dt>Alp<dd>a mountain pasture<dt>Firn</dl><p>Then</p>')).toEqual([
      'item Alm',
      'item Alp: a mountain pasture',
      'item Firn',
      'paragraph Then',
    ]);
    expect(await said('<p>One</p><dl><dt>Alm')).toEqual(['paragraph One', 'item Alm']);
  });

  test('sets a term before a list, a quotation or a table that tells of it', async () => {
    const page = `<dl><dt>Peter<dd><ul><li>herds<li>whistles</ul><dt>Clara<dd><blockquote>I can walk.</blockquote>
      <dt>Rolls<dd><table><tr><th>Day<th>Rolls<tr><td>Monday<td>two</table></dl>`;
    expect(await said(page)).toEqual([
      'item Peter: herds',
      'item whistles',
      'item Clara',
      'quote I can walk.',
      'item Rolls',
      'row Monday · two',
    ]);
  });
});

test('a term that is a heading stands under the section of its list', async () => {
  const read = await blocks('<h1>Alps</h1><h2>Words</h2><dl><dt><h3>Alm</h3><dd>a pasture</dl>');
  expect(read.at(-1)).toMatchObject({ text: 'a pasture', under: ['Alps', 'Words', 'Alm'] });
});

test('bookmarks keep their words, their addresses and their folders', async () => {
  const read = await blocks(BOOKMARKS);
  expect(read.filter(({ as }) => as === 'item').map(({ text, under }) => [text, under])).toEqual([
    ['[Heidi, a guide](https://example.org/heidi)', ['Bookmarks', 'Reading']],
    [
      '[Goats of the Alps](https://example.org/goats): For the morning circle',
      ['Bookmarks', 'Reading', 'Goats'],
    ],
    ['[Firs](https://example.org/firs)', ['Bookmarks', 'Reading']],
    ['[The last one](https://example.org/last)', ['Bookmarks']],
  ]);
});
