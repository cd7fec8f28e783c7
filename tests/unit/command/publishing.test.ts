import {
  copyFileSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { run as copy } from '../../../src/command/commands/copy';
import { run as met } from '../../../src/command/commands/met';
import { run as plan } from '../../../src/command/commands/plan';
import { run as publish } from '../../../src/command/commands/publish';
import { run as series } from '../../../src/command/commands/series';
import { Refusal } from '../../../src/command/refusal';
import { JOURNAL_KINDS } from '../../../src/engine/publishing-journal';
import { readJournalFile } from '../../../src/journal/file';
import type { EntryId, Guide, Journal, Meeting } from '../../../src/journal/records';

let folder = '';
let journal = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'bookweft-publishing-'));
  journal = join(folder, 'j.bookweft.json');
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));
beforeEach(() => copyFileSync('demo-data/harbour-lane.bookweft.json', journal));

const at = (name: string): string => join(folder, name);
const held = (): Journal => {
  const read = readJournalFile(readFileSync(journal, 'utf8'));
  if (!read.ok) throw new Error(read.message);
  expect(read.problems).toEqual([]);
  return read.journal;
};
const text = (name: string): string => readFileSync(at(name), 'utf8');
const here = (...args: string[]): string[] => [...args, '--journal', journal];

/** The one list is sealed, with this book on it. */
function sealed(name: string): void {
  const file = JSON.parse(readFileSync(journal, 'utf8')) as {
    headings: { id: string; name: string }[];
    lists: { books: string[]; seal?: string }[];
    seals: unknown[];
  };
  const id = file.headings.find((one) => one.name === name)!.id;
  file.lists[0]!.books = [id];
  file.lists[0]!.seal = '018f0000-0000-7000-8000-0000000000aa';
  file.seals.push({ id: '018f0000-0000-7000-8000-0000000000aa', envelope: 'AAAA' });
  writeFileSync(journal, JSON.stringify(file));
}

/** Refused with a sentence, and the journal file as it was. */
async function expectRefused(doing: Promise<unknown>, code: string): Promise<void> {
  const before = readFileSync(journal, 'utf8');
  const error = await doing.then(
    () => undefined,
    (thrown: unknown) => thrown,
  );
  expect(error).toBeInstanceOf(Refusal);
  expect((error as Refusal).code).toBe(code);
  expect((error as Refusal).message).toMatch(/\.$/);
  expect(readFileSync(journal, 'utf8')).toBe(before);
}

