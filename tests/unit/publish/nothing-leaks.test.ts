/** Random journals, printed every way there is: what is the leader's own stays off handouts and books, and what is sealed is nowhere. */
import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { Engine } from '../../../src/engine/engine';
import { publishGuide } from '../../../src/engine/publishing';
import { publishBook } from '../../../src/engine/publishing-book';
import { JOURNAL_KINDS, publishJournal } from '../../../src/engine/publishing-journal';
import type { PublishHow } from '../../../src/engine/publish-how';
import { emptyJournal } from '../../../src/journal/journal';
import {
  ENTRY_KINDS,
  HAZARDS,
  LEVELS,
  TIE_ROLES,
  type BookHeading,
  type Entry,
  type Guide,
  type GuideItem,
  type Journal,
} from '../../../src/journal/records';
import { usualFaces } from './faces-on-disk';

const id = (table: number, at: number): never =>
  `018f0000-0000-7000-8000-${String(table).padStart(4, '0')}${String(at).padStart(8, '0')}` as never;

const BOOKS = 4;
const FREE = ['break', 'reading', 'pair', 'narration', 'copywork', 'other'] as const;

const entryArb = fc.record({
  kind: fc.constantFrom(...ENTRY_KINDS),
  books: fc.uniqueArray(fc.nat(BOOKS - 1), { minLength: 0, maxLength: 2 }),
  role: fc.constantFrom(...TIE_ROLES),
  title: fc.boolean(),
  table: fc.boolean(),
  level: fc.option(fc.constantFrom(...LEVELS), { nil: undefined }),
  hazards: fc.uniqueArray(fc.constantFrom(...HAZARDS), { maxLength: 2 }),
  object: fc.boolean(),
  due: fc.boolean(),
});

const itemArb = fc.record({
  entry: fc.option(fc.nat(11), { nil: undefined }),
  reworded: fc.boolean(),
  free: fc.option(fc.constantFrom(...FREE), { nil: undefined }),
  must: fc.boolean(),
});

const journalArb = fc.record({
  entries: fc.array(entryArb, { minLength: 1, maxLength: 12 }),
  parts: fc.array(fc.array(itemArb, { maxLength: 4 }), { minLength: 1, maxLength: 4 }),
  spare: fc.array(itemArb, { maxLength: 3 }),
  sealed: fc.uniqueArray(fc.integer({ min: 1, max: BOOKS - 1 }), { maxLength: 2 }),
});
type Seeds = typeof journalArb extends fc.Arbitrary<infer T> ? T : never;

