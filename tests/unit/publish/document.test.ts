import { describe, expect, test } from 'vitest';
import cautions from '../../../shared/cautions.json';
import { HAZARDS } from '../../../src/journal/records';
import { guideDocument, type CautionTexts } from '../../../src/publish/document';
import { FACES, fontFaces } from '../../../src/publish/faces';
import { toHtml } from '../../../src/publish/html';
import { toMarkdown } from '../../../src/publish/markdown-out';
import { toText } from '../../../src/publish/text-out';
import { douglass } from './douglass';

describe('the model of a guide', () => {
  test('runs the clock through parts and items', () => {
    const doc = guideDocument(douglass());
    expect(doc.parts.map(({ from, to }) => `${from} to ${to}`)).toEqual([
      '7.00 to 7.11',
      '7.11 to 7.49',
      '7.49 to 8.12',
      '8.12 to 8.30',
    ]);
    expect(doc.parts[1]?.items.map(({ clock }) => clock)).toEqual(['7.11', '7.21', '7.31', '7.39']);
    expect(doc.when).toBe('Thursday 13 November 2025, 7.00 to 8.30. Eleven places.');
    expect(doc.evening).toBe(true);
  });

  test('leaves out a part with nothing in it, which takes no time on the workbench either', () => {
    const input = douglass();
    input.guide.parts[2]!.items = [];
    expect(guideDocument(input).parts.map(({ from, to }) => `${from} to ${to}`)).toEqual([
      '7.00 to 7.11',
      '7.11 to 7.49',
      '7.49 to 8.07',
    ]);
  });

  test('counts minutes from the beginning where no start is set', () => {
    const input = douglass();
    delete input.guide.starts;
    const doc = guideDocument(input);
    expect(doc.parts.flatMap(({ items }) => items.map(({ clock }) => clock))).toEqual([
      '0.00',
      '0.06',
      '0.11',
      '0.21',
      '0.31',
      '0.39',
      '0.49',
      '0.54',
      '1.12',
      '1.22',
    ]);
    expect(doc.when).toBe('90 minutes. Eleven places.');
  });

  test('goes past noon and midnight', () => {
    const input = douglass();
    input.guide.starts = '2025-12-31T23:55';
    expect(guideDocument(input).parts[0]?.items[1]?.clock).toBe('12.01');
    input.guide.starts = '2025-06-02T12:50';
    expect(guideDocument(input).parts[0]?.to).toBe('1.01');
  });

  test('gathers materials once each, whatever their capitals', () => {
    expect(guideDocument(douglass()).haveReady).toEqual([
      'slips and pencils',
      'writing paper',
      'eleven handouts',
      'both books, marked',
    ]);
  });

  test('calls the books to have ready by what the guide has of them', () => {
    const whole = douglass();
    const input = { ...whole, entries: new Map(whole.entries) };
    const ready = (): string | undefined => guideDocument(input).haveReady.at(-1);
    const quotes = [...input.entries.values()].filter(({ kind }) => kind === 'quote');
    expect(quotes.length).toBeGreaterThan(1);
    const only = quotes.pop()!;
    for (const { id } of quotes) input.entries.delete(id);
    const book = input.headings.get(only.ties.find(({ role }) => role === 'from')!.heading)!;
    expect(ready()).toBe(`‘${book.name}’, marked`);
    input.guide.focus.headings = [];
    for (const entry of input.entries.values())
      if (entry !== only) entry.ties = entry.ties.filter(({ heading }) => heading === book.id);
    expect(ready()).toBe('the book, marked');
  });

  test('tells the minutes in hand, or over, of a meeting that was given a length', () => {
    const input = douglass();
    expect(guideDocument(input).ending).toBeUndefined();
    input.guide.minutes = 96;
    expect(guideDocument(input).when).toContain('7.00 to 8.36');
    expect(guideDocument(input).ending).toEqual({
      clock: '8.30',
      text: 'Six minutes in hand until 8.36, for what runs over.',
    });
    input.guide.minutes = 89;
    expect(guideDocument(input).ending).toEqual({
      clock: '8.29',
      text: 'The time set is over; as planned it would last until 8.30, one minute more.',
    });
    const all = [toText, toMarkdown].map((write) =>
      write(guideDocument(input), { copy: 'leader' }).replace(/\s+/g, ' '),
    );
    for (const text of all) expect(text).toMatch(/8\.29(\*\*)? The time set is over; as planned/);
  });

  test('says what to leave out, and never what must stay', () => {
    const input = douglass();
    expect(guideDocument(input).ifLate).toEqual(['leave out 8.22, then 7.31: eight minutes each']);
    expect(guideDocument({ ...input, late: undefined }).ifLate).toEqual([
      'leave out 7.54, then 7.49, then 7.39: 18, 5 and 10 minutes',
    ]);
    const first = input.guide.parts[0]!.items.map(({ entry }) => entry!);
    const late = [...first, ...(input.late ?? [])];
    expect(guideDocument({ ...input, late }).ifLate).toEqual([
      'leave out 8.22, then 7.31, then 7.06: eight, eight and five minutes',
    ]);
    for (const part of input.guide.parts) for (const item of part.items) item.must = true;
    expect(guideDocument(input).ifLate).toEqual([]);
  });

  test('says one minute as one', () => {
    const input = douglass();
    const [crack, teach] = [input.guide.parts[1]!.items[2]!, input.guide.parts[3]!.items[1]!];
    crack.minutes = teach.minutes = 1;
    expect(guideDocument(input).ifLate[0]).toMatch(/: one minute each$/);
    const late = [crack.entry!];
    expect(guideDocument({ ...input, late }).ifLate[0]).toMatch(/: one minute$/);
  });

  test('leaves a spare its table, in every copy of the leader, and promises no grid on the handout', () => {
    const input = douglass();
    input.guide.spare = input.guide.parts[2]!.items.splice(1, 1);
    const doc = guideDocument(input);
    expect(doc.spare[0]?.text).toContain('| The Creature | | |');
    for (const text of [toText(doc, { copy: 'leader' }), toMarkdown(doc, { copy: 'leader' })]) {
      expect(text).toContain('What it cost');
      expect(text).not.toContain('a grid to fill in');
    }
  });

  test('adds up the minutes of each level', () => {
    const levels = guideDocument(douglass()).levels.map(({ level, minutes }) => [level, minutes]);
    expect(levels).toEqual([
      ['remember', 6],
      ['understand', 18],
      ['apply', 8],
      ['analyse', 38],
      ['evaluate', 10],
      ['create', 10],
    ]);
  });

  test('leaves out an item whose entry is gone and keeps the time right', () => {
    const input = douglass();
    const entries = new Map(input.entries);
    entries.delete('e-who');
    const doc = guideDocument({ ...input, entries });
    expect(doc.parts[0]?.items).toHaveLength(1);
    expect(doc.parts[1]?.from).toBe('7.06');
  });

  test('names a hazard even where its words are missing', () => {
    const input = douglass();
    const entry = input.entries.get('e-ten');
    if (entry) entry.cautions = ['button-cells'];
    expect(guideDocument(input).cautions).toEqual([
      { hazard: 'button-cells', text: 'Take care with button cells.' },
    ]);
  });

  test('has a caution for every hazard, and says once that local rules come first', () => {
    const input = douglass();
    const entry = input.entries.get('e-ten');
    if (entry) entry.cautions = [...HAZARDS];
    const doc = guideDocument({ ...input, cautions: cautions as unknown as CautionTexts });
    expect(doc.cautions.map(({ hazard }) => hazard)).toEqual(HAZARDS);
    expect(doc.cautions.filter(({ text }) => text.startsWith('Take care with'))).toEqual([]);
    for (const copy of ['leader', 'handout'] as const) {
      const html = toHtml(doc, { copy, paper: 'A4' });
      expect(html.split('Follow your local rules')).toHaveLength(2);
    }
  });

  test('uses a guide’s own wording in place of the entry’s', () => {
    const input = douglass();
    const item = input.guide.parts[0]?.items[1];
    if (item) item.text = 'Who taught you to read?';
    expect(guideDocument(input).parts[0]?.items[1]?.text).toBe('Who taught you to read?');
  });
});

