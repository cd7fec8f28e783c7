/**
 * The PDF of a guide read back by Poppler (pdftotext, pdfinfo, pdffonts), visibly skipped where it is
 * absent. Paper sizes: ISO 216 A4 is 210 by 297 mm (595.28 by 841.89 points); ANSI A, "Letter", is
 * 8.5 by 11 in (612 by 792 points). Tagged PDF, /Lang and outlines: ISO 32000-1, 14.7 to 14.9 and 12.3.3.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { citerOf } from '../../src/publish/cite-forms';
import { guideDocument, type GuideDocument } from '../../src/publish/document';
import { toPdf, type PdfHow } from '../../src/publish/pdf/pdf';
import { douglass } from '../unit/publish/douglass';
import { allFaces, usualFaces } from '../unit/publish/faces-on-disk';
import { bare, handoutWords, leaderWords } from '../unit/publish/words-of';

const folders = (process.env['PATH'] ?? '').split(path.delimiter);
const has = (name: string): boolean => folders.some((dir) => existsSync(path.join(dir, name)));
const able = ['pdftotext', 'pdfinfo', 'pdffonts'].every(has);

const made = new Date('2025-11-01T12:00:00Z');
const fonts = usualFaces();
let folder = '';

async function print(doc: GuideDocument, how: Partial<PdfHow> = {}): Promise<string> {
  const pdf = await toPdf(doc, { copy: 'leader', paper: 'A4', fonts, made, ...how });
  const file = path.join(folder, `${how.copy ?? 'leader'}.pdf`);
  writeFileSync(file, pdf.bytes);
  return file;
}

const run = (tool: string, ...args: string[]): string =>
  execFileSync(tool, args, { encoding: 'utf8', maxBuffer: 1 << 26 });

/** The text in the order it was written, without the feet of the pages. */
function read(file: string, doc: GuideDocument): string {
  const foot = [doc.circle, 'Leader’s copy', doc.day].filter(Boolean);
  const isFoot = (line: string): boolean =>
    foot.some((one) => line.startsWith(one!)) || /^\d+ of \d+/.test(line);
  return run('pdftotext', '-raw', file, '-')
    .split('\f')
    .map((page) => {
      const lines = page.trimEnd().split('\n');
      while (lines.length > 0 && isFoot(lines.at(-1)!)) lines.pop();
      return lines.join('\n');
    })
    .join('\n');
}

