/**
 * A guide printed by a real browser and read back from the paper with pdftotext (Poppler). Skipped,
 * visibly, where either is absent. Paper sizes: ISO 216 A4 is 210 by 297 mm (595 by 842 points);
 * ANSI A, "Letter", is 8.5 by 11 in (612 by 792 points).
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { guideDocument, type GuideDocument } from '../../src/publish/document';
import { FACES } from '../../src/publish/faces';
import { toHtml, type HtmlHow } from '../../src/publish/html';
import { douglass } from '../unit/publish/douglass';

function found(...names: string[]): string | undefined {
  const folders = (process.env['PATH'] ?? '').split(path.delimiter);
  return names.flatMap((name) => folders.map((dir) => path.join(dir, name))).find(existsSync);
}

const chromium = found('chromium', 'chromium-browser', 'google-chrome');
const pdftotext = found('pdftotext');
const pdffonts = found('pdffonts');
const able = chromium && pdftotext;

let folder = '';

function print(doc: GuideDocument, how: Omit<HtmlHow, 'fonts'>): { pages: string[]; file: string } {
  const fonts = FACES.map((face) => ({
    ...face,
    base64: readFileSync(path.resolve('node_modules', face.path)).toString('base64'),
  }));
  const file = path.join(folder, `${how.copy}-${how.paper}.pdf`);
  const page = file.replace('.pdf', '.html');
  writeFileSync(page, toHtml(doc, { ...how, fonts }));
  const options = ['--headless', '--no-sandbox', '--disable-gpu', '--no-pdf-header-footer'];
  const profile = `--user-data-dir=${path.join(folder, 'profile')}`;
  execFileSync(chromium ?? '', [...options, profile, `--print-to-pdf=${file}`, `file://${page}`], {
    stdio: 'ignore',
    timeout: 90_000,
  });
  const text = execFileSync(pdftotext ?? '', ['-layout', file, '-'], { encoding: 'utf8' });
  return { pages: text.split('\f').filter((one) => one.trim()), file };
}

describe.skipIf(!able)('a guide printed by a browser (needs chromium and pdftotext)', () => {
  beforeAll(() => {
    folder = mkdtempSync(path.join(tmpdir(), 'printing-'));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true, maxRetries: 5 }));

  test('the leader’s copy has circle, page count and its name at the foot of every page', () => {
    const { pages } = print(guideDocument(douglass()), { copy: 'leader', paper: 'A4' });
    expect(pages).toHaveLength(2);
    pages.forEach((page, at) => {
      expect(page).toMatch(
        new RegExp(`Harbour Lane Reading Circle\\s+${at + 1} of 2\\s+Leader’s copy`),
      );
    });
    expect(pages[1]).toContain('Worth keeping from tonight');
  }, 120_000);

  test('the handout is one leaf on A4 and on Letter', () => {
    for (const paper of ['A4', 'Letter'] as const) {
      const { pages } = print(guideDocument(douglass()), { copy: 'handout', paper });
      expect(pages).toHaveLength(2);
      expect(pages[0]).toContain('To talk about');
      expect(pages[1]).toContain('meet again');
    }
  }, 120_000);

  test('a part’s name is never the last thing on a page, and an item is never split', () => {
    const input = douglass();
    const [first] = input.guide.parts;
    if (!first) throw new Error('the fixture has lost its parts');
    input.guide.parts = Array.from({ length: 14 }, (_, part) => ({
      ...first,
      name: `Part ${part}`,
      items: Array.from({ length: 1 + (part % 3) }, (_, at) => ({
        text: `Begun ${part}.${at}. ${'A question of some length, asked at leisure. '.repeat(part % 5)}`,
        kind: 'question' as const,
        cue: `Ended ${part}.${at}.`,
        minutes: 3,
        must: false,
      })),
    }));
    const { pages } = print(guideDocument(input), { copy: 'leader', paper: 'Letter' });
    expect(pages.length).toBeGreaterThan(2);
    const pageOf = (words: string): number => pages.findIndex((page) => page.includes(words));
    input.guide.parts.forEach((part, at) => {
      expect(pageOf(`Part ${at} `)).toBe(pageOf(`Begun ${at}.0.`));
      part.items.forEach((_, item) => {
        expect(pageOf(`Begun ${at}.${item}.`)).toBeGreaterThanOrEqual(0);
        expect(pageOf(`Begun ${at}.${item}.`)).toBe(pageOf(`Ended ${at}.${item}.`));
      });
    });
  }, 120_000);

  test('the paper is A4 or Letter to the point', () => {
    const doc = guideDocument(douglass());
    for (const [paper, width, height] of [
      ['A4', 595, 842],
      ['Letter', 612, 792],
    ] as const) {
      const bytes = readFileSync(print(doc, { copy: 'handout', paper }).file, 'latin1');
      const box = /\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/.exec(bytes);
      expect(Math.abs(Number(box?.[1]) - width)).toBeLessThanOrEqual(1);
      expect(Math.abs(Number(box?.[2]) - height)).toBeLessThanOrEqual(1);
    }
  }, 120_000);

  test.skipIf(!pdffonts)(
    'letters stay letters in the embedded faces, never Type 3 outlines',
    () => {
      const { file } = print(guideDocument(douglass()), { copy: 'leader', paper: 'A4' });
      const fonts = execFileSync(pdffonts ?? '', [file], { encoding: 'utf8' });
      expect(fonts).toMatch(/Alegreya-Regular/);
      expect(fonts).toMatch(/AlegreyaSans-Bold/);
      expect(fonts).not.toMatch(/Type 3/);
    },
    120_000,
  );
});