/** Every word that begins with zq is somebody's own: zqleader the leader's, zqsealed a sealed list's. */
function made({ entries, parts, spare, sealed }: Seeds): { engine: Engine; guide: Guide } {
  const journal = emptyJournal(id(0, 0), 'Open journal', '2026-01-01T00:00:00Z');
  const { tables } = journal;
  for (let at = 0; at < BOOKS; at += 1)
    tables.headings.set(id(1, at), {
      id: id(1, at),
      kind: 'book',
      name: sealed.includes(at) ? `Book zqsealedbook${at}` : `Open book ${at}`,
      alternates: sealed.includes(at) ? [`zqsealedother${at}`] : [],
      authors: [],
      note: 'zqleaderheading',
      published: '1845',
    } as BookHeading);
  const list = {
    id: id(4, 0),
    name: 'zqsealedlist',
    books: sealed.map((at) => id(1, at) as BookHeading['id']),
  };
  tables.lists.set(list.id, { ...list, seal: id(5, 0) });
  tables.seals.set(id(5, 0), { id: id(5, 0), envelope: 'zqsealedenvelope' });
  entries.forEach((seed, at) => {
    const closed = seed.books.some((book) => sealed.includes(book));
    const own = closed ? 'zqsealedtext' : 'open words';
    const entry: Entry = {
      id: id(2, at),
      kind: seed.kind,
      text: seed.table
        ? `${own} ${at}.\n\n| a | b |\n| - | - |\n| | |`
        : `Some ${own} ${at}, said *slowly*?`,
      ...(seed.title ? { title: closed ? 'zqsealedtitle' : `Open title ${at}` } : {}),
      ties: seed.books.map((book) => ({
        heading: id(1, book),
        role: seed.role,
        by: 'reader',
        place: { chapter: '2', page: '61', note: 'zqleaderplace' },
      })),
      added: '2025-05-05T00:00:00Z',
      changed: '2025-05-05T00:00:00Z',
      ...(seed.level ? { level: seed.level } : {}),
      answer: 'zqleaderanswer',
      probes: ['zqleaderprobe one?', 'zqleaderprobe two?'],
      materials: ['zqleadermaterial'],
      cautions: seed.hazards,
      source: { note: 'zqleadersource', file: 'zqleaderfile', place: 'zqleaderline' },
      lesson: {
        objective: 'zqleaderaim',
        preparation: 'zqleaderpreparation',
        observations: ['zqleaderobservation'],
        idea: 'zqleaderidea',
        ...(seed.object ? { object: 'zqleaderobject', steps: ['zqleaderstep'] } : {}),
        ...(seed.due ? { due: '2026-02-02' } : {}),
      },
    };
    tables.entries.set(entry.id, entry);
  });
  const item = (seed: Seeds['spare'][number], place: string): GuideItem => {
    const entry = seed.entry === undefined ? undefined : entries[seed.entry];
    const closed = entry?.books.some((book) => sealed.includes(book));
    return {
      minutes: 5,
      must: seed.must,
      cue: 'Listen for zqleadercue',
      ...(entry
        ? {
            entry: id(2, seed.entry!),
            ...(seed.reworded ? { text: closed ? 'zqsealedwording' : 'Open wording' } : {}),
          }
        : {
            text: seed.free && seed.free !== 'copywork' ? 'zqleaderfree' : `Own ${place}`,
            ...(seed.free ? { free: seed.free } : { kind: 'question' as const }),
          }),
    };
  };
  const guide: Guide = {
    id: id(3, 0),
    title: 'An open evening',
    shape: 'discussion',
    focus: { words: ['zqleaderwords'], headings: [{ heading: id(1, 0) }], entries: [] },
    circle: id(6, 0),
    minutes: 60,
    starts: '2026-02-05T19:00',
    parts: parts.map((items, at) => ({
      name: `Part ${at}`,
      minutes: 15,
      aim: 'zqleaderpartaim',
      items: items.map((seed) => item(seed, 'placed')),
    })),
    spare: spare.map((seed) => ({ ...item(seed, 'zqleaderspare'), must: false })),
    objective: 'zqleaderobjective',
    note: 'zqleadernote',
    made: '2026-01-01T00:00:00Z',
  };
  tables.guides.set(guide.id, guide);
  tables.circles.set(id(6, 0), { id: id(6, 0), name: 'Open circle', size: 6 });
  tables.meetings.set(id(7, 0), {
    id: id(7, 0),
    guide: guide.id,
    circle: id(6, 0),
    on: '2025-11-06',
    note: 'zqleadermeeting',
    items: entries.map((_, at) => ({
      entry: id(2, at),
      used: true,
      went: 'flat',
      note: 'zqleaderwent',
    })),
  });
  let next = 0;
  const around = { now: () => new Date('2026-01-02T00:00:00Z'), newId: () => id(9, (next += 1)) };
  return { engine: new Engine(journal, around), guide };
}

const faces = async () => usualFaces();
const folders = (process.env['PATH'] ?? '').split(path.delimiter);
const pdftotext = folders.map((dir) => path.join(dir, 'pdftotext')).find(existsSync);

/** All that can be read of a file: every part of a Word document, the text and the names in a PDF. */
function readable(bytes: Uint8Array, format: string): string {
  if (format === 'docx')
    return Object.values(unzipSync(bytes))
      .map((part) => strFromU8(part))
      .join('\n');
  if (format !== 'pdf') return new TextDecoder().decode(bytes);
  const text = execFileSync(pdftotext!, ['-raw', '-', '-'], { input: bytes, encoding: 'utf8' });
  return `${text}\n${Buffer.from(bytes).toString('latin1')}`.replace(/-\n/g, '');
}

const TEXTS: PublishHow['format'][] = ['html', 'markdown', 'text', 'docx'];
const howArb = fc.record({
  preset: fc.constantFrom<NonNullable<PublishHow['preset']>>('usual', 'large', 'dyslexia', 'plain'),
  lines: fc.constantFrom<NonNullable<PublishHow['lines']>>('ruled', 'dotted', 'plain'),
  cite: fc.constantFrom<NonNullable<PublishHow['cite']>>('plain', 'mla', 'apa'),
});
type How = typeof howArb extends fc.Arbitrary<infer T> ? T : never;

