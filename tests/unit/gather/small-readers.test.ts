import { strToU8 } from 'fflate';
import { describe, expect, test } from 'vitest';
import type { ReadWhole } from '../../../src/gather/block';
import { readFile } from '../../../src/gather/read-file';

async function whole(path: string, text: string): Promise<ReadWhole> {
  for await (const { result } of readFile({ path, bytes: strToU8(text) })) {
    if (result.ok) return result;
    throw new Error(result.message);
  }
  throw new Error('nothing was read');
}

test('a remark set in HTML comes as its words, one set plain to the letter', async () => {
  const remark = (value: string, format?: string): object => ({
    type: 'Annotation',
    body: { type: 'TextualBody', value, ...(format ? { format } : {}) },
    target: { source: { title: 'Heidi' }, selector: { type: 'TextQuoteSelector', exact: 'home' } },
  });
  const read = await whole(
    'remarks.jsonld',
    JSON.stringify([
      remark('<p>Lovely &amp; <em>true</em></p><p>So it is.</p><script>x()</script>', 'text/html'),
      remark('a <b> c', 'text/plain'),
    ]),
  );
  const remarks = read.blocks.filter(({ as }) => as === 'paragraph');
  expect(remarks.map(({ text }) => text)).toEqual(['Lovely & *true*  \nSo it is.', 'a \\<b> c']);
});

test('a line broken as word processors break it, by a vertical tab, is text', async () => {
  const read = await whole('verse.txt', 'Nothing gold\vcan stay.\n');
  expect(read.blocks.map(({ text }) => text)).toEqual(['Nothing gold can stay.']);
});

describe('keywords of a list of books', () => {
  const books = async (path: string, text: string): Promise<unknown[]> =>
    ((await whole(path, text)).books ?? []).map(({ list, note }) => [list, note]);
  const bib = (...keywords: string[]): string =>
    keywords
      .map((each, at) => `@book{k${at}, title={Book ${at}}, note={Read}, keywords={${each}}}\n`)
      .join('');
  const ris = (...keywords: string[][]): string =>
    keywords
      .map((each, at) =>
        [
          'TY  - BOOK',
          `TI  - Book ${at}`,
          ...each.map((word) => `KW  - ${word}`),
          'ER  - ',
          '',
        ].join('\n'),
      )
      .join('');

  test('name the list it stands on where no book has several', async () => {
    expect(await books('b.bib', bib('To be read', 'Autumn term'))).toEqual([
      ['To be read', 'Read'],
      ['Autumn term', 'Read'],
    ]);
    expect(await books('b.ris', ris(['To be read'], []))).toEqual([
      ['To be read', undefined],
      [undefined, undefined],
    ]);
  });

  test('are its subjects where one has several, and stand in its note', async () => {
    expect(await books('b.bib', bib('home, mountains; goats', 'home'))).toEqual([
      [undefined, 'Read Keywords: home, mountains, goats.'],
      [undefined, 'Read Keywords: home.'],
    ]);
    expect(await books('b.ris', ris(['home', 'mountains']))).toEqual([
      [undefined, 'Keywords: home, mountains.'],
    ]);
  });
});

describe('a message in the form mail is sent in', () => {
  const MESSAGE = [
    'Return-Path: <ruth@example.org>',
    'Received: from mx.example.org by x with ESMTP id 1;',
    '        Tue, 4 Mar 2014 10:00:00 +0000',
    'From: Ruth Alder <ruth@example.org>',
    'Subject: =?UTF-8?Q?Heidi_=E2=80=93_questions?=',
    'MIME-Version: 1.0',
    'Content-Transfer-Encoding: quoted-printable',
    '',
    'Why does Heidi sleepwalk in Fra=',
    'nkfurt?',
  ].join('\r\n');

  test.each([
    ['by its name', 'letter.eml', 'Subject: Heidi\n\nBring cheese.\n'],
    ['by its beginning', 'letter.txt', MESSAGE],
    ['in a box of many', 'Inbox', `From ruth@example.org Tue Mar  4 10:00:00 2014\n${MESSAGE}`],
  ])('is refused with what to do instead, told %s', async (_, path, text) => {
    for await (const { result } of readFile({ path, bytes: strToU8(text) })) {
      expect(result).toMatchObject({ ok: false, code: 'unknown-format' });
      expect(result.ok ? '' : result.message).toMatch(/save it as text or HTML/);
    }
    expect.assertions(2);
  });

  test('is read where it was saved as text', async () => {
    const text = 'From: Ruth\nTo: Mary\nSubject: Heidi\n\nWhy does Heidi sleepwalk?\n';
    const read = await whole('letter.txt', text);
    expect(read.blocks.at(-1)?.text).toBe('Why does Heidi sleepwalk?');
  });
});