describe('the page', () => {
  const doc = guideDocument(douglass());

  test('is self-contained and without script, with a language, a title and one main', () => {
    const html = toHtml(doc, { copy: 'leader', paper: 'A4' });
    expect(html).toMatch(
      /<html lang="en-GB">[\s\S]*<title>Who is allowed to learn\?, leader’s copy<\/title>/,
    );
    expect(html.match(/<main/g)).toHaveLength(1);
    expect(html.match(/<h1>/g)).toHaveLength(1);
    expect(html).not.toMatch(/<script|src=|https?:/);
  });

  test('is for A4 or Letter', () => {
    expect(toHtml(doc, { copy: 'handout', paper: 'A4' })).toContain('@page{size:A4;');
    expect(toHtml(doc, { copy: 'handout', paper: 'Letter' })).toContain('@page{size:letter;');
  });

  test('says each kind and level in words beside its shape', () => {
    const html = toHtml(doc, { copy: 'leader', paper: 'A4' });
    for (const kind of ['Note', 'Quote', 'Question', 'Lesson idea', 'Assignment']) {
      expect(html).toContain(`role="img" aria-label="${kind}"`);
    }
    expect(html).toContain('<span>Evaluate</span>');
  });

  test('carries the faces handed in, and none that is not base64', () => {
    expect(
      fontFaces([{ face: 'Alegreya', weight: 400, style: 'normal', base64: 'd09GMg==' }]),
    ).toContain('data:font/woff2;base64,d09GMg==');
    expect(
      fontFaces([{ face: 'Alegreya', weight: 400, style: 'normal', base64: ');}</style>' }]),
    ).toBe('');
    expect(
      FACES.every(({ path }) =>
        /^@fontsource\/alegreya(-sans)?\/files\/.*-latin-\d{3}-(normal|italic)\.woff2$/.test(path),
      ),
    ).toBe(true);
  });
});

describe('Markdown', () => {
  test('has the clock, the minutes and the cues on the leader’s copy', () => {
    const text = toMarkdown(guideDocument(douglass()), { copy: 'leader' });
    expect(text).toContain('**7.21** (Question, 10 min, Analyse)');
    expect(text).toContain('**Listen for** the warning names the thing feared');
    expect(text).toContain('## Close reading (7.11 to 7.49)');
  });

  test('has passages in quotation and questions in order on the handout', () => {
    const text = toMarkdown(guideDocument(douglass()), { copy: 'handout' });
    expect(text).toContain('> ‘Of what a strange nature is knowledge!');
    expect(text).toMatch(/1\. Who taught you[\s\S]*4\. What will you teach/);
  });
});
