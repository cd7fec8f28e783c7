import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import type { EntryKind, GuideItem } from '../../../src/journal/records';
import { ENTRY_KINDS, LEVELS } from '../../../src/journal/records';
import { citerOf, type CiteForm } from '../../../src/publish/cite-forms';
import {
  guideDocument,
  handoutOf,
  type GuideDocument,
  type GuideInput,
} from '../../../src/publish/document';
import { toDocx } from '../../../src/publish/docx/docx';
import { toHtml } from '../../../src/publish/html';
import { toMarkdown } from '../../../src/publish/markdown-out';
import { toPdf } from '../../../src/publish/pdf/pdf';
import { toText } from '../../../src/publish/text-out';
import { douglass } from './douglass';
import { usualFaces } from './faces-on-disk';

/** Words found nowhere in the program or the fixture, one for each place that is the leader's own. */
const secret = fc.stringMatching(/^[b-df-hj-np-tv-z]{12}$/).map((word) => `zq${word}`);

interface Secrets {
  answer: string;
  probe: string;
  cue: string;
  note: string;
  source: string;
  place: string;
  objective: string;
  idea: string;
  observation: string;
  preparation: string;
  object: string;
  material: string;
  used: string;
  last: string;
  spare: string;
  aim: string;
}

const secrets: fc.Arbitrary<Secrets> = fc.record({
  answer: secret,
  probe: secret,
  cue: secret,
  note: secret,
  source: secret,
  place: secret,
  objective: secret,
  idea: secret,
  observation: secret,
  preparation: secret,
  object: secret,
  material: secret,
  used: secret,
  last: secret,
  spare: secret,
  aim: secret,
});

function withSecrets(s: Secrets, kinds: readonly EntryKind[]): GuideInput {
  const input = douglass();
  const used = new Map<string, string>();
  const notes = new Map<string, string>();
  let at = 0;
  for (const [id, entry] of input.entries) {
    entry.kind = kinds[at++ % kinds.length] ?? entry.kind;
    entry.answer = s.answer;
    entry.probes = [s.probe, `${s.probe}?`];
    entry.materials = [s.material];
    entry.source = { note: s.source, file: s.source, place: s.source };
    for (const tie of entry.ties) tie.place = { ...tie.place, note: s.place };
    entry.lesson = {
      objective: s.objective,
      idea: s.idea,
      observations: [s.observation],
      preparation: s.preparation,
      object: s.object,
      steps: [s.observation],
    };
    used.set(id, s.used);
    notes.set(id, s.last);
  }
  input.guide.note = s.note;
  input.guide.objective = s.objective;
  input.guide.spare = [{ text: s.spare, kind: 'question', minutes: 5, must: false }];
  for (const part of input.guide.parts) {
    part.aim = s.aim;
    for (const item of part.items) item.cue = s.cue;
  }
  for (const heading of input.headings.values()) heading.note = s.note;
  return { ...input, used, notes };
}

const made = new Date('2025-11-01T12:00:00Z');
type Copy = 'leader' | 'handout';

/** Every part of the Word document, its properties and relations too. */
async function wordParts(doc: GuideDocument, copy: Copy): Promise<string> {
  const files = unzipSync(await toDocx(doc, { copy, paper: 'A4', made }));
  return Object.values(files)
    .map((bytes) => strFromU8(bytes))
    .join('\n');
}

const folders = (process.env['PATH'] ?? '').split(path.delimiter);
const pdftotext = folders.map((dir) => path.join(dir, 'pdftotext')).find(existsSync);

/** The text of the PDF, with its title and bookmarks. */
async function pdfWords(doc: GuideDocument, copy: Copy): Promise<string> {
  const { bytes } = await toPdf(doc, { copy, paper: 'A4', fonts: usualFaces(), made });
  const text = execFileSync(pdftotext!, ['-raw', '-', '-'], { input: bytes, encoding: 'utf8' });
  return `${text}\n${Buffer.from(bytes).toString('latin1')}`.replace(/-\n/g, '');
}