describe.skipIf(!able)('a guide as PDF (needs the tools of Poppler)', () => {
  beforeAll(() => {
    folder = mkdtempSync(path.join(tmpdir(), 'pdf-'));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test.each(['usual', 'large', 'dyslexia', 'plain'] as const)(
    'holds the words of the model, all and in their order, in the preset %s',
    async (preset) => {
      const input = douglass();
      input.guide.minutes = preset === 'plain' ? 80 : 96;
      input.guide.objective = 'To see what learning costs, and who pays.';
      input.guide.note = 'Bring the *second* edition.\n\n- chairs\n- lamps';
      input.guide.spare = [
        { text: 'What would Mrs Auld say?', kind: 'question', minutes: 5, must: false },
      ];
      const entry = input.entries.get('e-ten')!;
      entry.cautions = ['heat'];
      const doc = guideDocument({ ...input, notes: new Map([['e-who', 'Went flat; too early.']]) });
      for (const paper of ['A4', 'Letter'] as const) {
        const leader = read(await print(doc, { preset, paper }), doc);
        expect(bare(leader).replaceAll('•', '')).toBe(bare(leaderWords(doc)));
        const handout = read(await print(doc, { preset, paper, copy: 'handout' }), doc);
        expect(bare(handout)).toBe(bare(handoutWords(doc)));
      }
    },
    60_000,
  );

  test.each(['mla', 'apa'] as const)(
    'holds short citations and the list of works in the form %s, on both copies',
    async (cite) => {
      const doc = guideDocument({ ...douglass(), cite: await citerOf(cite) });
      const leader = read(await print(doc), doc);
      expect(bare(leader)).toBe(bare(leaderWords(doc)));
      const handout = read(await print(doc, { copy: 'handout' }), doc);
      expect(bare(handout)).toBe(bare(handoutWords(doc)));
      expect(bare(handout)).toContain(bare(doc.sourcesHead));
    },
    60_000,
  );

  test('keeps the letters of other languages, and says which it has none for', async () => {
    const input = douglass();
    const said = 'Dvořák, Łódź, Ἰλιάς and Война и мир';
    input.entries.get('e-who')!.text = said;
    const doc = guideDocument(input);
    const file = await print(doc, { fonts: allFaces() });
    expect(bare(read(file, doc))).toContain(bare(said));
    const poor = await toPdf(doc, { copy: 'leader', paper: 'A4', fonts, made });
    expect(poor.missing.join('')).toContain('ř');
    input.entries.get('e-who')!.text = 'The character 道 is a road.';
    const other = guideDocument(input);
    const pdf = await toPdf(other, { copy: 'leader', paper: 'A4', fonts: allFaces(), made });
    expect(pdf.missing).toEqual(['道']);
    expect(read(await print(other, { fonts: allFaces() }), other)).toContain('道');
  }, 60_000);

  test('is tagged, has a language, a title and its parts as bookmarks', async () => {
    const doc = guideDocument(douglass());
    const file = await print(doc);
    const info = run('pdfinfo', file);
    expect(info).toMatch(/Tagged:\s+yes/);
    expect(info).toMatch(/Title:\s+Who is allowed to learn\?, leader’s copy/);
    expect(run('pdfinfo', '-struct-text', file)).toMatch(
      /Document\n\s+H1[^\n]*\n\s+"Who is allowed to learn\?"/,
    );
    const bytes = Buffer.from(
      (await toPdf(doc, { copy: 'leader', paper: 'A4', fonts, made })).bytes,
    ).toString('latin1');
    expect(bytes).toContain('/Lang (en-GB)');
    expect(bytes).toContain('/DisplayDocTitle true');
    for (const { name } of doc.parts) expect(bytes).toContain(`/Title (${name})`);
    const structure = run('pdfinfo', '-struct', file);
    for (const type of ['H1', 'H2', 'L', 'LI', 'Lbl', 'LBody', 'Figure'])
      expect(structure).toMatch(new RegExp(`^\\s+${type}\\b`, 'm'));
    expect(run('pdfinfo', '-struct', await print(doc, { copy: 'handout' }))).toMatch(
      /Table[^]*TR[^]*TH[^]*TD/,
    );
  }, 60_000);

  test('has every face embedded as letters', async () => {
    const lines = run('pdffonts', await print(guideDocument(douglass())))
      .split('\n')
      .slice(2)
      .filter(Boolean);
    expect(lines.length).toBeGreaterThanOrEqual(5);
    for (const line of lines) expect(line).toMatch(/CID TrueType\s+Identity-H\s+yes yes yes/);
  }, 60_000);

  test('is on A4 or Letter, the handout on one leaf', async () => {
    const doc = guideDocument(douglass());
    for (const [paper, size] of [
      ['A4', /595\.\d+ x 841\.\d+/],
      ['Letter', /612 x 792/],
    ] as const) {
      const info = run('pdfinfo', await print(doc, { paper, copy: 'handout' }));
      expect(info).toMatch(size);
      expect(info).toMatch(/Pages:\s+2\n/);
    }
  }, 60_000);

  test('never parts a head from what it heads, nor cuts an item that has room on a page', async () => {
    const input = douglass();
    const [first] = input.guide.parts;
    input.guide.parts = Array.from({ length: 14 }, (_, part) => ({
      ...first!,
      name: `Part ${part}`,
      items: Array.from({ length: 1 + (part % 3) }, (_, at) => ({
        text: `Begun ${part}.${at}. ${'A question of some length, asked at leisure. '.repeat(part % 5)}`,
        kind: 'question' as const,
        cue: `Ended ${part}.${at}.`,
        minutes: 3,
        must: false,
      })),
    }));
    const pages = run('pdftotext', '-raw', await print(guideDocument(input)), '-').split('\f');
    const pageOf = (words: string): number => pages.findIndex((page) => page.includes(words));
    input.guide.parts.forEach((part, at) => {
      expect(pageOf(`Part ${at}`)).toBe(pageOf(`Begun ${at}.0.`));
      part.items.forEach((_, item) => {
        expect(pageOf(`Begun ${at}.${item}.`)).toBeGreaterThanOrEqual(0);
        expect(pageOf(`Begun ${at}.${item}.`)).toBe(pageOf(`Ended ${at}.${item}.`));
      });
    });
  }, 60_000);

  test('goes on overleaf with an item longer than a page, and loses nothing', async () => {
    const input = douglass();
    const item = input.guide.parts[0]!.items[0]!;
    item.text = Array.from({ length: 90 }, (_, at) => `Paragraph ${at} of a long telling.`).join(
      '\n\n',
    );
    const doc = guideDocument(input);
    const file = await print(doc);
    /* Minutes and level stay beside the first lines of the item, so they come before the rest of it. */
    const side = bare('6 min Remember must stay');
    const without = (text: string): string => bare(text).replace(side, '');
    expect(without(read(file, doc))).toBe(without(leaderWords(doc)));
    expect(Number(/Pages:\s+(\d+)/.exec(run('pdfinfo', file))?.[1])).toBeGreaterThan(3);
  }, 60_000);
});

test('the same guide gives the same bytes', async () => {
  const doc = guideDocument(douglass());
  const twice = await Promise.all(
    [0, 1].map(() => toPdf(doc, { copy: 'handout', paper: 'A4', fonts, made })),
  );
  expect(Buffer.compare(Buffer.from(twice[0]!.bytes), Buffer.from(twice[1]!.bytes))).toBe(0);
}, 60_000);

test('no file is made without typefaces', async () => {
  await expect(
    toPdf(guideDocument(douglass()), { copy: 'handout', paper: 'A4', fonts: [], made }),
  ).rejects.toThrow('typefaces');
});
