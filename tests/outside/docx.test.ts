/**
 * A guide as a Word document, read back by another reader of the format (mammoth) and, where it is
 * installed, opened by LibreOffice. Elements: ECMA-376 part 1 (pStyle 17.3.1.27, numPr 17.3.1.19,
 * tblHeader 17.4.50, PAGE field 17.16.5.44).
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { strFromU8, unzipSync } from 'fflate';
import { JSDOM } from 'jsdom';
import mammoth from 'mammoth';
import { describe, expect, test } from 'vitest';
import { plainText } from '../../src/language/markdown';
import { guideDocument, handoutOf, type GuideDocument } from '../../src/publish/document';
import { toDocx, type DocxHow } from '../../src/publish/docx/docx';
import { douglass } from '../unit/publish/douglass';
import { bare } from '../unit/publish/words-of';

const made = new Date('2025-11-01T12:00:00Z');
const docx = (doc: GuideDocument, how: Partial<DocxHow> = {}): Promise<Uint8Array> =>
  toDocx(doc, { copy: 'leader', paper: 'A4', made, ...how });
const part = (bytes: Uint8Array, name: string): string => strFromU8(unzipSync(bytes)[name]!);

async function rawText(bytes: Uint8Array): Promise<string> {
  return (await mammoth.extractRawText({ buffer: Buffer.from(bytes) })).value;
}

/** Each text is found after the one before it. */
function expectInOrder(whole: string, texts: readonly string[]): void {
  let from = 0;
  for (const text of texts) {
    const at = bare(whole).indexOf(bare(text), from);
    expect(at, text).toBeGreaterThanOrEqual(from);
    from = at + bare(text).length;
  }
}