describe('the handout', () => {
  test('holds no answer, follow-up, cue or note of the leader, in HTML, Markdown, text or Word, whatever the kinds', async () => {
    await fc.assert(
      fc.asyncProperty(
        secrets,
        fc.array(fc.constantFrom(...ENTRY_KINDS), { minLength: 1, maxLength: 10 }),
        fc.constantFrom<CiteForm[]>('plain', 'mla', 'apa'),
        async (s, kinds, cite) => {
          const doc = guideDocument({ ...withSecrets(s, kinds), cite: await citerOf(cite) });
          const printed = [
            toHtml(doc, { copy: 'handout', paper: 'A4' }),
            toMarkdown(doc, { copy: 'handout' }),
            toText(doc, { copy: 'handout' }),
            await wordParts(doc, 'handout'),
            JSON.stringify(handoutOf(doc)),
          ];
          for (const word of Object.values(s)) {
            for (const text of printed) expect(text).not.toContain(word);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  test.skipIf(!pdftotext)(
    'nor in PDF, where pdftotext can read it',
    async () => {
      await fc.assert(
        fc.asyncProperty(
          secrets,
          fc.array(fc.constantFrom(...ENTRY_KINDS), { minLength: 1, maxLength: 10 }),
          async (s, kinds) => {
            const text = await pdfWords(guideDocument(withSecrets(s, kinds)), 'handout');
            expect(text).toContain('Harbour Lane');
            for (const word of Object.values(s)) expect(text).not.toContain(word);
          },
        ),
        { numRuns: 12 },
      );
    },
    60_000,
  );

  test.skipIf(!pdftotext)('has a table of an assignment once in PDF, under its words', async () => {
    const input = douglass();
    const task = input.entries.get('e-ten')!;
    task.text = 'Try the basin.\n\n| | Floats? |\n| - | - |\n| Cork | |\n\nThen dry them.';
    const text = await pdfWords(guideDocument(input), 'handout');
    const said = text.slice(0, text.indexOf('%PDF'));
    expect(said.match(/Try the basin|Floats\?|Cork|Then dry them/g)).toEqual([
      'Try the basin',
      'Floats?',
      'Cork',
      'Then dry them',
    ]);
  });

  test('of free items prints nothing but the words to be copied', () => {
    fc.assert(
      fc.property(
        secret,
        fc.constantFrom('break', 'reading', 'pair', 'narration', 'other', 'copywork'),
        (word, free) => {
          const input = douglass();
          input.guide.parts[0]?.items.push({
            free,
            text: word,
            minutes: 5,
            must: false,
          } as GuideItem);
          const text = toMarkdown(guideDocument(input), { copy: 'handout' });
          expect(text.includes(word)).toBe(free === 'copywork');
        },
      ),
      { numRuns: 30 },
    );
  });

  test('while the leader’s copy does hold them, so that the checks above can fail', async () => {
    const s: Secrets = {
      answer: 'zqanswer',
      probe: 'zqprobe',
      cue: 'zqcue',
      note: 'zqnote',
      source: 'zqsource',
      place: 'zqplace',
      objective: 'zqobjective',
      idea: 'zqidea',
      observation: 'zqobservation',
      preparation: 'zqpreparation',
      object: 'zqobject',
      material: 'zqmaterial',
      used: 'zqused',
      last: 'zqlast',
      spare: 'zqspare',
      aim: 'zqaim',
    };
    const doc = guideDocument(withSecrets(s, ['question']));
    const printed = [
      toHtml(doc, { copy: 'leader', paper: 'A4' }),
      toMarkdown(doc, { copy: 'leader' }),
      toText(doc, { copy: 'leader' }),
      await wordParts(doc, 'leader'),
      ...(pdftotext ? [await pdfWords(doc, 'leader')] : []),
    ];
    for (const [place, word] of Object.entries(s)) {
      if (place === 'source' || place === 'place') continue;
      for (const text of printed) expect(text, place).toContain(word);
    }
  });

  test('names no level, minute or clock time', () => {
    const doc = guideDocument(douglass());
    const html = toHtml(doc, { copy: 'handout', paper: 'A4' });
    const words = html.slice(html.indexOf('<main')).replace(/<[^>]*>/g, ' ');
    for (const level of LEVELS)
      expect(words.toLowerCase()).not.toMatch(new RegExp(`\\b${level}\\b`));
    expect(words).not.toMatch(/\d+ min\b|\b\d\.\d\d\b/);
  });

  test('has passages with their sources, numbered questions, a grid, lines to write on and what comes next', () => {
    const handout = handoutOf(guideDocument(douglass()));
    expect(handout.passages.map(({ cite }) => cite)).toEqual([
      'Frederick Douglass, *Narrative of the Life*, 1845, ch.\u00A06',
      'The Creature, in Mary Shelley, *Frankenstein*, 1818, ch.\u00A013',
    ]);
    expect(handout.questions).toHaveLength(4);
    expect(handout.activities.map(({ title, space }) => [title, space])).toEqual([
      ['Gift and price', 'grid'],
      ['Ten lines', 'lines'],
    ]);
    expect(handout.activities[0]?.text).not.toContain('In pairs');
    expect(handout.until).toHaveLength(2);
  });

  test('has work for home under what comes next, with room to write for what is done here', () => {
    const input = douglass();
    input.entries.get('e-ten')!.minutes = 40;
    for (const item of input.guide.parts[3]!.items) item.minutes = 3;
    const handout = handoutOf(guideDocument(input));
    expect(handout.activities.map(({ title }) => title)).toEqual(['Gift and price']);
    expect(handout.until).toHaveLength(3);
    expect(handout.until[0]).toContain('someone who taught you');
  });

  test('warns at home too, where work is set for there', () => {
    const input = douglass();
    const task = input.entries.get('e-ten')!;
    task.cautions = ['heat'];
    const [item] = input.guide.parts[3]!.items;
    const warned = (): string[] => handoutOf(guideDocument(input)).cautions;
    item!.due = 'next Tuesday';
    expect(warned()).toHaveLength(1);
    delete item!.due;
    task.minutes = 40;
    item!.minutes = 3;
    expect(handoutOf(guideDocument(input)).activities).toHaveLength(1);
    expect(warned()).toHaveLength(1);
  });

  test.each([
    ['| cork | yes |', false],
    ['| cork | |', true],
    ['| cork |', true],
    ['| cork | ____ |', true],
  ])('with the row “%s” of a lesson idea’s table is given the table: %s', (row, given) => {
    const input = douglass();
    const lesson = input.entries.get('e-columns')!;
    lesson.text = `Guess first.\n\n| Thing | Does it float? |\n| --- | :-: |\n| nail | no |\n${row}`;
    const doc = guideDocument(input);
    expect(toText(doc, { copy: 'handout' }).includes('float')).toBe(given);
    expect(toText(doc, { copy: 'leader' }).includes('float')).toBe(!given);
  });

  test('gives nobody the steps of a lesson idea, which may hold what is to be found out', () => {
    const input = douglass();
    const lesson = input.entries.get('e-first')!;
    lesson.lesson = { steps: ['Warm the wax.', 'Ask why it runs. (It has melted.)'] };
    const doc = guideDocument(input);
    expect(toText(doc, { copy: 'leader' })).toContain('It has melted.');
    expect(toText(doc, { copy: 'handout' })).not.toMatch(/Warm the wax|It has melted/);
  });

  test('prints the cautions of the activities on it, and those only', () => {
    const input = douglass();
    const task = input.entries.get('e-ten');
    const question = input.entries.get('e-who');
    if (!task || !question) throw new Error('the fixture has lost an entry');
    task.cautions = ['heat'];
    question.cautions = ['water'];
    const doc = guideDocument(input);
    expect(doc.cautions.map(({ hazard }) => hazard)).toEqual(['heat', 'water']);
    expect(handoutOf(doc).cautions).toEqual([
      'Keep flames and hot water away from sleeves, hair and paper.',
    ]);
    expect(toHtml(doc, { copy: 'handout', paper: 'A4' })).toContain(
      'judgement of a responsible adult',
    );
  });
});
