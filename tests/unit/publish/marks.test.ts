import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import type { PublishHow } from '../../../src/engine/desk';
import { Engine } from '../../../src/engine/engine';
import { publishGuide } from '../../../src/engine/publishing';
import { readJournalFile } from '../../../src/journal/file';
import type { Guide, GuideItem } from '../../../src/journal/records';
import { asSpare, changeItem } from '../../../src/app/plan/guide-edits';
import { usualFaces } from './faces-on-disk';

const read = readJournalFile(readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8'));
if (!read.ok) throw new Error(read.message);
const core = new Engine(read.journal, {
  now: () => new Date('2026-11-25T12:00:00Z'),
  newId: () => 'made',
});
const questions = [...core.journal.tables.entries.values()].filter(
  ({ kind }) => kind === 'question',
);
const items = questions.slice(0, 4).map((entry, at): GuideItem => ({
  entry: entry.id,
  minutes: 10,
  must: at === 0,
  ...(at === 1 ? { ifTime: true } : {}),
}));
const guide: Guide = {
  id: 'g' as Guide['id'],
  title: 'An evening',
  shape: 'discussion',
  focus: { words: [], headings: [], entries: [] },
  minutes: 40,
  starts: '2026-12-03T19:00',
  parts: [
    { name: 'Opening', minutes: 20, items: items.slice(0, 2) },
    { name: 'Closing', minutes: 20, items: items.slice(2) },
  ],
  made: '2026-11-25T12:00:00Z',
};

const folders = (process.env['PATH'] ?? '').split(path.delimiter);
const pdftotext = folders.map((dir) => path.join(dir, 'pdftotext')).find(existsSync);

async function printed(
  format: PublishHow['format'],
  copy: PublishHow['copy'],
  of = guide,
): Promise<string> {
  const how: PublishHow = { format, copy, paper: 'A4' };
  const file = await publishGuide(core, of, how, async () => usualFaces());
  const bytes = new Uint8Array(file.bytes);
  if (format === 'docx') return strFromU8(unzipSync(bytes)['word/document.xml']!);
  if (format === 'pdf')
    return execFileSync(pdftotext!, ['-', '-'], { input: bytes, encoding: 'utf8' });
  return new TextDecoder().decode(bytes);
}

const formats: PublishHow['format'][] = ['html', 'markdown', 'text', 'docx'];
describe.each(pdftotext ? [...formats, 'pdf' as const] : formats)('in %s', (format) => {
  test('what is asked if time allows says so to the leader alone, and is the first to leave out', async () => {
    const leader = await printed(format, 'leader');
    expect(leader.match(/if time allows/g)).toHaveLength(1);
    expect(leader.match(/must stay/g)).toHaveLength(1);
    expect(leader.replace(/\s+/g, ' ')).toMatch(/leave out 7\.10\b/);
    expect(await printed(format, 'handout')).not.toContain('if time allows');
  });
});

test('a guide called after all it is for does not say it twice', async () => {
  const focus = { ...guide.focus, strands: [{ name: 'Home', headings: [] }] };
  const named = { ...guide, title: 'Home', focus };
  expect((await printed('text', 'leader', named)).match(/^Home$/gim)).toHaveLength(1);
  const other = await printed('text', 'leader', { ...named, title: 'An evening' });
  expect(other).toMatch(/^Home$/m);
});

test('the mark goes when an item is held ready, and comes again when asked for', () => {
  const at = { part: 0, item: 1 };
  const [, marked] = guide.parts[0]!.items;
  expect(asSpare(guide, marked!).spare![0]).not.toHaveProperty('ifTime');
  const off = changeItem(guide, at, { ifTime: undefined });
  expect(off.parts[0]!.items[1]).not.toHaveProperty('ifTime');
});