describe('a guide as a Word document', () => {
  test('holds the words of the leader’s copy in their order', async () => {
    const doc = guideDocument(douglass());
    expectInOrder(await rawText(await docx(doc)), [
      doc.title,
      plainText(doc.subtitle!),
      doc.when!,
      doc.haveReady.join(', '),
      doc.ifLate.join('; '),
      ...doc.parts.flatMap((one) => [
        `${one.name}, ${one.from} to ${one.to}`,
        one.aim!,
        ...one.items.flatMap((item) => [
          item.clock!,
          `${item.minutes} min`,
          plainText(item.text),
          ...item.cues.map(({ lead, text }) => `${lead} ${plainText(text)}`),
        ]),
      ]),
      'Minutes by level',
      ...doc.sources.map(plainText),
    ]);
  });

  test('holds the words of the handout, and no others', async () => {
    const doc = guideDocument(douglass());
    const handout = handoutOf(doc);
    const text = await rawText(await docx(doc, { copy: 'handout' }));
    expectInOrder(text, [
      handout.title,
      ...handout.passages.flatMap((one) => [plainText(one.text), plainText(one.cite!)]),
      'To talk about',
      ...handout.questions,
      'Gift and price',
      'What learning gave',
      'What it cost',
      'Douglass',
      'The Creature',
      'Ten lines',
      'Until we meet again',
      ...handout.until.map(plainText),
    ]);
    const known = bare(
      JSON.stringify(handout) + 'To talk about Until we meet again ‘’',
    ).toLowerCase();
    for (const word of text.match(/\p{L}{3,}/gu) ?? [])
      expect(known).toContain(bare(word).toLowerCase());
  });

  test('has Word’s own headings, numbered lists and repeated table heads', async () => {
    const doc = guideDocument(douglass());
    const { value } = await mammoth.convertToHtml({ buffer: Buffer.from(await docx(doc)) });
    const page = new JSDOM(value).window.document;
    const heads = [...page.querySelectorAll('h1')].map((head) => head.textContent ?? '');
    for (const { name } of doc.parts)
      expect(heads.some((head) => head.startsWith(`${name}, `))).toBe(true);
    const handout = await docx(doc, { copy: 'handout' });
    const other = new JSDOM((await mammoth.convertToHtml({ buffer: Buffer.from(handout) })).value);
    const questions = [...other.window.document.querySelectorAll('ol > li')];
    expect(questions.map((one) => one.textContent)).toEqual(handoutOf(doc).questions);
    expect(other.window.document.querySelectorAll('table tr')).toHaveLength(3);
    const xml = part(handout, 'word/document.xml');
    expect(xml).toContain('<w:pStyle w:val="Heading1"/>');
    expect(xml).toContain('<w:tblHeader/>');
  });

  test('numbers each list anew', async () => {
    const input = douglass();
    input.guide.note = '1. one\n2. two\n\nBetween.\n\n1. three\n2. four\n\n- a\n  - b';
    const { value } = await mammoth.convertToHtml({
      buffer: Buffer.from(await docx(guideDocument(input))),
    });
    expect(value).toContain('<ol><li>one</li><li>two</li></ol><p>Between.</p><ol><li>three</li>');
    expect(value).toContain('<ul><li>a<ul><li>b</li></ul></li></ul>');
    const ids = part(await docx(guideDocument(input)), 'word/document.xml').match(
      /<w:numId w:val="\d+"\/>/g,
    );
    expect(new Set(ids).size).toBe(3);
  });

  test('has page numbers in the foot, a title, a language and the paper asked for', async () => {
    const doc = guideDocument(douglass());
    const bytes = await docx(doc, { paper: 'Letter' });
    const foot = part(bytes, 'word/footer1.xml');
    expect(foot).toMatch(/PAGE[^]* of [^]*NUMPAGES/);
    expect(foot).toContain('Harbour Lane Reading Circle');
    expect(part(bytes, 'docProps/core.xml')).toContain(
      '<dc:title>Who is allowed to learn?, leader’s copy</dc:title>',
    );
    expect(part(bytes, 'docProps/core.xml')).toContain('2025-11-01T12:00:00Z');
    expect(part(bytes, 'word/styles.xml')).toContain('w:val="en-GB"');
    expect(part(bytes, 'word/document.xml')).toMatch(/<w:pgSz w:w="12240" w:h="15840"/);
    expect(part(await docx(doc), 'word/document.xml')).toMatch(/<w:pgSz w:w="11906" w:h="16838"/);
  });

  test('is well-formed whatever the words', async () => {
    const input = douglass();
    input.guide.title = 'A < B & "C" \u0000\u000B 𝔘 \uD800';
    input.entries.get('e-who')!.text =
      '<w:p/> ]]> &amp; [x](javascript:alert(1)) [y](https://a.example/?q="1"&b)';
    const files = unzipSync(await docx(guideDocument(input)));
    for (const [name, bytes] of Object.entries(files)) {
      if (!/\.(xml|rels)$/.test(name)) continue;
      const parsed = new JSDOM().window.DOMParser;
      const dom = new parsed().parseFromString(strFromU8(bytes), 'application/xml');
      expect(dom.querySelector('parsererror'), name).toBeNull();
    }
    expect(strFromU8(files['word/_rels/document.xml.rels']!)).not.toContain('javascript');
  });

  test('is the same bytes for the same guide and time', async () => {
    const doc = guideDocument(douglass());
    expect(Buffer.compare(Buffer.from(await docx(doc)), Buffer.from(await docx(doc)))).toBe(0);
  });
});

const office = (process.env['PATH'] ?? '')
  .split(path.delimiter)
  .map((dir) => path.join(dir, 'soffice'))
  .find(existsSync);

describe.skipIf(!office)('a guide opened by LibreOffice (needs soffice)', () => {
  test('has its pages, its parts and its foot', async () => {
    const folder = mkdtempSync(path.join(tmpdir(), 'docx-'));
    try {
      const doc = guideDocument(douglass());
      writeFileSync(path.join(folder, 'guide.docx'), await docx(doc));
      const profile = `-env:UserInstallation=file://${path.join(folder, 'profile')}`;
      execFileSync(
        office!,
        [
          profile,
          '--headless',
          '--convert-to',
          'txt:Text (encoded):UTF8',
          '--outdir',
          folder,
          path.join(folder, 'guide.docx'),
        ],
        { stdio: 'ignore', timeout: 110_000 },
      );
      const text = readFileSync(path.join(folder, 'guide.txt'), 'utf8');
      expectInOrder(text, [doc.title, ...doc.parts.map(({ name }) => name), 'Minutes by level']);
    } finally {
      rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
    }
  }, 120_000);
});