describe('publish on the command line', () => {
  const BEGINS: Record<(typeof JOURNAL_KINDS)[number], RegExp> = {
    csv: /^\uFEFF?"?id"?,/,
    'json-ld': /^\s*\{\s*"@context"/,
    bibtex: /^@book\{/m,
    'csl-json': /^\s*\[\s*\{\s*"id"/,
    skos: /skos:Concept/,
    ics: /^BEGIN:VCALENDAR\r\n/,
    graphml: /<graphml /,
    html: /^<!doctype html>/,
  };

  test.each(JOURNAL_KINDS)('writes the kind %s, and leaves the journal alone', async (kind) => {
    const before = readFileSync(journal, 'utf8');
    const out = at(`out.${kind}`);
    const told = await publish(here(kind, '--out', out));
    expect(told.exit ?? 0).toBe(0);
    expect(told.answer).toEqual({ written: out });
    expect(text(`out.${kind}`)).toMatch(BEGINS[kind]);
    if (kind.includes('json')) JSON.parse(text(`out.${kind}`));
    expect(readFileSync(journal, 'utf8')).toBe(before);
  });

  test.each([
    ['a year', ['--year', '2024'], '46 entries'],
    ['a theme', ['--theme', 'Courage'], 'entries'],
    ['a book', ['--book', 'Frankenstein'], '39 entries'],
    ['a person', ['--person', 'Frederick Douglass'], 'entries'],
  ])('writes %s as a book, for the screen and for paper', async (_, of, holds) => {
    for (const ending of ['html', 'pdf']) {
      const told = await publish(here('book', ...of, '--out', at(`book.${ending}`)));
      expect(told.text).toContain(holds);
    }
    expect(text('book.html')).toContain('Headings by commonplace classes');
    expect(readFileSync(at('book.pdf')).subarray(0, 5).toString()).toBe('%PDF-');
  });

  test('says that a year has nothing, and writes no file', async () => {
    const told = await publish(here('book', '--year', '1931', '--out', at('none.pdf')));
    expect(told.exit).toBe(1);
    expect(existsSync(at('none.pdf'))).toBe(false);
  });

  test('refuses what it does not know, and the journal itself as the place to write', async () => {
    await expectRefused(publish(here('papyrus', '--out', at('x'))), 'wrong-use');
    await expectRefused(publish(here('csv')), 'wrong-use');
    await expectRefused(publish(here('csv', '--out', journal)), 'wrong-use');
    await expectRefused(publish(here('csv', '--out', at('x'), '--year', '2024')), 'wrong-use');
    await expectRefused(publish(here('book', '--out', at('x.docx'))), 'wrong-use');
    const both = ['--book', 'Frankenstein', '--theme', 'Courage'];
    await expectRefused(publish(here('book', ...both, '--out', at('x.pdf'))), 'wrong-use');
    const unknown = here('book', '--book', 'The Unwritten', '--out', at('x.pdf'));
    await expectRefused(publish(unknown), 'unknown-heading');
  });

  test('prints no book of a sealed list', async () => {
    sealed('Frankenstein');
    const out = ['--book', 'Frankenstein', '--out', at('sealed.pdf')];
    await expectRefused(publish(here('book', ...out)), 'sealed');
    expect(existsSync(at('sealed.pdf'))).toBe(false);
  });
});

describe('plan, met and copy on the command line', () => {
  const ASK = ['--book', 'Frankenstein', '--circle', 'Harbour Lane', '--minutes', '60'];

  test.each([
    ['html', /<!doctype html>/],
    ['md', /^# /m],
    ['txt', /\d+ min/],
    ['pdf', /^%PDF-/],
    ['docx', /^PK/],
  ])('plan writes a guide as .%s, both copies', async (ending, begins) => {
    for (const which of ['leader', 'handout']) {
      const out = at(`${which}.${ending}`);
      const told = await plan(here(...ASK, '--copy', which, '--cite', 'mla', '--out', out));
      expect(told.exit ?? 0).toBe(0);
      const words = readFileSync(out, 'latin1');
      if (which === 'leader') expect(words).toMatch(begins);
      else expect(words.length).toBeGreaterThan(200);
    }
  });

  test('plan writes the whole as .json, which is no handout', async () => {
    await plan(here(...ASK, '--out', at('whole.json')));
    expect(JSON.parse(text('whole.json'))).toHaveProperty('parts');
    const handout = ['--copy', 'handout', '--out', at('handout.json')];
    await expectRefused(plan(here(...ASK, ...handout)), 'wrong-use');
    expect(existsSync(at('handout.json'))).toBe(false);
  });

  test('of a guide and its template the guide is what was met over', async () => {
    const asked = held();
    const title = [...asked.tables.guides.values()].find(({ circle }) => circle)!.title;
    await copy(here(title, '--template'));
    const meetings = held().tables.meetings.size;
    await met(here(title, '--on', '2026-11-29'));
    const after = held();
    expect(after.tables.meetings.size).toBe(meetings + 1);
    const kept = [...after.tables.meetings.values()].find(({ on }) => on === '2026-11-29')!;
    expect(after.tables.guides.get(kept.guide!)).toMatchObject({ title });
    expect(after.tables.guides.get(kept.guide!)?.template).toBeUndefined();
  });

  test('nothing of a sealed list is written out', async () => {
    sealed('Frankenstein');
    for (const ending of ['json', 'md']) {
      await expectRefused(plan(here(...ASK, '--out', at(`shut.${ending}`))), 'sealed');
      expect(existsSync(at(`shut.${ending}`))).toBe(false);
    }
    const first = ['--first', '2027-01-14', '--chapters', '24', '--meetings', '3'];
    const out = ['--save', '--out', at('shut.ics')];
    await expectRefused(series(here('Frankenstein', ...first, ...out)), 'sealed');
    expect(existsSync(at('shut.ics'))).toBe(false);
    // Of a guide for something else what is tied to the book is left out.
    const entries = held().tables.entries;
    await plan(here('--theme', 'Learning', '--minutes', '90', '--out', at('open.json')));
    const whole = JSON.parse(text('open.json')) as Record<
      'parts' | 'spare',
      { items?: { entry?: EntryId }[]; entry?: EntryId }[]
    >;
    const placed = [...whole.parts.flatMap(({ items = [] }) => items), ...whole.spare];
    const ids = placed.flatMap(({ entry }) => entry ?? []);
    expect(ids.length).toBeGreaterThan(0);
    const book = [...held().tables.headings.values()].find(({ name }) => name === 'Frankenstein')!;
    const tied = ids.filter((id) => entries.get(id)!.ties.some((tie) => tie.heading === book.id));
    expect(tied).toEqual([]);
  });

  test('plan cites in the form asked for', async () => {
    await plan(here(...ASK, '--cite', 'apa', '--out', at('apa.md')));
    expect(text('apa.md')).toMatch(/References/);
    expect(text('apa.md')).toMatch(/Shelley, M\. \(1818\)/);
    await plan(here(...ASK, '--cite', 'mla', '--out', at('mla.md')));
    expect(text('mla.md')).toMatch(/Works Cited/);
    await expectRefused(plan(here(...ASK, '--cite', 'chicago', '--out', at('x.md'))), 'wrong-use');
  });

  test('what cannot be meant is refused in one sentence', async () => {
    const refused = async (...args: string[]): Promise<string> => {
      await expectRefused(plan(here(...args)), 'wrong-use');
      return plan(here(...args)).then(
        () => '',
        (error: Error) => error.message,
      );
    };
    expect(await refused('--rest', '-4')).toBe(
      'What follows --rest begins with a dash; write --rest=VALUE where that is meant.',
    );
    expect(await refused('--book', 'Frankenstein:15-11')).toMatch(
      /^Chapters 15 to 11 run backwards/,
    );
    const nowhere = plan(here(...ASK, '--out', at('no/such/folder/guide.md')));
    await expect(nowhere).rejects.toThrow(
      /guide\.md could not be written: there is no folder .*such\/folder\.$/,
    );
  });

  test('met keeps a meeting of a kept guide, and refuses an unknown one', async () => {
    const told = await plan(here(...ASK, '--save'));
    const { id } = told.answer as { id: string };
    const answer = (await met(here(id, '--on', '2026-11-05'))).answer as { meeting: Meeting };
    expect(answer.meeting).toMatchObject({ guide: id, on: '2026-11-05' });
    expect(held().tables.meetings.get(answer.meeting.id)).toBeDefined();
    const again = await met(here(id, '--on', '2026-11-05'));
    expect(again.answer).toEqual(answer);
    expect(again.text).toContain('is kept already');
    const same = [...held().tables.meetings.values()].filter(({ guide }) => guide === id);
    expect(same).toHaveLength(1);
    await expectRefused(met(here('No such evening', '--on', '2026-11-05')), 'unknown-guide');
    await expectRefused(met(here(id, '--on', 'Thursday')), 'bad-date');
    await expectRefused(met(here(id)), 'wrong-use');
  });

  test('copy keeps a guide again, or as a template that plan can be begun from', async () => {
    const before = [...held().tables.guides.values()].find(
      (one) => one.title === 'What a maker owes',
    )!;
    const again = (await copy(here('What a maker owes'))).answer as { guide: Guide };
    expect(again.guide.parts).toEqual(before.parts);
    expect(again.guide.starts).toBeUndefined();
    const told = await copy(here('What a maker owes', '--template', '--title', 'Thursdays'));
    const template = (told.answer as { guide: Guide }).guide;
    const kept = held().tables.guides.get(template.id)!;
    expect(kept.template).toBe(true);
    expect(kept.focus).toEqual({ words: [], headings: [], entries: [] });
    expect(kept.parts.map(({ name, minutes }) => [name, minutes])).toEqual(
      before.parts.map(({ name, minutes }) => [name, minutes]),
    );
    expect(kept.parts.flatMap(({ items }) => items.filter(({ entry }) => entry))).toEqual([]);
    const planned = await plan(here('--book', 'Heidi', '--like', 'Thursdays', '--save'));
    const guide = held().tables.guides.get((planned.answer as { id: Guide['id'] }).id)!;
    expect(guide.template).toBeUndefined();
    expect(guide.minutes).toBe(before.minutes);
    expect(guide.parts.map(({ name }) => name)).toEqual(before.parts.map(({ name }) => name));
    expect(guide.parts.some(({ items }) => items.some(({ entry }) => entry))).toBe(true);
    await expectRefused(copy(here('No such evening')), 'unknown-guide');
  });
});

describe('series on the command line', () => {
  const ASK = ['Frankenstein', '--first', '2027-01-14', '--chapters', '24'];

  test('tells the meetings and keeps nothing', async () => {
    const before = readFileSync(journal, 'utf8');
    const told = await series(here(...ASK, '--meetings', '4', '--every', '14'));
    const { meetings } = told.answer as {
      meetings: { on: string; chapters: { from: string; to: string } }[];
    };
    expect(meetings.map(({ on, chapters }) => [on, chapters.from, chapters.to])).toEqual([
      ['2027-01-14', '1', '6'],
      ['2027-01-28', '7', '12'],
      ['2027-02-11', '13', '18'],
      ['2027-02-25', '19', '24'],
    ]);
    expect(readFileSync(journal, 'utf8')).toBe(before);
  });

  test('keeps a guide for each and writes the schedule under their ids', async () => {
    const guides = held().tables.guides.size;
    const told = await series(
      here(
        ...ASK,
        '--meetings',
        '3',
        '--circle',
        'Harbour Lane',
        '--save',
        '--out',
        at('read.ics'),
      ),
    );
    const { meetings } = told.answer as { meetings: { guide: Guide['id'] }[] };
    const after = held();
    expect(after.tables.guides.size).toBe(guides + 3);
    for (const { guide } of meetings) {
      expect(after.tables.guides.get(guide)?.circle).toBeDefined();
      expect(text('read.ics')).toContain(`UID:${guide}`);
    }
  });

  test('takes days as people write them, and whole ones only', async () => {
    const words = ['Frankenstein', '--first', '14 January 2027', '--chapters', '24'];
    const told = await series(here(...words, '--meetings', '2'));
    expect((told.answer as { meetings: { on: string }[] }).meetings[0]!.on).toBe('2027-01-14');
    const month = ['Frankenstein', '--first', '2027-01', '--chapters', '24', '--meetings', '2'];
    await expectRefused(series(here(...month)), 'wrong-use');
    await expectRefused(series(here(...ASK, '--meetings', '2', '--begin', '2026')), 'wrong-use');
  });

  test('keeps nothing where the schedule cannot be written', async () => {
    const before = readFileSync(journal, 'utf8');
    const out = ['--meetings', '3', '--save', '--out', at('no-folder/read.ics')];
    await expect(series(here(...ASK, ...out))).rejects.toThrow(/no folder/);
    expect(readFileSync(journal, 'utf8')).toBe(before);
  });

  test('an option without a value is not taken for one that was not given', async () => {
    await expectRefused(series(here(...ASK, '--meetings', '3', '--circle', '')), 'wrong-use');
    await expectRefused(plan(here('--theme', 'Courage', '--circle', ' ')), 'wrong-use');
  });

  test('refuses both paces at once, neither, a wrong time and another ending', async () => {
    await expectRefused(series(here(...ASK)), 'wrong-use');
    await expectRefused(series(here(...ASK, '--meetings', '3', '--pages-a-day', '9')), 'wrong-use');
    await expectRefused(series(here(...ASK, '--meetings', '3', '--at', '25:00')), 'wrong-use');
    await expectRefused(series(here(...ASK, '--meetings', '3', '--out', at('x.pdf'))), 'wrong-use');
    await expectRefused(series(here(...ASK, '--meetings', '40')), 'too-many');
    await expectRefused(series(here('Frankenstein', '--meetings', '3')), 'wrong-use');
  });
});
