// @vitest-environment jsdom
import fc from 'fast-check';
import { micromark } from 'micromark';
import { describe, expect, test } from 'vitest';
import { guideDocument } from '../../../src/publish/document';
import { toHtml } from '../../../src/publish/html';
import { toMarkdown } from '../../../src/publish/markdown-out';
import {
  blockHtml,
  clean,
  cssString,
  escapeHtml,
  escapeMarkdown,
  inlineHtml,
  splitTable,
} from '../../../src/publish/safe-text';
import { douglass } from './douglass';

const HOSTILE = [
  '<script>alert(1)</script>',
  '<img src=x onerror=alert(1)>',
  '"><svg onload=alert(1)>',
  '</style><script>alert(1)</script>',
  '</title><iframe src="javascript:alert(1)">',
  '[press](javascript:alert(1))',
  '[press](JaVa&#115;cript:alert(1))',
  '[press](<data:text/html,<script>alert(1)</script>>)',
  '<javascript:alert(1)>',
  '[press]\n\n[press]: javascript:alert(1)',
  '![seen](https://example.org/seen.png "x\\" onload=alert(1)")',
  '\u202Egnirts\u2066 lost',
  '```\nnever closed',
  '| a | b |\n|---|---|\n| <b onclick=alert(1)>x</b> | [y](vbscript:z) |',
  '\\";} body{background:url(https://example.org)} @import "https://example.org"; /*',
  '*/ </style> \n @page{}',
];

const hostile = fc.oneof(
  fc.constantFrom(...HOSTILE),
  fc
    .array(
      fc.constantFrom(...HOSTILE, 'plain', '\n\n', '<', '>', '&', '"', "'", '`', '](', '\u0000'),
      { maxLength: 6 },
    )
    .map((all) => all.join('')),
  fc.string({ unit: 'binary', maxLength: 40 }),
);

/** The page as a browser reads it, without running it. */
function read(html: string): Document {
  return new DOMParser().parseFromString(html, 'text/html');
}

function expectHarmless(doc: Document): void {
  expect(
    doc.querySelectorAll('script, iframe, object, embed, img, form, link, base, input'),
  ).toHaveLength(0);
  expect(doc.querySelectorAll('style')).toHaveLength(1);
  for (const element of doc.querySelectorAll('*')) {
    for (const { name, value } of element.attributes) {
      expect(name.startsWith('on'), `${element.tagName} ${name}`).toBe(false);
      if (name === 'href' && value !== '' && !value.startsWith('#')) {
        expect(value).not.toMatch(/^\s*[a-z][a-z0-9+.-]*:(?<!(https?|ircs?|mailto|xmpp):)/i);
      }
    }
  }
}

function filled(text: string): ReturnType<typeof guideDocument> {
  const input = douglass();
  for (const entry of input.entries.values()) {
    Object.assign(entry, {
      text: `${text} x`,
      title: text,
      answer: text,
      probes: [text],
      materials: [text],
    });
  }
  for (const heading of input.headings.values()) heading.name = text;
  input.guide.title = text;
  input.guide.note = text;
  if (input.circle) input.circle.name = text;
  for (const part of input.guide.parts) Object.assign(part, { name: text, aim: text });
  for (const part of input.guide.parts) for (const item of part.items) item.cue = text;
  return guideDocument({ ...input, untilNext: [text] });
}

describe('hostile words', () => {
  test('stay words in both copies of the page', () => {
    fc.assert(
      fc.property(hostile, fc.constantFrom('leader' as const, 'handout' as const), (text, copy) => {
        const html = toHtml(filled(text), { copy, paper: 'A4' });
        expectHarmless(read(html));
        expect(html).not.toMatch(/[\u202A-\u202E\u2066-\u2069]/);
      }),
      { numRuns: 50 },
    );
  }, 60_000);

  test('stay words in Markdown, even in a program that lets raw HTML and every link through', () => {
    fc.assert(
      fc.property(hostile, fc.constantFrom('leader' as const, 'handout' as const), (text, copy) => {
        const markdown = toMarkdown(filled(text), { copy });
        const html = micromark(markdown, {
          allowDangerousHtml: true,
          allowDangerousProtocol: true,
        });
        expectHarmless(read(`<style></style>${html}`));
      }),
      { numRuns: 50 },
    );
  }, 60_000);

  test('are still there to be read', () => {
    expect(blockHtml('<b>kept</b>')).toBe('<p>&lt;b&gt;kept&lt;/b&gt;</p>');
    const page = read(toHtml(filled('<script>alert(1)</script>'), { copy: 'leader', paper: 'A4' }));
    expect(page.querySelector('h1')?.textContent).toBe('<script>alert(1)</script>');
    expect(page.title).toContain('<script>alert(1)</script>');
  });

  test('cannot end the string a running foot is kept in', () => {
    fc.assert(
      fc.property(hostile, (text) => {
        expect(cssString(text)).toMatch(/^"[\p{L}\p{N} \\]*"$/u);
      }),
    );
    expect(cssString('a"}')).toBe('"a\\22 \\7d "');
  });

  test('lose turns of direction and controls, and keep letters of every script', () => {
    expect(clean('a\u202Eb\u2066c\u0000d\r\ne')).toBe('abcd\ne');
    expect(clean('שלום Ærø 花')).toBe('שלום Ærø 花');
    expect(clean('\uD800')).toBe('\uFFFD');
    expect(escapeHtml(`<&"'>`)).toBe('&lt;&amp;&quot;&#39;&gt;');
  });
});

describe('CommonMark on the page', () => {
  test('a picture becomes its description and a heading a plain line', () => {
    expect(inlineHtml('![a crack in a wall](https://example.org/a.png)')).toBe('a crack in a wall');
    expect(blockHtml('# Large')).toBe('<p class="line">Large</p>');
  });

  test('escaped plain text reads as itself', () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[!-~]{1,20}$/), (text) => {
        const page = read(micromark(escapeMarkdown(text)));
        expect(page.body.textContent.trim()).toBe(text);
      }),
    );
  });

  test('a table is cut out of the text around it', () => {
    const { table, rest } = splitTable('Before.\n\n| a | b |\n| - | - |\n| c | d |\n\nAfter.');
    expect(table).toBe('| a | b |\n| - | - |\n| c | d |');
    expect(rest).toBe('Before.\n\n\nAfter.');
    expect(splitTable('No | table\nhere')).toEqual({ rest: 'No | table\nhere' });
  });
});
