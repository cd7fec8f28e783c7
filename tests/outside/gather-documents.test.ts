import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { Document, HeadingLevel, LevelFormat, Packer, Paragraph } from 'docx';
import { strToU8, zipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import type { Block, Gathered } from '../../src/gather/block';
import { gatherAtOnce } from '../../src/gather/gathering';
import { readFile } from '../../src/gather/read-file';
import { plainText } from '../../src/language/markdown';
import { smallJournal } from '../unit/gather/build';

const find = createRequire(import.meta.url);

async function read(path: string, bytes: Uint8Array): Promise<Gathered> {
  for await (const { result } of readFile({ path, bytes })) return result;
  throw new Error('no answer');
}

/** Of mammoth 1.13.0's own test files what its tests expect as HTML, here as the blocks that HTML is. */
describe('mammoth’s own documents', () => {
  const folder = join(dirname(find.resolve('mammoth/package.json')), 'test', 'test-data');
  const bytesOf = (name: string): Uint8Array => new Uint8Array(readFileSync(join(folder, name)));

  async function blocks(name: string): Promise<string[]> {
    const result = await read(name, bytesOf(name));
    if (!result.ok) return [result.message];
    return result.blocks.map(({ as, text }: Block) => `${as}: ${text}`);
  }

  test.each([
    ['single-paragraph.docx', ['paragraph: Walking on imported air']],
    ['utf8-bom.docx', ['paragraph: This XML has a byte order mark.']],
    ['strict-format.docx', ['paragraph: Test']],
    ['text-box.docx', ['paragraph: Datum plane']],
    ['simple-list.docx', ['item: Apple', 'item: Banana']],
    ['strikethrough.docx', ["paragraph: Today's Special: Salmon Sold out"]],
    ['underline.docx', ['title: The Sunset Tree']],
    ['embedded-style-map.docx', ['paragraph: Walking on imported air']],
    ['footnotes.docx', ['paragraph: Ouch.', 'item: A tachyon walks into a bar.', 'item: Fin.']],
    ['endnotes.docx', ['paragraph: Ouch.', 'item: A tachyon walks into a bar.', 'item: Fin.']],
    ['footnote-hyperlink.docx', ['item: [Example](http://www.example.com)']],
    [
      'comments.docx',
      [
        'paragraph: Ouch.',
        'item: Margin comment: A tachyon walks into a bar.',
        'item: Margin comment: Fin.',
      ],
    ],
    [
      'tables.docx',
      [
        'paragraph: Above',
        'row: Top left · Top right',
        'row: Bottom left · Bottom right',
        'paragraph: Below',
      ],
    ],
    ['empty.docx', ['There are no words in this file. Nothing was gathered from it.']],
    ['empty.zip', ['There is nothing in this zip.']],
  ])('%s', async (name, expected) => {
    expect(await blocks(name)).toEqual(expected);
  });

  test.each(['tiny-picture.docx', 'tiny-picture-target-base-relative.docx'])(
    '%s holds the picture that lies beside it',
    async (name) => {
      const result = await read(name, bytesOf(name));
      const picture = result.ok ? result.blocks[0]?.picture : undefined;
      expect(picture?.type).toBe('image/png');
      expect(
        Buffer.from(picture?.bytes ?? []).equals(readFileSync(join(folder, 'tiny-picture.png'))),
      ).toBe(true);
    },
  );

  test('external-picture.docx: no file outside the document is opened', async () => {
    const [told] = await blocks('external-picture.docx');
    expect(told).toMatch(/lies outside it.*left out/);
  });

  test('hello.zip holds a text', async () => {
    for await (const { path, result } of readFile({
      path: 'hello.zip',
      bytes: bytesOf('hello.zip'),
    })) {
      expect(path).toBe('hello.zip/hello');
      expect(result.ok && result.blocks.map(({ text }) => text)).toEqual(['Hello world']);
    }
  });
});

/** A day of a notebook, as somebody may have it in any program. */
const TITLE = 'The Wind in the Willows by Kenneth Grahame';
const QUESTIONS = [
  'Why does Mole leave his own house in the middle of the whitewashing?',
  'What does Rat say nothing about (ch. 2)?',
  'Would you forgive Toad the barge-woman?',
];
const NOTES = [
  'I read it aloud on the boat and nobody listened but the dog.',
  'The meadow does in one page what a sermon would not do in ten.',
];
const QUOTE = '“The Mole had been working very hard all the morning.”';

const txt = [
  TITLE, '='.repeat(TITLE.length), '', 'QUESTIONS', '', ...QUESTIONS.map((each, at) => `${at + 1}. ${each}`), '',
  'NOTES', '', NOTES[0], '', NOTES[1], '', 'QUOTATIONS', '', QUOTE, '',
].join('\n'); // prettier-ignore

const md = [
  `# ${TITLE}`, '', '## Questions', '', ...QUESTIONS.map((each, at) => `${at + 1}. ${each}`), '',
  '## Notes', '', NOTES[0], '', NOTES[1], '', '## Quotations', '', QUOTE, '',
].join('\n'); // prettier-ignore

const body = [
  `<h1>${TITLE}</h1><h2>Questions</h2><ol>`, ...QUESTIONS.map((each) => `<li>${each}</li>`), '</ol><h2>Notes</h2>',
  ...NOTES.map((each) => `<p>${each}</p>`), `<h2>Quotations</h2><p>${QUOTE}</p>`,
].join('\n'); // prettier-ignore
const html = `<!doctype html><html><head><meta charset="utf-8"><title>n</title></head><body>${body}</body></html>`;

const rtfText = (text: string): string =>
  text.replace(/[^\u0000-\u007f]/gu, (letter) => `\\u${letter.charCodeAt(0)}?`);
const rtf = `{\\rtf1\\ansi\\ansicpg1252\\deff0{\\fonttbl{\\f0 Times;}}
${[
  ...[[TITLE, 0], ['Questions', 1]].map(([text, level]) => `\\pard\\outlinelevel${level} ${text}\\par`),
  ...QUESTIONS.map((each, at) => `\\pard ${at + 1}. ${rtfText(each)}\\par`),
  '\\pard\\outlinelevel1 Notes\\par', ...NOTES.map((each) => `\\pard ${rtfText(each)}\\par`),
  '\\pard\\outlinelevel1 Quotations\\par', `\\pard ${rtfText(QUOTE)}\\par`,
].join('\n')}}`; // prettier-ignore

const odtBody = [
  `<text:h text:outline-level="1">${TITLE}</text:h><text:h text:outline-level="2">Questions</text:h><text:list>`,
  ...QUESTIONS.map((each) => `<text:list-item><text:p>${each}</text:p></text:list-item>`),
  '</text:list><text:h text:outline-level="2">Notes</text:h>', ...NOTES.map((each) => `<text:p>${each}</text:p>`),
  `<text:h text:outline-level="2">Quotations</text:h><text:p>${QUOTE}</text:p>`,
].join(''); // prettier-ignore
const odt = (): Uint8Array =>
  zipSync({
    mimetype: [strToU8('application/vnd.oasis.opendocument.text'), { level: 0 }],
    'content.xml': strToU8(
      `<?xml version="1.0" encoding="UTF-8"?><office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" office:version="1.3"><office:body><office:text>${odtBody}</office:text></office:body></office:document-content>`,
    ),
  });

async function docx(): Promise<Uint8Array> {
  const heading = (
    text: string,
    level: (typeof HeadingLevel)[keyof typeof HeadingLevel],
  ): Paragraph => new Paragraph({ text, heading: level });
  const numbered = {
    reference: 'n',
    levels: [{ level: 0, format: LevelFormat.DECIMAL, text: '%1.' }],
  };
  const children = [
    heading(TITLE, HeadingLevel.HEADING_1),
    heading('Questions', HeadingLevel.HEADING_2),
    ...QUESTIONS.map((text) => new Paragraph({ text, numbering: { reference: 'n', level: 0 } })),
    heading('Notes', HeadingLevel.HEADING_2),
    ...NOTES.map((text) => new Paragraph({ text })),
    heading('Quotations', HeadingLevel.HEADING_2),
    new Paragraph({ text: QUOTE }),
  ];
  const document = new Document({ numbering: { config: [numbered] }, sections: [{ children }] });
  return new Uint8Array(await Packer.toBuffer(document));
}

describe('one text in six formats', () => {
  async function pieces(path: string, bytes: Uint8Array): Promise<unknown[]> {
    const result = await read(path, bytes);
    const made = gatherAtOnce(smallJournal(), [{ path, digest: 'd'.repeat(64), result }]);
    return made.pieces.map(({ kind, certainty, text, title, ties, answer }) => ({
      kind,
      certainty,
      text: plainText(text),
      title,
      answer,
      // The name of a file is the one thing the six do not share.
      ties: ties.map(({ rule: _, ...tie }) => tie),
    }));
  }

  test('gives the same pieces: kinds, words, ties and places', async () => {
    const all = new Map<string, unknown[]>();
    all.set('txt', await pieces('day.txt', strToU8(txt)));
    all.set('md', await pieces('day.md', strToU8(md)));
    all.set('html', await pieces('day.html', strToU8(html)));
    all.set('rtf', await pieces('day.rtf', strToU8(rtf)));
    all.set('odt', await pieces('day.odt', odt()));
    all.set('docx', await pieces('day.docx', await docx()));
    const plain = all.get('txt') as {
      kind: string;
      text: string;
      ties: { name: string; place?: unknown }[];
    }[];
    expect(plain.map(({ kind, text }) => [kind, text])).toEqual([
      ...QUESTIONS.map((each) => ['question', each]),
      ...NOTES.map((each) => ['note', each]),
      ['quote', QUOTE],
    ]);
    expect(plain[1]?.ties).toMatchObject([
      { name: 'The Wind in the Willows', certainty: 'sure', place: { chapter: '2' } },
    ]);
    for (const [format, made] of all) expect(made, format).toEqual(plain);
  });

  test('once with its letters in Windows-1252 and once in UTF-16 as in UTF-8', async () => {
    const plain = await pieces('day.txt', strToU8(txt));
    const wide = new Uint8Array(Buffer.from(`\ufeff${txt}`, 'utf16le'));
    expect(await pieces('day.txt', wide)).toEqual(plain);
    const older = txt.replace(/“/g, '\u0093').replace(/”/g, '\u0094');
    expect(await pieces('day.txt', new Uint8Array(Buffer.from(older, 'latin1')))).toEqual(plain);
  });
});