async function printed(
  { engine, guide }: { engine: Engine; guide: Guide },
  copy: PublishHow['copy'],
  format: PublishHow['format'],
  how: How,
): Promise<string> {
  const file = await publishGuide(engine, guide, { format, copy, paper: 'A4', ...how }, faces);
  return `${file.name}\n${readable(new Uint8Array(file.bytes), format)}`;
}

const own = (text: string): string[] => [...new Set(text.match(/zq(?:leader|sealed)\w*/g) ?? [])];
const sealedOnly = (text: string): string[] =>
  own(text).filter((word) => word.startsWith('zqsealed'));

async function expectSilence(
  seeds: Seeds,
  how: How,
  formats: PublishHow['format'][],
): Promise<void> {
  const all = made(seeds);
  for (const format of formats) {
    expect(own(await printed(all, 'handout', format, how)), `handout as ${format}`).toEqual([]);
    const leader = await printed(all, 'leader', format, how);
    expect(sealedOnly(leader), `leader’s copy as ${format}`).toEqual([]);
    expect(own(leader)).toContain('zqleadernote');
  }
}

describe('whatever the journal', () => {
  test('a handout says nothing of the leader’s and neither copy anything sealed: HTML, Markdown, text, Word', async () => {
    await fc.assert(
      fc.asyncProperty(journalArb, howArb, (seeds, how) => expectSilence(seeds, how, TEXTS)),
      { numRuns: 40 },
    );
  }, 120_000);

  test.skipIf(!pdftotext)(
    'nor in PDF, where pdftotext can read it',
    async () => {
      await fc.assert(
        fc.asyncProperty(journalArb, howArb, (seeds, how) => expectSilence(seeds, how, ['pdf'])),
        { numRuns: 12 },
      );
    },
    120_000,
  );

  const journals = (seeds: Seeds): Journal => made(seeds).engine.journal;
  const around = { now: () => new Date('2026-01-02T00:00:00Z'), faces };

  test('a book of the journal says neither, on paper or on the screen', async () => {
    await fc.assert(
      fc.asyncProperty(journalArb, fc.nat(BOOKS), async (seeds, book) => {
        for (const format of pdftotext ? (['html', 'pdf'] as const) : (['html'] as const)) {
          const of = book < BOOKS ? { heading: id(1, book) } : { year: 2025 };
          const answer = await publishBook(journals(seeds), of, around, { format });
          if (seeds.sealed.includes(book)) expect(answer).toMatchObject({ ok: false });
          if (answer.ok)
            expect(own(answer.file.name + readable(answer.file.bytes, format))).toEqual([]);
        }
      }),
      { numRuns: 15 },
    );
  }, 120_000);

  test('nothing sealed is in any open format', async () => {
    await fc.assert(
      fc.asyncProperty(journalArb, async (seeds) => {
        for (const kind of JOURNAL_KINDS) {
          const { bytes, said } = await publishJournal(journals(seeds), kind, around);
          expect(sealedOnly(readable(bytes, kind) + said.join(' ')), kind).toEqual([]);
        }
      }),
      { numRuns: 40 },
    );
  }, 120_000);

  test('a guide for a book of a sealed list is not printed at all', async () => {
    const { engine, guide } = made({ entries: [], parts: [[]], spare: [], sealed: [1] });
    const sealed = {
      ...guide,
      focus: { ...guide.focus, headings: [{ heading: id(1, 1) as BookHeading['id'] }] },
    };
    const how: PublishHow = { format: 'text', copy: 'leader', paper: 'A4' };
    await expect(publishGuide(engine, sealed, how, faces)).rejects.toThrow('sealed');
  });

  test('a strand with a sealed book in it is not named in print', async () => {
    const { engine, guide } = made({ entries: [], parts: [[]], spare: [], sealed: [1] });
    const from = async (...books: number[]): Promise<string> => {
      const headings = books.map((book) => id(1, book) as BookHeading['id']);
      const focus = {
        words: [],
        headings: [],
        entries: [],
        strands: [{ name: 'A hush', headings }],
      };
      const how: PublishHow = { format: 'text', copy: 'leader', paper: 'A4' };
      const file = await publishGuide(engine, { ...guide, focus }, how, faces);
      return new TextDecoder().decode(new Uint8Array(file.bytes));
    };
    expect(await from(0)).toContain('A hush');
    expect(await from(0, 1)).not.toContain('A hush');
  });
});
