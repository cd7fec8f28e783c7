import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { citerOf } from '../../../src/publish/cite-forms';
import { guideDocument, handoutOf } from '../../../src/publish/document';
import { toDocx } from '../../../src/publish/docx/docx';
import { toHtml } from '../../../src/publish/html';
import { toMarkdown } from '../../../src/publish/markdown-out';
import { toText } from '../../../src/publish/text-out';
import { douglass } from './douglass';

/** Letters and signs alone: what stands between them depends on the format. */
const bare = (text: string): string =>
  text
    .replace(/<style[\s\S]*?<\/style>/g, '')
    .replace(/<[^>]*>/g, '')
    .replace(/&amp;/g, '&')
    .replace(/[\s\u00A0*\\]+/g, '');

const FORMS = [
  ['mla', '(Douglass, ch. 6)', 'Works Cited', 'Douglass, Frederick. Narrative of the Life. 1845.'],
  [
    'apa',
    '(Douglass, 1845, Chapter 6)',
    'References',
    'Douglass, F. (1845). Narrative of the Life.',
  ],
] as const;

describe.each(FORMS)('a guide with citations in %s', async (form, inText, head, work) => {
  const cite = await citerOf(form);
  const doc = guideDocument({ ...douglass(), cite });

  test.each(['leader', 'handout'] as const)(
    'has them on the %s copy in every format',
    async (copy) => {
      const made = new Date('2026-01-01T00:00:00Z');
      const files = unzipSync(await toDocx(doc, { copy, paper: 'A4', made }));
      const printed = {
        html: toHtml(doc, { copy, paper: 'A4' }),
        markdown: toMarkdown(doc, { copy }),
        text: toText(doc, { copy }),
        word: strFromU8(files['word/document.xml']!),
      };
      for (const [format, text] of Object.entries(printed)) {
        for (const words of [inText, head, work]) expect(bare(text), format).toContain(bare(words));
        expect(bare(text), format).not.toContain(
          bare('Frederick Douglass, Narrative of the Life, 1845, ch.'),
        );
      }
    },
  );

  test('names on the handout only the works of what is handed out', () => {
    const input = douglass();
    const passages = handoutOf(doc).passages.length;
    expect(handoutOf(doc).works.list).toHaveLength(new Set(doc.sources).size);
    for (const part of input.guide.parts)
      part.items = part.items.filter(
        ({ entry }) => entry === undefined || input.entries.get(entry)?.kind !== 'quote',
      );
    expect(passages).toBe(2);
    expect(handoutOf(guideDocument({ ...input, cite })).works.list).toEqual([]);
  });
});

test('plain citations name the work where they stand, and need no list on the handout', () => {
  expect(handoutOf(guideDocument(douglass())).works.list).toEqual([]);
});
